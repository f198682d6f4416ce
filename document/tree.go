package document

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Tree is a document of people that is edited field by field and printed again with its comments, order and style.
type Tree struct{ root *yaml.Node }

// errNoMapping says that a document is no mapping at its top.
var errNoMapping = errors.New("a document is a mapping of names to values")

// ReadTree reads one YAML or JSON document. Aliases are refused: an edit of one place must not change another.
func ReadTree(data []byte) (*Tree, error) {
	n, err := plainNode(data)
	if err != nil {
		return nil, err
	}
	if n.Kind != yaml.MappingNode {
		return nil, errNoMapping
	}
	return &Tree{n}, nil
}

// plainNode reads one value without aliases.
func plainNode(data []byte) (*yaml.Node, error) {
	n, problem := parse(data)
	if problem != nil {
		return nil, problem
	}
	if n.Kind == yaml.DocumentNode && len(n.Content) == 1 {
		n.Content[0].HeadComment = n.HeadComment + n.Content[0].HeadComment
		n.Content[0].FootComment += n.FootComment
		n = n.Content[0]
	}
	if aliased(n) {
		return nil, errors.New("anchors and aliases cannot be edited: write the values out")
	}
	if oddlyNamed(n) {
		return nil, errors.New("every name must be a word, not a list, a mapping, nothing or <<")
	}
	return n, nil
}

// oddlyNamed says whether a mapping has a name that is no word.
func oddlyNamed(n *yaml.Node) bool {
	for i := 0; n.Kind == yaml.MappingNode && i < len(n.Content); i += 2 {
		if k := n.Content[i]; k.Kind != yaml.ScalarNode || k.Tag == "!!null" || k.Tag == "!!merge" {
			return true
		}
	}
	return slices.ContainsFunc(n.Content, oddlyNamed)
}

func aliased(n *yaml.Node) bool {
	return n.Kind == yaml.AliasNode || n.Anchor != "" || slices.ContainsFunc(n.Content, aliased)
}

// Clone is a copy that is edited on its own.
func (t *Tree) Clone() *Tree { return &Tree{cloned(t.root)} }

func cloned(n *yaml.Node) *yaml.Node {
	c := *n
	c.Content = make([]*yaml.Node, len(n.Content))
	for i, x := range n.Content {
		c.Content[i] = cloned(x)
	}
	return &c
}

// Bytes prints the document.
func (t *Tree) Bytes() ([]byte, error) { return printNode(t.root) }

func printNode(n *yaml.Node) ([]byte, error) {
	spellNulls(n, n.Kind == yaml.ScalarNode)
	var b bytes.Buffer
	e := yaml.NewEncoder(&b)
	e.SetIndent(2)
	if err := e.Encode(n); err != nil {
		return nil, err
	}
	return b.Bytes(), e.Close()
}

// Flow writes one value in flow style, which stands behind its key in one line; text that is no YAML stays as it is.
func Flow(value string) string {
	n, err := plainNode([]byte(value))
	if err != nil {
		return value
	}
	inFlow(n)
	text, err := printNode(n)
	if err != nil {
		return value
	}
	return strings.TrimSuffix(string(text), "\n")
}

func inFlow(n *yaml.Node) {
	if n.Kind == yaml.MappingNode || n.Kind == yaml.SequenceNode {
		n.Style = yaml.FlowStyle
	}
	for _, c := range n.Content {
		inFlow(c)
	}
}

// spellNulls writes out a value that was left empty between brackets or stands alone: the printer would make an empty text
// of it.
func spellNulls(n *yaml.Node, bracketed bool) {
	if bracketed && n.Kind == yaml.ScalarNode && n.Tag == "!!null" && n.Value == "" {
		n.Value = "null"
	}
	for _, c := range n.Content {
		spellNulls(c, bracketed || n.Style&yaml.FlowStyle != 0)
	}
}

// Get prints the value at a path of names; empty when there is none.
func (t *Tree) Get(path ...string) (string, error) {
	n := t.root
	for _, name := range path {
		if n = child(n, name); n == nil {
			return "", nil
		}
	}
	text, err := printNode(n)
	return string(text), err
}

