package main

import (
	"strings"
	"unicode/utf8"
)

// table is rows under a heading. Programs get it as CSV; people get columns that are fitted to the page.
type table struct {
	head []string
	rows [][]string
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

// columnGap is the space between two columns.
const columnGap = 2

// table writes columns that line up. Columns that would run over the page are made narrower, the widest first, and
// their text is wrapped; columns whose heading starts with ">" are set flush right.
func (p *page) table(indent int, t table) {
	if len(t.rows) == 0 {
		return
	}
	head, right := headings(t.head)
	cells := make([][]string, 0, len(t.rows)+1)
	for _, row := range append([][]string{head}, t.rows...) {
		line := make([]string, len(head))
		for i := range line {
			if i < len(row) {
				line[i] = tame(row[i])
			}
		}
		cells = append(cells, line)
	}
	width := fit(cells, p.width-indent)
	for i, row := range cells {
		s := plain
		if i == 0 {
			s = dim
		}
		p.row(indent, row, width, right, s)
	}
}

func headings(head []string) (names []string, right []bool) {
	for _, h := range head {
		name, flush := strings.CutPrefix(h, ">")
		names, right = append(names, name), append(right, flush)
	}
	return names, right
}

// row writes one row, in as many lines as its fullest cell needs.
func (p *page) row(indent int, cells []string, width []int, right []bool, s style) {
	wrapped := make([][]string, len(cells))
	lines := 0
	for i, c := range cells {
		wrapped[i] = wrap(c, width[i])
		lines = max(lines, len(wrapped[i]))
	}
	for n := range lines {
		var b strings.Builder
		for i := range cells {
			text := ""
			if n < len(wrapped[i]) {
				text = wrapped[i][n]
			}
			pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(text))
			if right[i] {
				text, pad = pad+text, ""
			}
			b.WriteString(text + pad + strings.Repeat(" ", columnGap))
		}
		p.raw(strings.Repeat(" ", indent) + p.styled(s, strings.TrimRight(b.String(), " ")))
	}
}

// short is what is not worth breaking: a figure with its unit, a word or two. A figure of our own choice.
const short = 12

// fit gives every column its width: that of its longest cell, less what does not fit in total. As long as some column can
// give way without breaking a word or what is short, only such columns do; then those that can break names at their joints.
func fit(cells [][]string, total int) []int {
	n := len(cells[0])
	width, words, parts := make([]int, n), make([]int, n), make([]int, n)
	sum := columnGap * (n - 1)
	for i := range width {
		width[i] = 1
		for _, row := range cells {
			width[i] = max(width[i], utf8.RuneCountInString(row[i]))
			words[i] = max(words[i], longestWord(row[i]))
			parts[i] = max(parts[i], longestPart(row[i]))
		}
		if width[i] <= short {
			words[i], parts[i] = width[i], width[i]
		}
		sum += width[i]
	}
	for ; sum > total; sum-- {
		i, ok := widest(width, words)
		if !ok {
			i, ok = widest(width, parts)
		}
		if !ok {
			i, _ = widest(width, make([]int, n))
		}
		if width[i] <= 1 {
			break
		}
		width[i]--
	}
	return width
}

// widest is the widest of the columns that are above their least width.
func widest(width, least []int) (int, bool) {
	best := -1
	for i := range width {
		if width[i] > least[i] && (best < 0 || width[i] > width[best]) {
			best = i
		}
	}
	return max(best, 0), best >= 0
}
