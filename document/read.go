// Package document reads YAML and JSON documents of people strictly, and writes them faithfully.
//
// Read walks the document against a Go type and reports everything wrong in it at once, each with file, line, column,
// what was found and what would be right. Print writes YAML that reads back to the same value. Schema publishes the
// same rules as a JSON Schema.
//
// The Go types carry the rules in field tags:
//
//	yaml:"name,omitempty"   the key; ",inline" for the fields of an embedded struct
//	need:"why in words"     the key is required
//	one:"in|out|both"       the values allowed in a string, or in each string of a list
//	doc:"..."               what the key means, for the schema
package document

import (
	"cmp"
	"fmt"
	"reflect"
	"regexp"

	"go.yaml.in/yaml/v3"
)

// Bounds of a document. They are far above any document a person writes, and keep a hostile one from filling memory.
const (
	maxBytes    = 16 << 20
	maxMarks    = 1 << 20 // characters that may start a value
	maxDepth    = 64
	maxKey      = 64      // bytes of a key
	maxPath     = 512     // bytes of the path of a value
	maxText     = 1000    // bytes of a value other than free text
	maxRepeated = 100_000 // values reached through aliases
	maxProblems = 1000
)

// Read fills into, a pointer to a struct, from a YAML or JSON document. It returns where every value stands and all the
// problems of the document, sorted. What could be read is filled even when there are problems.
//
// Read does not fail on a document, however broken; it panics when into is not a pointer.
func Read(file string, data []byte, into any) (*Source, Problems) {
	v := reflect.ValueOf(into)
	if v.Kind() != reflect.Pointer || v.IsNil() {
		panic(fmt.Sprintf("document: Read into %T, not a pointer", into))
	}
	r := &reader{
		source: &Source{file: file, places: map[string]place{}},
		open:   map[*yaml.Node]bool{}, keys: map[string]*regexp.Regexp{},
	}
	root, problem := parse(data)
	if problem != nil {
		problem.File = file
		return r.source, Problems{*problem}
	}
	r.value(root, v.Elem(), slot{})
	return r.source, r.sorted()
}

// reader walks a parsed document against Go types.
type reader struct {
	source   *Source
	problems Problems
	hidden   int                       // problems beyond maxProblems
	open     map[*yaml.Node]bool       // anchored values being read, to see an alias inside its own value
	repeated int                       // values reached through aliases so far
	keys     map[string]*regexp.Regexp // compiled patterns of names
}

// slot is where a value stands in the document and in the type.
type slot struct {
	path    string
	one     []string // the values allowed; nil for any
	aliased bool     // reached through an alias
}

func (s slot) part(part any) slot {
	return slot{path: under(s.path, part), aliased: s.aliased}
}

func (r *reader) sorted() Problems {
	sorted := r.problems.Sorted()
	if r.hidden > 0 {
		last := sorted[len(sorted)-1]
		sorted = append(sorted, Problem{
			File: r.source.file, Line: last.Line, Column: last.Column,
			Want: fmt.Sprintf("there are %d more problems; mend these first", r.hidden),
		})
	}
	return sorted
}

func at(n *yaml.Node) place { return place{line: n.Line, column: n.Column} }

func (r *reader) problem(n *yaml.Node, path, found, want string) {
	if len(r.problems) >= maxProblems {
		r.hidden++
		return
	}
	r.problems = append(r.problems, Problem{
		File: r.source.file, Line: n.Line, Column: n.Column, Where: path, Found: found, Want: want,
	})
}

// value reads n into v.
func (r *reader) value(n *yaml.Node, v reflect.Value, s slot) {
	if len(s.path) > maxPath {
		r.problem(n, "", "keys nested too deep, at "+quote(s.path), "use shorter names")
		return
	}
	if _, again := r.source.places[s.path]; !again {
		r.source.places[s.path] = at(n)
	}
	if n.Kind == yaml.AliasNode {
		r.alias(n, v, s)
		return
	}
	if s.aliased && r.flooded(n, s) {
		return
	}
	if n.Anchor != "" {
		r.open[n] = true
		defer delete(r.open, n)
	}
	if n.Style&yaml.TaggedStyle != 0 {
		r.problem(n, s.path, "the tag "+quote(n.Tag), "leave the tag out; what a value is follows from its key")
		return
	}
	if isNull(n) {
		r.problem(n, s.path, "nothing", "give the key a value or leave it out")
		return
	}
	r.shaped(n, v, s)
}

// alias reads the value an alias stands for, in the place of the alias.
func (r *reader) alias(n *yaml.Node, v reflect.Value, s slot) {
	if n.Alias == nil || r.open[n.Alias] {
		r.problem(n, s.path, "an alias inside the value it stands for", "write the value out")
		return
	}
	s.aliased = true
	r.value(n.Alias, v, s)
}

