package document

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Change is one field that differs between two documents, its values as they are written; empty for none.
type Change struct {
	Where   string   // the path in words
	Path    []string // its names
	Was, Is string
}

// Compare tells what differs between two documents, field by field of each object: down to the third name, which is where
// the fields of an object stand. Order, comments and style do not count.
func Compare(was, is []byte) ([]Change, error) {
	a, err := ReadTree(was)
	if err != nil {
		return nil, err
	}
	b, err := ReadTree(is)
	if err != nil {
		return nil, err
	}
	var all []Change
	err = differ(nil, a.root, b.root, &all)
	return all, err
}

// objectDepth is how many names lead to a field of an object: "doors", "staff", "title".
const objectDepth = 3

func differ(path []any, a, b *yaml.Node, all *[]Change) error {
	if a != nil && b != nil && a.Kind == yaml.MappingNode && b.Kind == yaml.MappingNode && len(path) < objectDepth {
		for _, name := range names(a, b) {
			if err := differ(append(path[:len(path):len(path)], name), child(a, name), child(b, name), all); err != nil {
				return err
			}
		}
		return nil
	}
	was, err := bare(a)
	if err != nil {
		return err
	}
	now, err := bare(b)
	if err == nil && was != now {
		c := Change{Where: Path(path...), Was: was, Is: now}
		for _, name := range path {
			c.Path = append(c.Path, fmt.Sprint(name))
		}
		*all = append(*all, c)
	}
	return err
}

// names lists the names of both, those of the first in its order.
func names(a, b *yaml.Node) []string {
	var all []string
	for i := 0; i+1 < len(a.Content); i += 2 {
		all = append(all, a.Content[i].Value)
	}
	for i := 0; i+1 < len(b.Content); i += 2 {
		if child(a, b.Content[i].Value) == nil {
			all = append(all, b.Content[i].Value)
		}
	}
	return all
}

// bare prints a value without comments and in one style, so that equal values print alike.
func bare(n *yaml.Node) (string, error) {
	if n == nil {
		return "", nil
	}
	text, err := printNode(stripped(n))
	return strings.TrimSpace(string(text)), err
}

func stripped(n *yaml.Node) *yaml.Node {
	c := &yaml.Node{Kind: n.Kind, Value: n.Value}
	switch n.Tag {
	case "!!str":
		c.Tag = n.Tag // so that a text of digits stays one
	case "!!null":
		c.Value = "null" // whichever way it was written
	}
	for _, x := range n.Content {
		c.Content = append(c.Content, stripped(x))
	}
	return c
}
