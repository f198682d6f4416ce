package document

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Problem is one thing wrong in a document.
type Problem struct {
	File         string
	Line, Column int    // counted from 1; 0 when the problem has no place of its own
	Where        string // path of the value, as Path writes it: "doors.D3.lock.supply"
	Found        string // what stands there, in words: `"PS7"`, "a list"; empty when nothing does
	Want         string // what would be right: a sentence of its own, or one that goes on from Found with is, has or was
}

// Error writes the problem in one line, such as
// `brackwater.yaml:41:13: doors.D3.lock.supply: found "PS7", which is not a known supply; did you mean "PSU"?`.
func (p Problem) Error() string {
	var b strings.Builder
	if p.File != "" {
		b.WriteString(p.File + ":")
	}
	if p.Line > 0 {
		fmt.Fprintf(&b, "%d:", p.Line)
	}
	if p.Line > 0 && p.Column > 0 {
		fmt.Fprintf(&b, "%d:", p.Column)
	}
	if b.Len() > 0 {
		b.WriteByte(' ')
	}
	if p.Where != "" {
		b.WriteString(p.Where + ": ")
	}
	b.WriteString(p.sentence())
	return oneLine(b.String())
}

func (p Problem) sentence() string {
	switch {
	case p.Found == "":
		return p.Want
	case p.Want == "":
		return "found " + p.Found
	}
	for _, verb := range []string{"is ", "has ", "was "} {
		if strings.HasPrefix(p.Want, verb) {
			return "found " + p.Found + ", which " + p.Want
		}
	}
	return "found " + p.Found + "; " + p.Want
}

// oneLine keeps a message in one line whatever text of the document it quotes.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// Problems are all the things wrong in one or more documents.
type Problems []Problem

// Error prints the problems sorted, one in each line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps.Sorted() {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Unplaced are the problems without file, line and column: for people who see a form, and no text that these are of.
func (ps Problems) Unplaced() Problems {
	all := ps.Sorted()
	for i := range all {
		all[i].File, all[i].Line, all[i].Column = "", 0, 0
	}
	return all
}

// Sorted is a copy in the order of file, line and column.
func (ps Problems) Sorted() Problems {
	sorted := slices.Clone(ps)
	slices.SortStableFunc(sorted, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column),
			cmp.Compare(a.Where, b.Where))
	})
	return sorted
}
