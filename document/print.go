package document

import (
	"bytes"
	"encoding"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// Print writes v as YAML, indented by two, keys in the order of the fields. The same value gives the same bytes. It
// errs on text that is not UTF-8, on types no document can hold, and on what the types themselves refuse to write.
func Print(v any) ([]byte, error) {
	n, err := nodeOf(reflect.ValueOf(v))
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	e := yaml.NewEncoder(&b)
	e.SetIndent(2)
	if err := e.Encode(n); err != nil {
		return nil, err
	}
	return b.Bytes(), e.Close()
}

// nodeOf builds the nodes of a value. We do it ourselves, by the walk of field tags the reader uses, because
// yaml.Node.Encode goes through text and loses some texts of several lines on the way.
func nodeOf(v reflect.Value) (*yaml.Node, error) {
	if !v.IsValid() || v.Kind() == reflect.Pointer && v.IsNil() {
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!null", Value: "null"}, nil
	}
	if v.Kind() == reflect.Pointer || v.Kind() == reflect.Interface {
		return nodeOf(v.Elem())
	}
	if n, ok, err := ownNode(v); ok || err != nil {
		return n, err
	}
	switch shapeOf(v.Type()) {
	case shapeMap, shapeStruct, shapeTextStruct:
		return mappingNode(v)
	case shapeList:
		n := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq"}
		for i := range v.Len() {
			item, err := nodeOf(v.Index(i))
			if err != nil {
				return nil, fmt.Errorf("%d: %w", i+1, err)
			}
			n.Content = append(n.Content, item)
		}
		return n, nil
	}
	switch v.Kind() {
	case reflect.String:
		return textNode(v.String())
	case reflect.Float32, reflect.Float64:
		return &yaml.Node{Kind: yaml.ScalarNode, Value: strconv.FormatFloat(v.Float(), 'g', -1, v.Type().Bits())}, nil
	case reflect.Bool, reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return &yaml.Node{Kind: yaml.ScalarNode, Value: fmt.Sprint(v.Interface())}, nil
	}
	return nil, fmt.Errorf("a document cannot hold a value of type %v", v.Type())
}

// ownNode asks the type itself, as yaml.v3 does: MarshalYAML first, then MarshalText.
func ownNode(v reflect.Value) (n *yaml.Node, ok bool, err error) {
	if shapeOf(v.Type()) == shapeMap {
		return nil, false, nil // its MarshalYAML would come back here
	}
	switch own := v.Interface().(type) {
	case yaml.Marshaler:
		value, err := own.MarshalYAML()
		if err != nil {
			return nil, true, err
		}
		if reflect.TypeOf(value) == v.Type() {
			return nil, true, fmt.Errorf("%T writes itself as itself", value)
		}
		n, err = nodeOf(reflect.ValueOf(value))
		return n, true, err
	case encoding.TextMarshaler:
		text, err := own.MarshalText()
		if err != nil {
			return nil, true, err
		}
		n, err = textNode(string(text))
		return n, true, err
	}
	return nil, false, nil
}

// mappingNode writes the keys of a struct or the names of a Map.
func mappingNode(v reflect.Value) (*yaml.Node, error) {
	n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
	add := func(name string, value reflect.Value) error {
		k, err := textNode(name)
		if err != nil {
			return err
		}
		c, err := nodeOf(value)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		n.Content = append(n.Content, k, c)
		return nil
	}
	if shapeOf(v.Type()) == shapeMap {
		for i := range v.Len() {
			if err := add(v.Index(i).Field(0).String(), v.Index(i).Field(1)); err != nil {
				return nil, err
			}
		}
		return n, nil
	}
	for _, f := range fieldsOf(v.Type()) {
		value := v.FieldByIndex(f.index)
		if f.omitEmpty && isEmpty(value) {
			continue
		}
		if err := add(f.name, value); err != nil {
			return nil, err
		}
	}
	return n, nil
}

// isEmpty says what omitempty leaves out, by the rule of yaml.v3.
func isEmpty(v reflect.Value) bool {
	if z, ok := v.Interface().(yaml.IsZeroer); ok && (v.Kind() != reflect.Pointer || !v.IsNil()) {
		return z.IsZero()
	}
	if v.Kind() == reflect.Slice {
		return v.Len() == 0
	}
	return v.IsZero()
}

// oldMeaning is text that other readers, of YAML 1.1, take for a truth value or a number to the base 60.
var oldMeaning = regexp.MustCompile(`^(?i:y|n|yes|no|on|off)$|^[-+]?[0-9][0-9_]*(:[0-5]?[0-9])+(\.[0-9_]*)?$`)

// textNode chooses how a text is written, so that every text reads back the same: several plain lines as a block, what
// may be taken for something else in quotes.
func textNode(text string) (*yaml.Node, error) {
	if !utf8.ValidString(text) {
		return nil, errors.New("text that is not UTF-8 cannot be written: " + quote(text))
	}
	n := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text}
	switch {
	case plainBlock(text):
		n.Style = yaml.LiteralStyle
	case oldMeaning.MatchString(text), strings.ContainsFunc(text, awkward):
		n.Style = yaml.DoubleQuotedStyle
	}
	return n, nil
}

func awkward(r rune) bool {
	return strings.ContainsRune("\n\r\t\u0085\u2028\u2029\ufeff", r) || !printable(r)
}

// plainBlock says whether text is several lines of which none is empty or starts or ends with a blank, all printable.
func plainBlock(text string) bool {
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	for _, line := range lines {
		if line == "" || line != strings.TrimSpace(line) || strings.ContainsFunc(line, awkward) {
			return false
		}
	}
	return len(lines) > 1
}
