package paper_test

import (
	"fmt"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/draw"
	"doorwright/internal/site"
	"doorwright/paper"
)

// neat checks that no text of a page runs into another or leaves the page.
func neat(t *testing.T, name string, p *paper.Paper) {
	t.Helper()
	for n, s := range p.Pages {
		var boxes []draw.Box
		var texts []draw.Text
		for _, item := range s.Items {
			x, is := item.(draw.Text)
			if !is || x.Text == "" {
				continue
			}
			b := x.Bounds()
			if b.Left < -0.01 || b.Top < -0.01 || b.Right > s.Width+0.01 || b.Bottom > s.Height+0.01 {
				t.Errorf("%s, page %d: %q leaves the page", name, n+1, x.Text)
			}
			for i := range boxes {
				if boxes[i].Overlaps(b) {
					t.Errorf("%s, page %d: %q runs into %q", name, n+1, x.Text, texts[i].Text)
				}
			}
			boxes, texts = append(boxes, b), append(texts, x)
		}
		if len(boxes) == 0 {
			t.Errorf("%s, page %d is empty", name, n+1)
		}
	}
}

func TestNoTextRunsIntoAnother(t *testing.T) {
	for _, size := range paper.Sizes()[:brief(2, 1)] {
		for name, p := range papersOf(t, size.Name) {
			neat(t, size.Name+" "+name, p)
		}
	}
	w := demoWork(t)
	for _, d := range w.Job.Doors {
		neat(t, d.ID, doorSheet(t, w, d.ID))
	}
}

// plain is a job of one door, with what a test adds.
func plain(title, door string) []byte {
	return []byte(`job: HARD
title: ` + title + `
rules: [uk-b]
supplies: {PS1: {model: supply-12-5, place: D1.box, zero-volt: earthed}}
controllers: {C1: {model: controller-1-12, place: D1.box, feed: PS1}}
doors:
  D1:
` + door)
}

const bare = "    title: Bare door\n    escape: none\n    fire-rated: no\n    controller: C1\n    locks: " +
	"[strike-12-secure]\n"

func TestAVeryLongNameComesOutReadable(t *testing.T) {
	long := strings.Repeat("Electromagnetically retained interlocking vestibule door contact of the north wing ", 4)
	word := strings.Repeat("Donaudampfschiffahrtselektrizitaetenhauptbetriebswerk", 4)
	w := workOf(t, plain(strings.TrimSpace(long), "    title: "+word+"\n"+strings.Join(strings.SplitN(bare, "\n",
		2)[1:], "")+
		"    contacts: [{model: contact-surface, title: "+strings.TrimSpace(long)+"}]\n    entry: {model: "+
		"reader-pulse, title: "+word+"}\n"))
	sheet := doorSheet(t, w, "D1")
	neat(t, "door sheet", sheet)
	neat(t, "job set", w.JobSet(frame(t, "a4")))
	neat(t, "handover", w.Handover(frame(t, "letter")))
	text := strings.ReplaceAll(textOf(sheet), "\n", "")
	if !strings.Contains(text, word) {
		t.Error("the name of the door is not whole on its sheet")
	}
	for _, tape := range []draw.MM{6, 12, 24} {
		p, err := w.Labels(paper.Tape(tape), nil)
		if err != nil {
			t.Fatal(err)
		}
		neat(t, fmt.Sprintf("tape of %v mm", tape), p)
	}
}

func TestADoorWithNothingButALock(t *testing.T) {
	w := workOf(t, plain("Shed", bare))
	sheet := doorSheet(t, w, "D1")
	neat(t, "door sheet", sheet)
	if !strings.Contains(textOf(sheet), "Bare door") {
		t.Error("the sheet does not name the door")
	}
	pack := textOf(w.Handover(frame(t, "a4")))
	for _, want := range []string{
		"NO RECORD", "☐ not done", "☐ not measured", "None are fitted.",
		"Nothing was accepted.",
	} {
		if !strings.Contains(pack, want) {
			t.Errorf("the pack does not say %q", want)
		}
	}
	for _, never := range []string{"☑", "●", "◆"} {
		if strings.Contains(strings.ReplaceAll(pack, legendOf(pack), ""), never) {
			t.Errorf("nothing was done, and yet there is a %s", never)
		}
	}
}

// legendOf is the line that explains the marks.
func legendOf(text string) string {
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "[figure]") {
			return line
		}
	}
	return ""
}

func TestAnAccentedAndARightToLeftTitle(t *testing.T) {
	for _, c := range []struct{ title, plain string }{
		{"Überwachte Türen, Łódź, Côté élévateur, Ångström", "Überwachte Türen, Łódź, Côté élévateur, Ångström"},
		{"בדיקת דלת 12", "בדיקת דלת 12"},
		{"باب المختبر 7", "باب المختبر 7"},
	} {
		w := workOf(t, plain(c.title, strings.Replace(bare, "Bare door", c.title, 1)))
		p := doorSheet(t, w, "D1")
		neat(t, c.title, p)
		path, _ := pdf(t, p)
		text := tool(t, "pdftotext", "-raw", path, "-")
		words := 0
		for _, word := range strings.Fields(c.plain) {
			words++
			if !strings.Contains(text, word) && !strings.Contains(text, turnedRunes(word)) && !isArabic(word) {
				t.Errorf("%q is not in the text of the page", word)
			}
		}
		if words == 0 {
			t.Error("no words")
		}
	}
}