// flooded counts a value reached through an alias and says whether there have been too many. Since an alias may stand
// for a value full of aliases, a short document can stand for more values than any memory holds.
func (r *reader) flooded(n *yaml.Node, s slot) bool {
	r.repeated++
	if r.repeated == maxRepeated+1 {
		r.problem(n, s.path, "aliases that stand for too many values", "write the values out")
	}
	return r.repeated > maxRepeated
}

func (r *reader) shaped(n *yaml.Node, v reflect.Value, s slot) {
	switch shapeOf(v.Type()) {
	case shapePointer:
		p := reflect.New(v.Type().Elem())
		r.shaped(n, p.Elem(), s)
		v.Set(p)
	case shapeMap:
		r.names(n, v, s)
	case shapeTextStruct:
		if n.Kind == yaml.MappingNode {
			r.fields(n, v, s)
			return
		}
		r.text(n, v, s)
	case shapeText:
		r.text(n, v, s)
	case shapeStruct:
		r.fields(n, v, s)
	case shapeList:
		r.list(n, v, s)
	case shapeString, shapeBool, shapeInt, shapeUint, shapeFloat:
		r.scalar(n, v, s)
	default:
		r.problem(n, s.path, "a value of Go type "+v.Type().String(), "is not a type this program can read")
	}
}

// fields reads a mapping into the fields of a struct.
func (r *reader) fields(n *yaml.Node, v reflect.Value, s slot) {
	if n.Kind != yaml.MappingNode {
		r.problem(n, s.path, describe(n), "keys with their values belong here, each as \"key: value\"")
		return
	}
	fields := fieldsOf(v.Type())
	names := make([]string, len(fields))
	given := make([]bool, len(fields))
	for i, f := range fields {
		names[i] = f.name
	}
	r.pairs(n, s, func(key, value *yaml.Node) {
		for i, f := range fields {
			if f.name == key.Value {
				given[i] = true
				inner := s.part(f.name)
				inner.one = f.one
				r.value(value, v.FieldByIndex(f.index), inner)
				return
			}
		}
		r.problem(key, under(s.path, key.Value), "the key "+quote(key.Value), Unknown(key.Value, "key", names))
	})
	for i, f := range fields {
		if f.need != "" && !given[i] {
			r.problem(n, under(s.path, f.name), "", "is missing; "+f.need)
		}
	}
}

// names reads a mapping into a Map.
func (r *reader) names(n *yaml.Node, v reflect.Value, s slot) {
	m := v.Addr().Interface().(mapping)
	if n.Kind != yaml.MappingNode {
		r.problem(n, s.path, describe(n), "names with their values belong here, each as \"name: value\"")
		return
	}
	pattern, words := keyRule(m.valueType())
	if r.keys[pattern] == nil {
		r.keys[pattern] = regexp.MustCompile(pattern)
	}
	v.SetZero()
	r.pairs(n, s, func(key, value *yaml.Node) {
		if !r.keys[pattern].MatchString(key.Value) {
			r.problem(key, under(s.path, key.Value), "the name "+quote(key.Value), words)
		}
		inner := s.part(key.Value)
		inner.one = s.one
		r.value(value, m.add(key.Value), inner)
	})
}

// pairs calls do for each key of a mapping that is a plain word and comes for the first time.
func (r *reader) pairs(n *yaml.Node, s slot, do func(key, value *yaml.Node)) {
	first := map[string]int{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		if key.Kind != yaml.ScalarNode || key.Style&yaml.TaggedStyle != 0 || key.Value == "" || len(key.Value) > maxKey {
			r.problem(key, s.path, describe(key)+" as a key", "a key is one short word, as in \"key: value\"")
			continue
		}
		if line, twice := first[key.Value]; twice {
			r.problem(key, under(s.path, key.Value), "the key "+quote(key.Value),
				fmt.Sprintf("was given before in line %d; keep one of the two", line))
			continue
		}
		first[key.Value] = cmp.Or(key.Line, 1)
		do(key, value)
	}
}

// list reads a sequence into a slice.
func (r *reader) list(n *yaml.Node, v reflect.Value, s slot) {
	if n.Kind != yaml.SequenceNode {
		r.problem(n, s.path, describe(n), "a list belongs here: [one, two], or one item in each line after \"- \"")
		return
	}
	v.SetZero()
	for i, item := range n.Content {
		v.Set(reflect.Append(v, reflect.Zero(v.Type().Elem())))
		inner := s.part(i)
		inner.one = s.one
		r.value(item, v.Index(i), inner)
	}
}
