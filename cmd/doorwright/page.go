package main

import (
	"io"
	"os"
	"strings"
	"unicode"
	"unicode/utf8"
)

// style is how a piece of text looks, as the parameters of a "select graphic rendition" sequence (ECMA-48, 8.3.117).
type style string

// The styles. None carries a meaning that does not stand there in words as well.
const (
	plain  style = ""
	bold   style = "1"
	dim    style = "2"
	red    style = "1;31"
	yellow style = "1;33"
)

// page writes text for people, wrapped and indented.
type page struct {
	w      io.Writer
	colour bool
	width  int
}

func newPage(w io.Writer, colour bool, width int) *page { return &page{w, colour, width} }

// coloured says whether to colour what goes to w. Auto means on a terminal that can, unless NO_COLOR is set.
func coloured(when string, w io.Writer) bool {
	switch when {
	case "always":
		return true
	case "never":
		return false
	}
	return isTerminal(w) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

// isTerminal says that a person reads what goes to w. What goes nowhere is read by nobody.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return false
	}
	nowhere, err := os.Stat(os.DevNull)
	return err != nil || !os.SameFile(info, nowhere)
}

// styled gives text its style.
func (p *page) styled(s style, text string) string {
	if !p.colour || s == plain || text == "" {
		return text
	}
	return "\x1b[" + string(s) + "m" + text + "\x1b[0m"
}

// raw writes one line as it is. Errors surface when the buffer behind the page is flushed.
func (p *page) raw(line string) { io.WriteString(p.w, strings.TrimRight(line, " ")+"\n") } //nolint:errcheck

// gap leaves a line free.
func (p *page) gap() { p.raw("") }

// title writes a heading.
func (p *page) title(text string) { p.say(0, bold, text) }

// say writes a paragraph, every line of it indented.
func (p *page) say(indent int, s style, text string) {
	for _, line := range wrap(tame(text), p.width-indent) {
		p.raw(strings.Repeat(" ", indent) + p.styled(s, line))
	}
}

// label writes a paragraph behind a word of its own style; the further lines hang below the text, not below the word.
func (p *page) label(indent int, word string, s style, text string) {
	p.hang(indent, word, s, text, indent+utf8.RuneCountInString(word)+1)
}

// hang writes a word and behind it, at the column, a paragraph.
func (p *page) hang(indent int, word string, s style, text string, column int) {
	pad := max(column-indent-utf8.RuneCountInString(word), 1)
	lead := strings.Repeat(" ", indent) + p.styled(s, word) + strings.Repeat(" ", pad)
	for i, line := range wrap(tame(text), p.width-column) {
		if i > 0 {
			lead = strings.Repeat(" ", column)
		}
		p.raw(lead + line)
	}
}

// tame takes the control characters out of text, which comes from documents of strangers and goes to a terminal.
func tame(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == utf8.RuneError {
			return ' '
		}
		return r
	}, text)
}
