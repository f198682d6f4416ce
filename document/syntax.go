package document

import (
	"bytes"
	"errors"
	"regexp"
	"sort"
	"strconv"
	"strings"
)

// yamlWords says the parser's messages in words of people. The first that fits counts.
var yamlWords = []struct{ parser, words string }{
	{"found a tab character", "the line is set in with a tab; use spaces"},
	{"mapping values are not allowed", `a second ": " in one line, or a line set in deeper than its neighbours; ` +
		`text that holds ": " belongs in quotes`},
	{"found character that cannot start any token", "text that starts with one of @ ` % belongs in quotes"},
	{"did not find expected ',' or ']'", `a list opened with "[" lacks a comma or its "]"`},
	{"did not find expected ',' or '}'", `keys opened with "{" lack a comma or the "}"`},
	{"did not find expected '-' indicator", `a line among list items that does not start with "- "; ` +
		"set it in like its neighbours"},
	{"did not find expected key", "a line that is not set in like its neighbours, or text after a closing quote"},
	{"could not find expected ':'", `a line that is not "key: value"`},
	{"found unexpected end of stream", "text opened with a quote that is never closed"},
	{"found unknown escape character", `a "\" in double quotes starts an escape; write "\\", or use single quotes`},
	{"block sequence entries are not allowed", `a list item "- " behind its key; start it on a line of its own`},
	{"did not find expected <document start>", "more text after the end of the document; one file holds one document"},
	{"exceeded max depth", "values nested too deep; look for brackets that are not closed"},
	{"unknown anchor", "an alias (*name) without the anchor (&name) it stands for; " +
		"text that starts with * belongs in quotes"},
	{"found incompatible YAML document", "take out the %YAML line"},
}

// searchBytes is the size up to which the line of a syntax error is searched for by parsing again.
const searchBytes = 256 << 10

var lineInError = regexp.MustCompile(`^line ([0-9]+): `)

// syntaxProblem words an error of the YAML parser.
func syntaxProblem(data []byte, err error) *Problem {
	var two several
	switch {
	case errors.Is(err, errEmpty):
		return &Problem{Line: 1, Column: 1, Found: "an empty file", Want: "write the document into it"}
	case errors.As(err, &two):
		return &Problem{Line: two.line, Column: 1, Found: "a second document", Want: "one file holds one document"}
	}
	text := strings.TrimPrefix(oneLine(err.Error()), "yaml: ")
	line := 1
	if m := lineInError.FindStringSubmatch(text); m != nil {
		line, _ = strconv.Atoi(m[1]) // the expression has seen that it is a number
		text = text[len(m[0]):]
	}
	if len(data) <= searchBytes {
		line = errorLine(data, err, line)
	}
	return &Problem{Line: line, Want: "not readable as YAML: " + wordsFor(text, data, line)}
}

func wordsFor(text string, data []byte, line int) string {
	lines := bytes.Split(data, []byte("\n"))
	if line <= len(lines) {
		l := lines[line-1]
		if bytes.IndexByte(l[:len(l)-len(bytes.TrimLeft(l, " \t"))], '\t') >= 0 {
			return yamlWords[0].words
		}
	}
	for _, w := range yamlWords {
		if strings.Contains(text, w.parser) {
			return w.words
		}
	}
	return text
}

// errorLine finds the line at which the parser stops. The line in the parser's message is that of the surrounding block
// for some errors and counted from 0 for others, so we look for the shortest beginning of the document that fails in
// the same way. Text in an open quote fails at the end only, and there the parser's line is where it opens.
func errorLine(data []byte, err error, told int) int {
	lines := bytes.SplitAfter(data, []byte("\n"))
	begin := func(n int) []byte { return bytes.Join(lines[:n], nil) }
	if strings.Contains(err.Error(), "end of stream") {
		if told <= len(lines) && told > 1 {
			if _, before := yamlTree(begin(told - 1)); before == nil || errors.Is(before, errEmpty) {
				return told
			}
		}
		return 1
	}
	n := sort.Search(len(lines), func(n int) bool {
		_, e := yamlTree(begin(n))
		return e != nil && e.Error() == err.Error()
	})
	return max(n, 1)
}
