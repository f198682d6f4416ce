package signal

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"doorwright/document"
	"doorwright/unit"
)

// Bounds of a capture, far above what anybody reads.
const (
	mostCapture = 16 << 20 // bytes of text
	mostDigitsT = 4096     // of one token
)

// Place is where something stands in a capture, line and column counted from 1.
type Place struct {
	Line   int `json:"line"`
	Column int `json:"column"`
}

// Bytes is what stands in a capture: bytes, each with its place, in bursts.
type Bytes struct {
	data   []byte
	places []Place
	bursts []burst
}

// burst is the bytes from one mark in the capture to the next: a time, a direction, or both.
type burst struct {
	from  int // first byte
	mark  string
	at    unit.Second
	timed bool
}

// Len counts the bytes.
func (b *Bytes) Len() int { return len(b.data) }

// ReadBytes reads a capture in hexadecimal as people and programs write it: with blanks, commas, semicolons, "0x" or
// "\x",
// or none of them; with a time, a direction (TX, RX, >, < ...) or an offset ("0010:") at the start of a line; with text
// behind "#" or "|". It tells everything else by its place.
func ReadBytes(file, text string) (*Bytes, document.Problems) {
	r := &captureReader{file: file, out: &Bytes{}}
	if len(text) > mostCapture {
		return r.out, document.Problems{{
			File: file, Found: fmt.Sprintf("%d MiB", len(text)>>20), Want: fmt.Sprintf("a capture has at most %d MiB of "+
				"text", mostCapture>>20),
		}}
	}
	if document.Binary([]byte(text)) {
		return r.out, document.Problems{document.NotText(file)}
	}
	for line := range strings.Lines(strings.TrimPrefix(text, "\ufeff")) {
		r.line++
		r.read(strings.TrimRight(line, "\r\n"))
	}
	if r.hidden > 0 {
		r.problems = append(r.problems, more(r.hidden))
	}
	if len(r.problems) == 0 && len(r.out.data) == 0 {
		r.problems = document.Problems{{
			File: file, Line: 1, Column: 1,
			Want: "there are no bytes in it; write them like \"53 00 08 00 04 60 EB AA\"",
		}}
	}
	return r.out, r.problems
}

type captureReader struct {
	file     string
	line     int
	out      *Bytes
	problems document.Problems
	hidden   int
}

// token is a word of a line with its column, counted in characters.
type token struct {
	text   string
	column int
}

// tokens splits a line into words, up to a remark.
func tokens(line string) []token {
	var all []token
	column, start, from := 1, -1, 0
	end := func(i int) {
		if start >= 0 {
			all = append(all, token{line[start:i], from})
			start = -1
		}
	}
	for i, r := range line {
		switch {
		case r == '#' || r == '|':
			end(i)
			return all
		case strings.ContainsRune(" \t,;[](){}\"'", r):
			end(i)
		case start < 0:
			start, from = i, column
		}
		column++
	}
	end(len(line))
	return all
}

// read takes one line: what stands before the bytes, then bytes.
func (r *captureReader) read(line string) {
	words := tokens(line)
	b := burst{from: len(r.out.data)}
	marked := false
	for len(words) > 0 {
		t := words[0]
		if direction, ok := directionOf(t.text); ok {
			b.mark = direction
		} else if at, ok := timeOf(t.text); ok && (len(words) > 1 || strings.Contains(t.text, ".")) {
			b.at, b.timed = at, b.timed || !isDate(t.text)
		} else if !offset.MatchString(t.text) {
			break
		} else {
			words = words[1:]
			continue
		}
		marked = true
		words = words[1:]
	}
	if marked {
		r.begin(b)
	}
	for _, t := range words {
		r.hex(t)
	}
}

// begin starts a burst; one without bytes gives way to the next, but keeps its time and direction for it.
func (r *captureReader) begin(b burst) {
	if n := len(r.out.bursts); n > 0 && r.out.bursts[n-1].from == b.from {
		last := r.out.bursts[n-1]
		if b.mark == "" {
			b.mark = last.mark
		}
		if !b.timed {
			b.at, b.timed = last.at, last.timed
		}
		r.out.bursts = r.out.bursts[:n-1]
	}
	r.out.bursts = append(r.out.bursts, b)
}

// directionOf reads the mark of a direction. Which side it means differs between programs, so it is only repeated; what
// the direction is, the address of a frame says.
func directionOf(word string) (string, bool) {
	w := strings.ToLower(strings.TrimRight(word, ":"))
	for _, known := range []string{
		"tx", "rx", ">", "<", ">>", "<<", "->", "<-", "-->", "<--", "=>", "<=", "in",
		"out", "i", "o", "t", "r", "s", "sent", "recv", "received", "send", "acu", "pd", "cp",
	} {
		if w == known {
			return word, true
		}
	}
	return "", false
}

