package document

import (
	"fmt"
	"strconv"
	"strings"
)

// place is a position in a document, line and column counted from 1, columns in characters.
type place struct{ line, column int }

// Source knows where each value of a read document stands. The nil Source is that of a document made without a file:
// it knows no place.
type Source struct {
	file   string
	places map[string]place
}

// At is the place of the value at a path, or of its nearest existing ancestor; 0, 0 when there is neither.
func (s *Source) At(path string) (line, column int) {
	if s == nil {
		return 0, 0
	}
	for {
		if p, ok := s.places[path]; ok {
			return p.line, p.column
		}
		if path == "" {
			return 0, 0
		}
		path = path[:max(strings.LastIndexByte(path, '.'), 0)]
	}
}

// Problem makes a problem of the value at a path, for checks made after reading: dangling names, impossible values.
// Found is quoted by the caller where it is text of the document.
func (s *Source) Problem(path, found, want string) Problem {
	p := Problem{Where: path, Found: found, Want: want}
	if s != nil {
		p.File = s.file
		p.Line, p.Column = s.At(path)
	}
	return p
}

// Path joins keys (string) and places in a list (int, from 0) to the path of a value. In the path the items of a list
// are counted from 1, as people count them: Path("runs", "R1", "stretches", 0) is "runs.R1.stretches.1".
func Path(parts ...any) string {
	words := make([]string, len(parts))
	for i, part := range parts {
		switch part := part.(type) {
		case int:
			words[i] = strconv.Itoa(part + 1)
		default:
			words[i] = fmt.Sprint(part)
		}
	}
	return strings.Join(words, ".")
}

// under is the path of a part of the value at path.
func under(path string, part any) string {
	if path == "" {
		return Path(part)
	}
	return path + "." + Path(part)
}
