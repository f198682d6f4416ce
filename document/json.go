package document

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// jsonTree parses a JSON document into the nodes a YAML parser would give.
func jsonTree(data []byte) (*yaml.Node, *Problem) {
	var whole json.RawMessage
	err := json.Unmarshal(data, &whole)
	if err == nil {
		j := jsonReader{data: data, decoder: json.NewDecoder(bytes.NewReader(data)), line: 1, column: 1}
		j.decoder.UseNumber()
		var root *yaml.Node
		if root, err = j.value(); err == nil {
			return root, nil
		}
	}
	p := &Problem{Want: "not readable as JSON: " + err.Error()}
	if syntax := (*json.SyntaxError)(nil); errors.As(err, &syntax) {
		at := placeOf(data, min(max(int(syntax.Offset)-1, 0), len(data))) // Offset counts the wrong byte in
		p.Line, p.Column = at.line, at.column
	}
	return nil, p
}

type jsonReader struct {
	data    []byte
	decoder *json.Decoder
	// The place of the byte at offset, moved on with the tokens.
	offset, line, column int
}

func (j *jsonReader) value() (*yaml.Node, error) {
	from := int(j.decoder.InputOffset())
	token, err := j.decoder.Token()
	if err != nil {
		return nil, err
	}
	at := j.placeAfter(from)
	n := &yaml.Node{Kind: yaml.ScalarNode, Line: at.line, Column: at.column}
	switch token := token.(type) {
	case json.Delim:
		return n, j.inside(n, token)
	case string:
		n.Tag, n.Style, n.Value = "!!str", yaml.DoubleQuotedStyle, token
	case json.Number:
		n.Value = token.String() // what number it is, its text says
	case bool:
		n.Tag, n.Value = "!!bool", fmt.Sprint(token)
	default:
		n.Tag, n.Value = "!!null", "null"
	}
	return n, nil
}

// inside reads the content of an object or a list, keys and values in turn, to its closing bracket.
func (j *jsonReader) inside(n *yaml.Node, open json.Delim) error {
	n.Kind, n.Tag = yaml.SequenceNode, "!!seq"
	if open == '{' {
		n.Kind, n.Tag = yaml.MappingNode, "!!map"
	}
	for j.decoder.More() {
		c, err := j.value()
		if err != nil {
			return err
		}
		n.Content = append(n.Content, c)
	}
	_, err := j.decoder.Token()
	return err
}

// placeAfter is the place of the first token after the byte offset from.
func (j *jsonReader) placeAfter(from int) place {
	for from < len(j.data) && bytes.IndexByte([]byte(" \t\r\n,:"), j.data[from]) >= 0 {
		from++
	}
	for ; j.offset < from; j.offset++ {
		switch c := j.data[j.offset]; {
		case c == '\n':
			j.line, j.column = j.line+1, 1
		case utf8.RuneStart(c):
			j.column++
		}
	}
	return place{line: j.line, column: j.column}
}