func isArabic(word string) bool {
	return strings.ContainsFunc(word, func(r rune) bool { return r >= 0x600 && r < 0x700 })
}

func turnedRunes(word string) string {
	var b strings.Builder
	r := []rune(word)
	for i := len(r) - 1; i >= 0; i-- {
		b.WriteRune(r[i])
	}
	return b.String()
}

func TestASupplyWithThirtyTwoDoors(t *testing.T) {
	n := brief(32, 10)
	var doors, controllers strings.Builder
	for i := range n {
		fmt.Fprintf(&controllers, "  C%d: {model: controller-1-12, place: D%d.box, feed: PS1}\n", i, i)
		fmt.Fprintf(&doors, "  D%d: {title: Door %d, escape: none, fire-rated: no, controller: C%d, locks: "+
			"[strike-12-secure]}\n", i, i, i)
	}
	w := workOf(t, []byte("job: MANY\ntitle: Many doors\nrules: [uk-b]\nplaces: {riser: {title: Riser}}\nsupplies: "+
		"{PS1: {model: supply-12-5, place: riser, zero-volt: earthed}}\n"+
		"controllers:\n"+controllers.String()+"doors:\n"+doors.String()+runsTo(n)))
	set := w.JobSet(frame(t, "a4"))
	neat(t, "job set", set)
	text := textOf(set)
	for i := range n {
		if !strings.Contains(text, fmt.Sprintf("\nD%d\n", i)) {
			t.Errorf("D%d is not in the set", i)
		}
	}
	labels, err := w.Labels(paper.Tape(12), nil, "supplies")
	if err != nil {
		t.Fatal(err)
	}
	if got := textOf(labels); !strings.Contains(got, fmt.Sprintf("serves %d doors", n)) {
		t.Errorf("the label of the supply says %q", got)
	}
}

// runsTo are the cables from the riser to so many doors.
func runsTo(n int) string {
	var b strings.Builder
	b.WriteString("runs:\n")
	for i := range n {
		fmt.Fprintf(&b, "  W%d: {from: riser, to: D%d.box, cable: 2x2.5, length: 20 m}\n", i, i)
	}
	return b.String()
}

func TestPapersOfASiteOfAllArrangements(t *testing.T) {
	w := workOf(t, site.Generate(brief(12, 3)))
	neat(t, "job set", w.JobSet(frame(t, "letter")))
	for _, d := range w.Job.Doors {
		neat(t, d.ID, doorSheet(t, w, d.ID))
	}
}

func TestTheFlawedDemoShowsItsFindings(t *testing.T) {
	w := workOf(t, demo.Flawed)
	text := textOf(w.JobSet(frame(t, "a4")))
	if n := strings.Count(text, "\nERROR\n"); n < 5 {
		t.Errorf("%d errors in the set", n)
	}
}

func TestLabelStocksThatCannotBeAreRefused(t *testing.T) {
	w := demoWork(t)
	a4 := frame(t, "a4").Size
	for _, c := range []struct {
		stock paper.Stock
		says  string
	}{
		{paper.Tape(3), "5 mm to 100 mm"},
		{paper.Stock{Page: a4, Columns: 4, Rows: 8, Wide: 64, High: 30, Across: 64, Down: 30}, "do not fit"},
		{paper.Stock{Page: a4, Columns: 3, Rows: 8, Wide: 64, High: 30, Across: 60, Down: 30}, "would overlap"},
		{paper.Stock{Page: a4, Wide: 64, High: 30}, "at least one label"},
		{paper.Stock{Page: a4, Columns: 40, Rows: 8, Wide: 5, High: 30, Across: 5, Down: 30}, "nothing readable"},
	} {
		if _, err := w.Labels(c.stock, nil); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v", c.stock, err)
		}
	}
	if _, err := w.Labels(paper.Tape(12), nil, "wires"); err == nil {
		t.Error("labels of an unknown kind")
	}
}

func TestEachEndOfEachCableAndCoreHasALabel(t *testing.T) {
	w := demoWork(t)
	labels, err := w.Labels(paper.Tape(12), nil, "cables", "cores", "supplies")
	if err != nil {
		t.Fatal(err)
	}
	text := textOf(labels)
	n := 0
	for _, r := range w.Job.Runs {
		n++
		if strings.Count(text, "\n"+r.ID+"\nhere "+r.From.ID+"\nto "+r.To.ID+"\n")+strings.Count("\n"+text[:60],
			"\n"+r.ID+"\nhere "+r.From.ID+"\n") < 2 {
			t.Errorf("%s has no label at %s, or it does not go round", r.ID, r.From.ID)
		}
		if strings.Count(text, "\n"+r.ID+"\nhere "+r.To.ID+"\nto "+r.From.ID+"\n") < 2 {
			t.Errorf("%s has no label at %s, or it does not go round", r.ID, r.To.ID)
		}
	}
	if n == 0 || !strings.Contains(text, "fitted 2026-10-14") || !strings.Contains(text, "fitted ____-__-__") {
		t.Error("the batteries do not tell when they were fitted")
	}
}
