package document

import (
	"encoding"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Numbers are read as JSON writes them, with a leading + allowed. YAML 1.1 would also read 010 as eight and 1:30 as
// ninety, which nobody at a door means.
var (
	wholeNumber = regexp.MustCompile(`^[-+]?(0|[1-9][0-9]*)$`)
	anyNumber   = regexp.MustCompile(`^[-+]?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][-+]?[0-9]+)?$`)
)

const quoted = yaml.DoubleQuotedStyle | yaml.SingleQuotedStyle | yaml.LiteralStyle | yaml.FoldedStyle

// isNull says whether n is an empty value, "~" or "null" written plainly.
func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Style&quoted == 0 && n.Tag == "!!null"
}

// text reads a scalar through the type's own UnmarshalText, whose error becomes the message.
func (r *reader) text(n *yaml.Node, v reflect.Value, s slot) {
	if n.Kind != yaml.ScalarNode {
		r.problem(n, s.path, describe(n), "one value belongs here"+example(v.Type()))
		return
	}
	if len(n.Value) > maxText {
		r.problem(n, s.path, quote(n.Value), "is too long; one value belongs here"+example(v.Type()))
		return
	}
	err := v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(n.Value))
	if err == nil {
		return
	}
	want := oneLine(err.Error())
	if rest, ok := strings.CutPrefix(want, strconv.Quote(n.Value)+" "); ok {
		want = rest
	}
	r.problem(n, s.path, quote(n.Value), want)
}

// example says how to write a value of a text type that knows an example.
func example(t reflect.Type) string {
	if st, ok := reflect.New(t).Interface().(schemaText); ok {
		_, e := st.SchemaText()
		return fmt.Sprintf(", like %q", e)
	}
	return ""
}

func (r *reader) scalar(n *yaml.Node, v reflect.Value, s slot) {
	if n.Kind != yaml.ScalarNode {
		r.problem(n, s.path, describe(n), "one value belongs here, not several")
		return
	}
	if v.Kind() != reflect.String && len(n.Value) > maxText {
		r.problem(n, s.path, quote(n.Value), "is too long")
		return
	}
	plain := n.Style&quoted == 0
	switch shapeOf(v.Type()) {
	case shapeString:
		if s.one != nil && !slices.Contains(s.one, n.Value) {
			r.problem(n, s.path, quote(n.Value), Unknown(n.Value, "value", s.one))
			return
		}
		v.SetString(n.Value)
	case shapeBool:
		switch {
		case plain && (n.Value == "true" || n.Value == "yes"):
			v.SetBool(true)
		case plain && (n.Value == "false" || n.Value == "no"):
			v.SetBool(false)
		default:
			r.problem(n, s.path, quote(n.Value), "write true or false, or yes or no, without quotes")
		}
	case shapeFloat:
		f, err := strconv.ParseFloat(n.Value, v.Type().Bits())
		if !plain || !anyNumber.MatchString(n.Value) || err != nil {
			r.problem(n, s.path, quote(n.Value), "write a number without quotes, like 12 or 0.75")
			return
		}
		v.SetFloat(f)
	default:
		r.whole(n, v, s, plain)
	}
}

func (r *reader) whole(n *yaml.Node, v reflect.Value, s slot, plain bool) {
	ok := plain && wholeNumber.MatchString(n.Value)
	bits := v.Type().Bits()
	if shapeOf(v.Type()) == shapeInt {
		if i, err := strconv.ParseInt(n.Value, 10, bits); ok && err == nil {
			v.SetInt(i)
			return
		}
	} else if i, err := strconv.ParseUint(strings.TrimPrefix(n.Value, "+"), 10, bits); ok && err == nil {
		v.SetUint(i)
		return
	}
	r.problem(n, s.path, quote(n.Value), "write a whole number without quotes, like 12")
}

// describe names what stands at n, for people.
func describe(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "keys with values"
	case yaml.SequenceNode:
		return "a list"
	case yaml.AliasNode:
		return "an alias"
	}
	if isNull(n) {
		return "nothing"
	}
	return quote(n.Value)
}

// shownRunes is how much of a wrong value a message repeats.
const shownRunes = 60

// quote repeats a value of the document in a message, shortened.
func quote(s string) string {
	shown := 0
	for i := range s {
		if shown == shownRunes {
			return strconv.Quote(s[:i] + "…")
		}
		shown++
	}
	return strconv.Quote(s)
}