var (
	offset    = regexp.MustCompile(`^(0[xX])?[0-9A-Fa-f]{4,8}:$`)
	clock     = regexp.MustCompile(`^(?:[0-9]{4}-[0-9]{2}-[0-9]{2}T)?([01][0-9]|2[0-3]):([0-5][0-9]):([0-5][0-9](?:\.[0-9]{1,9})?)Z?:?$`)
	day       = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}$`)
	elapsed   = regexp.MustCompile(`^\+?([0-9]{1,9}\.[0-9]{1,9})(s|ms)?:?$`)
	wholeTime = regexp.MustCompile(`^\+?([0-9]{1,9})(s|ms)$`)
)

func isDate(word string) bool { return day.MatchString(word) }

// timeOf reads a time of day, a date (of which nothing is kept) or seconds from some start.
func timeOf(word string) (unit.Second, bool) {
	if isDate(word) {
		return 0, true
	}
	if m := clock.FindStringSubmatch(word); m != nil {
		var parts [3]float64
		for i, p := range m[1:] {
			parts[i], _ = strconv.ParseFloat(p, 64) // the pattern leaves nothing that could fail
		}
		return unit.Second(parts[0]*3600 + parts[1]*60 + parts[2]), true
	}
	for _, form := range []*regexp.Regexp{elapsed, wholeTime} {
		if m := form.FindStringSubmatch(word); m != nil {
			v, _ := strconv.ParseFloat(m[1], 64)
			if m[2] == "ms" {
				v /= 1000
			}
			return unit.Second(v), true
		}
	}
	return 0, false
}

// hex reads the bytes of one word: "53", "0x53", "536500", "53:65:00", "\x53\x65", "53h".
func (r *captureReader) hex(t token) {
	if len(t.text) > mostDigitsT && strings.Trim(t.text, "0123456789abcdefABCDEF") != "" {
		r.problem(t.column, shortened(t.text), "is too long; put blanks between the bytes")
		return
	}
	digits := t.text
	if len(digits) == 2 { // as in nearly every capture; the rest is for the others
		r.pairs(digits, t.column)
		return
	}
	if u, ok := strings.CutSuffix(strings.ToLower(digits), "h"); ok && len(u) == 2 {
		digits = u
	}
	digits = strings.NewReplacer(`\x`, "  ", "0x", "  ", "0X", "  ", ":", " ", "-", " ").Replace(digits)
	column := t.column
	for i := 0; i < len(digits); {
		if digits[i] == ' ' {
			i, column = i+1, column+1
			continue
		}
		end := i
		for end < len(digits) && digits[end] != ' ' {
			end++
		}
		r.pairs(digits[i:end], column)
		column += utf8.RuneCountInString(digits[i:end])
		i = end
	}
}

// pairs reads digits two by two.
func (r *captureReader) pairs(digits string, column int) {
	for i, c := range digits {
		if nibble(c) > 0xF {
			r.problem(column+utf8.RuneCountInString(digits[:i]), fmt.Sprintf("%q in %s", c, shortened(digits)),
				"is no hexadecimal digit; a time or direction stands at the start of a line, a remark behind #")
			return
		}
	}
	if len(digits)%2 != 0 {
		r.problem(column, shortened(digits), "is not made of whole bytes; write each with two digits")
		return
	}
	for i := 0; i < len(digits); i += 2 {
		r.out.data = append(r.out.data, nibble(rune(digits[i]))<<4|nibble(rune(digits[i+1])))
		r.out.places = append(r.out.places, Place{r.line, column + i})
	}
}

// nibble is the value of a hexadecimal digit, and above 15 for any other character.
func nibble(c rune) byte {
	switch {
	case c >= '0' && c <= '9':
		return byte(c - '0')
	case c >= 'a' && c <= 'f':
		return byte(c - 'a' + 10)
	case c >= 'A' && c <= 'F':
		return byte(c - 'A' + 10)
	}
	return 0xFF
}

func (r *captureReader) problem(column int, found, want string) {
	if len(r.problems) >= mostProblems {
		r.hidden++
		return
	}
	r.problems = append(r.problems, document.Problem{File: r.file, Line: r.line, Column: column, Found: found, Want: want})
}

// shortened quotes the start of a text.
func shortened(s string) string {
	if runes := []rune(s[:min(len(s), 80)]); len(runes) > 16 {
		return strconv.Quote(string(runes[:16]) + "…")
	}
	return strconv.Quote(s)
}
