package draw

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// dump writes the drawing model as text, one item a line, lengths to a hundredth of a millimetre.
func dump(s *Sheet) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%q %s x %s\n", s.Title, num(s.Width), num(s.Height))
	for _, i := range s.Items {
		b.WriteString(strings.TrimRight(lineOf(i), " ") + "\n")
	}
	return b.String()
}

func lineOf(item Item) string {
	switch i := item.(type) {
	case Line:
		var points []string
		for _, p := range i.Points {
			points = append(points, pointOf(p))
		}
		closed := ""
		if i.Closed {
			closed = " closed"
		}
		return fmt.Sprintf("line %s%s %s %s %s", i.Of, closed, strings.Join(points, " "), strokeText(i.Stroke), i.Fill)
	case Rect:
		return fmt.Sprintf("rect %s %s %s x %s r %s %s %s", i.Of, pointOf(i.At), num(i.Width), num(i.Height), num(i.Radius),
			strokeText(i.Stroke), i.Fill)
	case Circle:
		return fmt.Sprintf("circle %s %s r %s %s %s", i.Of, pointOf(i.Centre), num(i.Radius), strokeText(i.Stroke), i.Fill)
	case Arc:
		return fmt.Sprintf("arc %s %s r %s from %v by %v %s", i.Of, pointOf(i.Centre), num(i.Radius), i.From, i.Sweep,
			strokeText(i.Stroke))
	case Text:
		bold := ""
		if i.Bold {
			bold = " bold"
		}
		return fmt.Sprintf("text %s %s %q size %s %s turn %v%s %s", i.Of, pointOf(i.At), i.Text, num(i.Size), i.Anchor, i.Turn, bold,
			i.Ink)
	}
	return fmt.Sprintf("%T", item)
}

func pointOf(p Point) string { return num(p.X) + "," + num(p.Y) }

func strokeText(s Stroke) string {
	edged := ""
	if s.Edged {
		edged = " edged"
	}
	return strings.TrimRight(fmt.Sprintf("[%s %s %s %s%s", num(s.Width), s.Ink, s.Dash, s.Stripe, edged), " ") + "]"
}

// golden compares a drawing model with the one that was looked at; UPDATE=1 keeps the new one.
func golden(t *testing.T, name string, s *Sheet) {
	t.Helper()
	path := filepath.Join("testdata", "golden", name+".txt")
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(path, []byte(dump(s)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got := dump(s); got != string(kept) {
		t.Errorf("%s is drawn differently; look at it, then keep it with UPDATE=1. First difference:\n%s", name, difference(string(kept), got))
	}
}

func difference(a, b string) string {
	was, is := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(was), len(is)) {
		if was[i] != is[i] {
			return "was " + was[i] + "\nis  " + is[i]
		}
	}
	return "one is longer"
}
