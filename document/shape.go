package document

import (
	"encoding"
	"reflect"
	"strings"
)

// This file is the one place that knows what a Go type looks like in a document. The reader, the writer and the schema
// work from it, so that they cannot disagree on names, required keys and allowed values.

// shape is the form a Go type takes in a document.
type shape int

const (
	shapeNone       shape = iota // a type that no document can hold
	shapeText                    // a scalar read by encoding.TextUnmarshaler
	shapeTextStruct              // that, or a mapping of the fields
	shapeStruct
	shapeMap // a Map[T]
	shapeList
	shapePointer
	shapeString
	shapeBool
	shapeInt
	shapeUint
	shapeFloat
)

var (
	textType    = reflect.TypeFor[encoding.TextUnmarshaler]()
	mappingType = reflect.TypeFor[mapping]()
)

func shapeOf(t reflect.Type) shape {
	pointer := reflect.PointerTo(t)
	if pointer.Implements(mappingType) {
		return shapeMap
	}
	if pointer.Implements(textType) && t.Kind() != reflect.Interface {
		if t.Kind() == reflect.Struct && hasTaggedField(t) {
			return shapeTextStruct
		}
		return shapeText
	}
	switch t.Kind() {
	case reflect.Struct:
		return shapeStruct
	case reflect.Slice:
		return shapeList
	case reflect.Pointer:
		return shapePointer
	case reflect.String:
		return shapeString
	case reflect.Bool:
		return shapeBool
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return shapeInt
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return shapeUint
	case reflect.Float32, reflect.Float64:
		return shapeFloat
	}
	return shapeNone
}

// hasTaggedField says whether a struct names a key for any field. A text type without such a field, as a conductor
// size, has no full form: its fields are its own business.
func hasTaggedField(t reflect.Type) bool {
	for i := range t.NumField() {
		if tag, ok := t.Field(i).Tag.Lookup("yaml"); ok && tag != "-" {
			return true
		}
	}
	return false
}

// field is one key of a struct.
type field struct {
	name  string
	index []int // for reflect.Value.FieldByIndex
	typ   reflect.Type
	need  string   // why the key is required; empty when it is not
	one   []string // the values allowed; nil for any
	doc   string

	omitEmpty bool // not written when empty
}

// fieldsOf lists the keys of a struct type in the order of its fields, those of inline structs in their place. Names
// follow the rule of yaml.v3, which writes the documents: the name in the tag, else the field's in lower case.
func fieldsOf(t reflect.Type) []field {
	var fields []field
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("yaml"), ",")
		if !f.IsExported() && !f.Anonymous || name == "-" {
			continue
		}
		if strings.Contains(","+options+",", ",inline,") && f.Type.Kind() == reflect.Struct {
			for _, inner := range fieldsOf(f.Type) {
				inner.index = append([]int{i}, inner.index...)
				fields = append(fields, inner)
			}
			continue
		}
		if !f.IsExported() {
			continue
		}
		if name == "" {
			name = strings.ToLower(f.Name)
		}
		fields = append(fields, field{
			name: name, index: []int{i}, typ: f.Type,
			need: f.Tag.Get("need"), one: choices(f.Tag.Get("one")), doc: f.Tag.Get("doc"),
			omitEmpty: strings.Contains(","+options+",", ",omitempty,"),
		})
	}
	return fields
}

func choices(tag string) []string {
	if tag == "" {
		return nil
	}
	return strings.Split(tag, "|")
}

// keyPattern is the form of a name in a Map unless the value type has its own.
const keyPattern = `^[A-Za-z][A-Za-z0-9_-]{0,31}$`

// keyed is the optional method of a Map's value type that gives another form of name.
type keyed interface {
	KeyText() (pattern, example string)
}

// keyRule is the form of the names in a Map of values of type t: a regular expression and how to say it.
func keyRule(t reflect.Type) (pattern, words string) {
	if k, ok := reflect.New(t).Interface().(keyed); ok {
		pattern, example := k.KeyText()
		return pattern, "write it like \"" + example + "\""
	}
	return keyPattern, `a name starts with a letter and has at most 32 letters, digits, "_" and "-"`
}