// Text is the plain value at a path of names, without quotes; empty when there is none. It errs on a mapping or a list.
func (t *Tree) Text(path ...string) (string, error) {
	n := t.root
	for _, name := range path {
		if n = child(n, name); n == nil {
			return "", nil
		}
	}
	if n.Kind != yaml.ScalarNode {
		return "", fmt.Errorf("%s: this is no single value", Path(anys(path)...))
	}
	return n.Value, nil
}

// Set puts a value, written in YAML, at a path of names; an empty text takes the field away. Mappings on the way are made
// where they are missing. It errs where the way leads through something else, or the text is no YAML.
func (t *Tree) Set(value string, path ...string) error {
	if len(path) == 0 {
		return errors.New("no field is named")
	}
	if value == "" {
		return t.remove(path)
	}
	put, err := plainNode([]byte(value))
	if err != nil {
		return fmt.Errorf("%s: %w", Path(anys(path)...), err)
	}
	n := t.root
	for _, name := range path[:len(path)-1] {
		next := child(n, name)
		switch {
		case next == nil && n.Kind == yaml.SequenceNode:
			return fmt.Errorf("%s: there is no %s in a list of %d", Path(anys(path)...), name, len(n.Content))
		case next == nil:
			next = &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
			putUnder(n, name, next)
		case next.Kind != yaml.MappingNode && next.Kind != yaml.SequenceNode:
			return fmt.Errorf("%s: there is no mapping at %q", Path(anys(path)...), name)
		}
		n = next
	}
	last := path[len(path)-1]
	if n.Kind == yaml.SequenceNode {
		return putAt(n, last, put)
	}
	putUnder(n, last, put)
	return nil
}

// putAt puts a value at a place of a list, or behind its end.
func putAt(n *yaml.Node, place string, value *yaml.Node) error {
	i, err := strconv.Atoi(place)
	switch {
	case err != nil || i < 1 || i > len(n.Content)+1:
		return fmt.Errorf("%q is no place in a list of %d", place, len(n.Content))
	case i == len(n.Content)+1:
		n.Content = append(n.Content, value)
	default:
		n.Content[i-1] = value
	}
	return nil
}

// remove takes the field at a path away, and does nothing where there is none.
func (t *Tree) remove(path []string) error {
	n := t.root
	for _, name := range path[:len(path)-1] {
		if n = child(n, name); n == nil {
			return nil
		}
	}
	if n.Kind == yaml.SequenceNode {
		if i, err := strconv.Atoi(path[len(path)-1]); err == nil && i >= 1 && i <= len(n.Content) {
			n.Content = slices.Delete(n.Content, i-1, i)
		}
		return nil
	}
	for i := 0; i+1 < len(n.Content) && n.Kind == yaml.MappingNode; i += 2 {
		if n.Content[i].Value == path[len(path)-1] {
			n.Content = slices.Delete(n.Content, i, i+2)
			return nil
		}
	}
	return nil
}

// child is what stands under a name of a mapping, or at a place of a list, counted from 1 as in Path.
func child(n *yaml.Node, name string) *yaml.Node {
	if n.Kind == yaml.SequenceNode {
		if i, err := strconv.Atoi(name); err == nil && i >= 1 && i <= len(n.Content) {
			return n.Content[i-1]
		}
		return nil
	}
	if n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == name {
			return n.Content[i+1]
		}
	}
	return nil
}

// putUnder puts a value under a name, in the place of what was there. The comments of that stay.
func putUnder(n *yaml.Node, name string, value *yaml.Node) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == name {
			old := n.Content[i+1]
			value.LineComment = old.LineComment
			n.Content[i+1] = value
			return
		}
	}
	if n.Style == yaml.FlowStyle && value.Kind != yaml.ScalarNode {
		value.Style = yaml.FlowStyle
	}
	n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: name}, value)
}

func anys(all []string) []any {
	out := make([]any, len(all))
	for i, s := range all {
		out[i] = s
	}
	return out
}
