package document

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
)

// schemaText is the optional method of a text type that gives the form of its text: an anchored regular expression in
// the part of the syntax that Go and ECMA-262 share, and an example.
type schemaText interface {
	SchemaText() (pattern, example string)
}

// object is a JSON object whose keys stay in order.
type object = Map[any]

func with(o object, key string, value any) object { return append(o, Entry[any]{key, value}) }

// Schema writes the JSON Schema (draft 2020-12) of the documents that Read accepts into a value of root's type. The
// same types give the same bytes. It errs on a type that no document can hold.
//
// It is stricter than Read in what a program should not write, yes and no for true and false, and it cannot check what
// a text type checks beyond its pattern. The number 1.0 is whole to a schema and not to Read.
//
// The generator stands beside the decoder and shares its walk of field tags (shape.go). A general generator, such as
// github.com/invopop/jsonschema, which we considered, does not know short forms, Map, or the need and one tags.
func Schema(root any, title, id string) ([]byte, error) {
	t := reflect.TypeOf(root)
	for t != nil && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t == nil {
		return nil, fmt.Errorf("a schema needs a type, not %v", root)
	}
	w := &schemaWriter{names: map[reflect.Type]string{}, taken: map[string]bool{}}
	body, err := w.of(t, nil)
	if err != nil {
		return nil, err
	}
	slices.SortFunc(w.defs, func(a, b Entry[any]) int { return cmp.Compare(a.Key, b.Key) })
	s := object{{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"$id", id}, {"title", title}}
	s = append(s, body...)
	if len(w.defs) > 0 {
		s = with(s, "$defs", w.defs)
	}
	return indented(s)
}

func indented(s object) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(s)
	return b.Bytes(), err
}

type schemaWriter struct {
	defs  object
	names map[reflect.Type]string
	taken map[string]bool
}

// of is the schema of a value of type t; named structs and text types become a reference to a definition.
func (w *schemaWriter) of(t reflect.Type, one []string) (object, error) {
	switch shapeOf(t) {
	case shapePointer:
		return w.of(t.Elem(), one)
	case shapeMap:
		return w.mapOf(reflect.New(t).Interface().(mapping).valueType(), one)
	case shapeText, shapeTextStruct, shapeStruct:
		if t.Name() == "" {
			return w.definition(t)
		}
		return w.reference(t)
	case shapeList:
		items, err := w.of(t.Elem(), one)
		return object{{"type", "array"}, {"items", items}}, err
	case shapeString:
		if one != nil {
			return object{{"enum", one}}, nil
		}
		return object{{"type", scalarTypes}}, nil
	case shapeBool:
		return object{{"type", "boolean"}}, nil
	case shapeInt, shapeUint:
		return integer(t), nil
	case shapeFloat:
		return object{{"type", "number"}}, nil
	}
	return nil, fmt.Errorf("a document cannot hold a value of type %v", t)
}

// scalarTypes is what Read takes as text: 42 and true without quotes are the texts "42" and "true".
var scalarTypes = []string{"string", "number", "boolean"}

func integer(t reflect.Type) object {
	o := object{{"type", "integer"}}
	if shapeOf(t) == shapeUint {
		o = with(o, "minimum", 0)
		if t.Bits() < 64 {
			o = with(o, "maximum", uint64(math.MaxUint64)>>(64-t.Bits()))
		}
		return o
	}
	if t.Bits() < 64 {
		o = with(o, "minimum", int64(math.MinInt64)>>(64-t.Bits()))
		o = with(o, "maximum", int64(math.MaxInt64)>>(64-t.Bits()))
	}
	return o
}

func (w *schemaWriter) mapOf(t reflect.Type, one []string) (object, error) {
	values, err := w.of(t, one)
	pattern, _ := keyRule(t)
	return object{
		{"type", "object"},
		{"propertyNames", object{{"pattern", pattern}}},
		{"additionalProperties", values},
	}, err
}

func (w *schemaWriter) reference(t reflect.Type) (object, error) {
	name, ok := w.names[t]
	if !ok {
		name = w.nameFor(t)
		w.names[t], w.taken[name] = name, true // before the definition, which may refer to itself
		def, err := w.definition(t)
		if err != nil {
			return nil, err
		}
		w.defs = with(w.defs, name, def)
	}
	return object{{"$ref", "#/$defs/" + name}}, nil
}

// nameFor is the Go name of a type, with its package in front when another package has the same name.
func (w *schemaWriter) nameFor(t reflect.Type) string {
	name, arguments, generic := strings.Cut(t.Name(), "[")
	if generic {
		for a := range strings.SplitSeq(strings.TrimSuffix(arguments, "]"), ",") {
			name += "_" + a[strings.LastIndexAny(a, "./")+1:]
		}
	}
	name = strings.Map(func(r rune) rune {
		if strings.ContainsRune("[]/*· ", r) {
			return '_'
		}
		return r
	}, name)
	if w.taken[name] {
		name = t.PkgPath()[strings.LastIndexByte(t.PkgPath(), '/')+1:] + "." + name
	}
	for w.taken[name] {
		name += "_"
	}
	return name
}

func (w *schemaWriter) definition(t reflect.Type) (object, error) {
	shape := shapeOf(t)
	if shape == shapeText {
		return textOf(t), nil
	}
	full, err := w.structOf(t)
	if shape == shapeTextStruct {
		return object{{"anyOf", []object{textOf(t), full}}}, err
	}
	return full, err
}

func textOf(t reflect.Type) object {
	st, ok := reflect.New(t).Interface().(schemaText)
	if !ok {
		return object{{"type", scalarTypes}}
	}
	pattern, example := st.SchemaText()
	return object{{"type", "string"}, {"pattern", pattern}, {"examples", []string{example}}}
}

func (w *schemaWriter) structOf(t reflect.Type) (object, error) {
	properties, required := object{}, []string(nil)
	for _, f := range fieldsOf(t) {
		property, err := w.of(f.typ, f.one)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.name, err)
		}
		if f.doc != "" {
			property = with(property, "description", f.doc)
		}
		properties = with(properties, f.name, property)
		if f.need != "" {
			required = append(required, f.name)
		}
	}
	o := object{{"type", "object"}, {"properties", properties}}
	if required != nil {
		o = with(o, "required", required)
	}
	return with(o, "additionalProperties", false), nil
}
