package main

import (
	"bytes"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The pictures of README.md are drawn from what the command prints. UPDATE=1 go test ./cmd/doorwright draws them anew.
func TestPicturesAreUpToDate(t *testing.T) {
	for _, p := range []struct {
		file        string
		from, lines int
		args        []string
	}{
		{"findings.svg", 5, 40, []string{"prove", "demo:flawed", "--faults", "none", "--colour", "always"}},
		{"faults.svg", 0, 44, []string{"show", "faults", "demo:brackwater", "--door", "laboratory", "--colour", "always"}},
		{"landings.svg", 0, 40, []string{"show", "landings", "demo:brackwater", "--door", "laboratory", "--by", "device", "--colour", "always"}},
		{"readings.svg", 0, 46, []string{"meter", "demo:brackwater", "--door", "plant", "--colour", "always"}},
	} {
		keepPicture(t, p.file, picture("doorwright "+strings.Join(p.args[:len(p.args)-2], " "), printed(t, p.args...), p.from, p.lines))
	}
	keepPicture(t, "wiring.svg", []byte(printed(t, "draw", "wiring", "demo:brackwater", "--door", "laboratory")))
}

// keepPicture compares a picture with the one in docs, or puts it there.
func keepPicture(t *testing.T, file string, drawn []byte) {
	t.Helper()
	path := filepath.Join("..", "..", "docs", file)
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(path, drawn, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	kept, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(kept, drawn) {
		t.Errorf("docs/%s shows another output than the command prints; draw it anew with UPDATE=1", file)
	}
}

// The picture of a page is the page itself.
func TestPictureOfAPageIsUpToDate(t *testing.T) {
	drawn := []byte(printed(t, "paper", "door-sheet", "demo:brackwater", "--door", "staff", "--record", "demo:record",
		"--issued", "2026-10-20", "--page", "1"))
	path := filepath.Join("..", "..", "docs", "door-sheet.svg")
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(path, drawn, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(kept, drawn) {
		t.Error("docs/door-sheet.svg shows another page than the command makes; draw it anew with UPDATE=1")
	}
}

// Sizes of the picture of a terminal, in pixels.
const (
	cellWide = 8.4
	cellHigh = 18
	edge     = 14
)

// picture draws some lines of a coloured output, under the command that was given.
func picture(command, output string, from, count int) []byte {
	lines := strings.Split(output, "\n")
	lines = lines[min(from, len(lines)):]
	lines = lines[:min(count, len(lines))]
	var b bytes.Buffer
	wide, high := int(paperWidth*cellWide)+2*edge, (len(lines)+2)*cellHigh+2*edge
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" font-family="DejaVu Sans Mono, Liberation Mono, monospace" font-size="14">`+"\n", wide, high)
	fmt.Fprintf(&b, `<rect width="100%%" height="100%%" fill="#fdfcf8" stroke="#b8b4a8"/>`+"\n")
	write := func(n int, text string) {
		fmt.Fprintf(&b, `<text x="%d" y="%d" xml:space="preserve" fill="#1c1c1c">%s</text>`+"\n", edge, edge+(n+1)*cellHigh-4, text)
	}
	write(0, `<tspan fill="#6b675c">$ `+html.EscapeString(command)+"</tspan>")
	for i, line := range lines {
		write(i+2, spans(line))
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// spans turns the marks of a terminal into those of a picture.
func spans(line string) string {
	looks := map[string]string{
		string(bold): `font-weight="bold"`, string(dim): `fill="#6b675c"`,
		string(red): `fill="#a01818" font-weight="bold"`, string(yellow): `fill="#8a5a00" font-weight="bold"`,
	}
	var b strings.Builder
	for i, part := range strings.Split(line, "\x1b[") {
		if i == 0 {
			b.WriteString(html.EscapeString(part))
			continue
		}
		mark, text, _ := strings.Cut(part, "m")
		if look := looks[mark]; look != "" {
			fmt.Fprintf(&b, "<tspan %s>%s</tspan>", look, html.EscapeString(text))
			continue
		}
		b.WriteString(html.EscapeString(text))
	}
	return b.String()
}
