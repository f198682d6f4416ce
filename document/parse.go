package document

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// parse turns the bytes of a document into one tree of nodes, or says why that cannot be done.
func parse(data []byte) (*yaml.Node, *Problem) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if p := unfit(data); p != nil {
		return nil, p
	}
	root, p := tree(data)
	if p != nil {
		return nil, p
	}
	if deep := deeper(root, maxDepth); deep != nil {
		return nil, tooDeep(place{deep.Line, deep.Column})
	}
	return root, nil
}

func tooDeep(at place) *Problem {
	return &Problem{
		Line: at.line, Column: at.column, Found: fmt.Sprintf("values nested more than %d deep", maxDepth),
		Want: "look for brackets that are not closed",
	}
}

// unfit refuses what cannot be text of a person, before any parser sees it.
func unfit(data []byte) *Problem {
	if len(data) > maxBytes {
		return &Problem{
			Found: fmt.Sprintf("a file of %d MiB", len(data)>>20),
			Want:  fmt.Sprintf("a document has at most %d MiB", maxBytes>>20),
		}
	}
	if marks := countMarks(data); marks > maxMarks {
		return &Problem{Found: "more than a million values", Want: "split the document"}
	}
	if Binary(data) {
		p, at := NotText(""), placeOf(data, bytes.IndexByte(data, 0))
		p.Line, p.Column = at.line, at.column
		return &p
	}
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size <= 1 {
			at := placeOf(data, i)
			return &Problem{
				Line: at.line, Column: at.column, Found: "bytes that are not UTF-8 text", Want: "save the file as UTF-8",
			}
		}
		if !printable(r) {
			at := placeOf(data, i)
			return &Problem{
				Line: at.line, Column: at.column, Found: fmt.Sprintf("the control character %U", r), Want: "take it out",
			}
		}
		i += size
	}
	return nil
}

// Binary says whether bytes are no text but a program, a picture or an archive: text has no zero byte in it, but where each
// character takes two bytes, and that cannot be read either.
func Binary(data []byte) bool { return bytes.IndexByte(data, 0) >= 0 }

// NotText is the problem of a file that is Binary.
func NotText(file string) Problem {
	return Problem{File: file, Found: "zero bytes", Want: "this is not text, or not in UTF-8; give a text file saved as UTF-8"}
}

// countMarks counts the characters that may start a value, to bound the size of the tree before it is built.
func countMarks(data []byte) int {
	marks := 0
	for _, c := range data {
		switch c {
		case '\n', ',', ':', '[', '{', '-', '?':
			marks++
		}
	}
	return marks
}

// printable is the c-printable set of YAML 1.2.2, section 5.1, without the byte order mark inside a file.
func printable(r rune) bool {
	switch {
	case r == '\t', r == '\n', r == '\r', r == 0x85:
		return true
	case r < 0x20, r >= 0x7f && r < 0xa0, r == 0xfeff, r == 0xfffe, r == 0xffff:
		return false
	}
	return true
}

// placeOf is the place of the byte at offset.
func placeOf(data []byte, offset int) place {
	before := data[:offset]
	start := bytes.LastIndexByte(before, '\n') + 1
	return place{line: 1 + bytes.Count(before, []byte("\n")), column: 1 + utf8.RuneCount(before[start:])}
}

// tree parses JSON as JSON and anything else as YAML.
//
// YAML 1.2 holds JSON, but yaml.v3 does not read all of it: it refuses the escapes \/ and \ud83d\ude00.
func tree(data []byte) (*yaml.Node, *Problem) {
	text := bytes.TrimLeft(data, " \t\r\n")
	if len(text) == 0 {
		return nil, &Problem{Line: 1, Column: 1, Found: "an empty file", Want: "write the document into it"}
	}
	bracket := text[0] == '{' || text[0] == '['
	if bracket {
		root, problem := jsonTree(data)
		if problem == nil {
			return root, nil
		}
		if root, err := yamlTree(data); err == nil {
			return root, nil // brackets are good YAML too, without the quotes that JSON wants
		}
		return nil, problem
	}
	root, err := yamlTree(data)
	if err != nil {
		return nil, syntaxProblem(data, err)
	}
	return root, nil
}

var errEmpty = errors.New("the file holds no document")

// several tells where the second document of a file starts.
type several struct{ line int }

func (several) Error() string { return "a second document in one file" }

// yamlTree parses exactly one YAML document. The parser is known to panic on some hostile inputs; for the person that
// is a syntax error like any other.
func yamlTree(data []byte) (root *yaml.Node, err error) {
	defer func() {
		if r := recover(); r != nil {
			root, err = nil, fmt.Errorf("yaml: %v", r)
		}
	}()
	d := yaml.NewDecoder(bytes.NewReader(data))
	var first, second yaml.Node
	switch err := d.Decode(&first); {
	case errors.Is(err, io.EOF), err == nil && len(first.Content) == 0:
		return nil, errEmpty
	case err != nil:
		return nil, err
	}
	switch err := d.Decode(&second); {
	case err == nil:
		return nil, several{second.Line}
	case !errors.Is(err, io.EOF):
		return nil, err
	}
	return first.Content[0], nil
}

// deeper gives a node nested more than limit deep, nil when there is none. Aliases are not followed.
func deeper(n *yaml.Node, limit int) *yaml.Node {
	if limit < 0 {
		return n
	}
	for _, c := range n.Content {
		if deep := deeper(c, limit-1); deep != nil {
			return deep
		}
	}
	return nil
}
