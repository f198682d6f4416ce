package paper_test

import (
	"flag"
	"os"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/draw"
	"doorwright/paper"
	"doorwright/proof"
	"doorwright/record"
)

var update = flag.Bool("update", false, "write the golden texts anew")

// The text of one door sheet and of the pack, page by page as laid out, as reviewed. What the drawings say is left to the
// tests of package draw.
func TestTextOfPapersOfTheDemo(t *testing.T) {
	w := demoWork(t)
	drawn := map[string]bool{}
	for _, d := range w.Job.Doors {
		for _, s := range []*draw.Sheet{draw.Elevation(w.Plan, d), draw.Wiring(w.Plan, d)} {
			for line := range strings.Lines(textOf(&paper.Paper{Pages: []*draw.Sheet{s}})) {
				drawn[line] = true
			}
		}
	}
	own := func(p *paper.Paper) string {
		var b strings.Builder
		for line := range strings.Lines(textOf(p)) {
			if !drawn[line] {
				b.WriteString(line)
			}
		}
		return b.String()
	}
	for _, c := range []struct{ name, got string }{
		{"staff", own(doorSheet(t, w, "staff"))},
		{"handover", own(w.Handover(frame(t, "a4")))},
	} {
		path := "testdata/" + c.name + ".txt"
		if *update {
			if err := os.WriteFile(path, []byte(c.got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if c.got != string(want) {
			t.Errorf("%s differs from line %d on; write it anew with -update when the change is meant", path,
				firstDifference(c.got, string(want)))
		}
	}
}

// No page of the pack but the last is left half empty: text goes on below the drawings.
func TestPagesOfThePackAreFilled(t *testing.T) {
	const foot draw.MM = 12 // of a page, with what stands there on each
	pages := demoWork(t).Handover(frame(t, "a4")).Pages
	for n, page := range pages[:len(pages)-1] {
		lowest := draw.MM(0)
		for _, i := range page.Items {
			if b := i.Bounds().Bottom; b < page.Height-foot {
				lowest = max(lowest, b)
			}
		}
		if lowest < page.Height/2 {
			t.Errorf("page %d of %d ends at %.0f mm of %.0f", n+1, len(pages), float64(lowest), float64(page.Height))
		}
	}
}

func firstDifference(a, b string) int {
	one, two := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(one), len(two)) {
		if one[i] != two[i] {
			return i + 1
		}
	}
	return min(len(one), len(two)) + 1
}

func TestThePackIsBuiltFromTheRecord(t *testing.T) {
	w := demoWork(t)
	text := strings.ReplaceAll(textOf(w.Handover(frame(t, "a4"))), "\n", " ")
	for _, want := range []string{
		"● 12.31 V OUTSIDE (low;", "● 41.2 ohm", "mw, 2026-10-14 09:12, M1", // measured, and by whom with what
		"☑ pass; 0.3 s", "◆ Odhran Pell", "☒ FAIL; no event; card table", // tested and witnessed
		"retest T18 ☐ not done", "not applicable; no spring", "☑ 2026-10-14, mw", "☐ not written down",
		"BTO-M-0041", "2027-03-02", // meters
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the pack does not say %q", want)
		}
	}
}

// A door that was taken over says by whom, and what was open then; the others say that nobody has.
func TestThePackSaysWhoTookWhichDoorOver(t *testing.T) {
	w := demoWork(t)
	w.Record.Handed = []record.Handover{{
		Door: "store", To: "Ivo Strand", Role: "caretaker", Revision: "A", Open: []string{"snag S9: scratch"},
		Act: record.Act{By: "mw", On: record.Date{Year: 2026, Month: 10, Day: 20}},
	}}
	w.Withdrawn = []string{"test T35 at staff: pass; withdrawn by Mara Wren: other door"}
	text := strings.Join(strings.Fields(textOf(w.Handover(frame(t, "a4")))), " ")
	for _, want := range []string{"Written down and withdrawn • test T35 at staff: pass; withdrawn by Mara Wren: other door", "store Ivo Strand, caretaker revision A Mara Wren, 2026-10-20 snag S9: scratch", "staff ☐ nobody"} {
		if !strings.Contains(text, want) {
			t.Errorf("the pack does not say %q", want)
		}
	}
}

// What bears on life stays open without a witness, whatever else was done.
func TestALifeSafetyTestWithoutWitnessStaysOpen(t *testing.T) {
	w := demoWork(t)
	w.Record.Tested = append(w.Record.Tested, record.Test{
		Door: "staff", Step: "T48", Outcome: "pass", Act: record.Act{By: "mw", On: record.Date{Year: 2026, Month: 10, Day: 14}},
	})
	text := textOf(w.Handover(frame(t, "a4")))
	if !strings.Contains(text, "T48 ▲\n") {
		t.Fatal("T48 is not marked")
	}
	i := strings.Index(text, "T48 ▲\n")
	for range strings.Count(text[:strings.Index(text, "Door staff:")], "T48 ▲\n") {
		i = i + 1 + strings.Index(text[i+1:], "T48 ▲\n")
	}
	row := text[i : i+400]
	if !strings.Contains(row, "☑ pass") || !strings.Contains(row, "☐ not") {
		t.Errorf("the row says %q", row)
	}
}

// A test that failed with a reason and fails again without one keeps the reason in the pack.
func TestTheReasonOfAFailedTestStays(t *testing.T) {
	w := demoWork(t) // where T22 has failed at staff: "no event", "card table not loaded yet"
	w.Record.Tested = append(w.Record.Tested, record.Test{
		Door: "staff", Step: "T22", Outcome: "fail", Act: record.Act{By: "op", On: record.Date{Year: 2026, Month: 10, Day: 20}},
	})
	text := strings.Join(strings.Fields(textOf(w.Handover(frame(t, "a4")))), " ")
	if want := "FAIL; no event; card table not loaded yet; told by mw, 2026-10-14; again; op, 2026-10-20"; !strings.Contains(text, want) {
		t.Errorf("the pack does not say %q", want)
	}
}

// The marks of what was calculated, measured and witnessed differ in shape, and stand in the legend of every page.
func TestCalculatedMeasuredAndWitnessedAreToldApart(t *testing.T) {
	w := demoWork(t)
	for name, p := range papersOf(t, "a4") {
		if name == "labels" {
			continue
		}
		if n := strings.Count(textOf(p), "[figure] calculated, not measured   ● measured   ◆ witnessed"); n != len(p.Pages) {
			t.Errorf("%s: %d legends on %d pages", name, n, len(p.Pages))
		}
	}
	text := textOf(doorSheet(t, w, "staff"))
	if !strings.Contains(text, "\n[12.68 to 13.46 V]\n") || strings.Contains(text, "\n12.68 to 13.46 V\n") {
		t.Error("a calculated figure stands without its brackets")
	}
}

// Wherever a paper lists findings, it says when single faults were not tried.
func TestPapersSayThatFaultsWereNotTried(t *testing.T) {
	w := demoWork(t)
	for name, p := range map[string]*paper.Paper{"pack": w.Handover(frame(t, "a4")), "set": w.JobSet(frame(t, "a4"))} {
		if !strings.Contains(textOf(p), "None by calculation; single faults not tried. The command puts them into a paper with --faults single") {
			t.Errorf("the %s does not say so", name)
		}
	}
	flawed := workOf(t, demo.Flawed)
	text := textOf(doorSheet(t, flawed, "tanks"))
	if !strings.Contains(text, "Findings by calculation\nSingle faults not tried. The command puts them into a paper with --faults single") {
		t.Error("the sheet of a door does not say so")
	}
	flawed.Examination.Faults = &proof.FaultReport{}
	if strings.Contains(textOf(flawed.JobSet(frame(t, "a4"))), "faults not tried") {
		t.Error("faults that were tried are said not to have been")
	}
}

// No page ends with the heading of a door whose faults stand on the next.
func TestNoHeadingStandsAloneAtTheFootOfAPage(t *testing.T) {
	w := demoWork(t)
	x, r := *w.Examination, *w.Examination.Result // other tests read the same examination
	r.Faults = proof.TryFaults(x.Result, proof.SingleFaults, nil, nil)
	x.Result, w.Examination = &r, &x
	for high := draw.MM(240); high < 320; high += 5 { // so that pages end at other places
		f := frame(t, "a4")
		f.Size.Height = high
		for n, page := range w.JobSet(f).Pages {
			if lowest := lowestText(page); strings.HasPrefix(lowest.Text, "At ") && lowest.Bold {
				t.Errorf("sheets of %v mm: page %d ends with the heading %q", high, n+1, lowest.Text)
			}
		}
	}
}

// lowestText is the text that stands lowest on a page, above the foot.
func lowestText(page *draw.Sheet) draw.Text {
	const foot draw.MM = 12 // of a page, with what stands there on each
	lowest := draw.Text{}
	for _, i := range page.Items {
		if text, is := i.(draw.Text); is && text.Turn == 0 && text.At.Y < page.Height-foot && text.At.Y > lowest.At.Y {
			lowest = text
		}
	}
	return lowest
}

// No page of a door sheet ends with a heading whose table stands on the next.
func TestADoorSheetHasNoHeadingAlone(t *testing.T) {
	const small draw.MM = 3 // of headings, the smallest
	w := demoWork(t)
	for high := draw.MM(240); high < 320; high += 5 { // so that pages end at other places
		f := frame(t, "a4")
		f.Size.Height = high
		for _, d := range w.Job.Doors[:brief(len(w.Job.Doors), 2)] {
			p, err := w.DoorSheet(f, d)
			if err != nil {
				t.Fatal(err)
			}
			for n, page := range p.Pages {
				if lowest := lowestText(page); lowest.Bold && lowest.Size >= small {
					t.Errorf("%s on sheets of %v mm: page %d ends with the heading %q", d.ID, high, n+1, lowest.Text)
				}
			}
		}
	}
}

// Where a table goes on, it does so at the top of a page; elsewhere its headings stand under the title it begins with: no
// drawing comes between.
func TestTablesOfThePapersAreNotInterrupted(t *testing.T) {
	w := demoWork(t)
	papers := map[string]*paper.Paper{"job set": w.JobSet(frame(t, "a4")), "handover": w.Handover(frame(t, "a4"))}
	for _, d := range w.Job.Doors {
		papers[d.ID] = doorSheet(t, w, d.ID)
	}
	titles := map[string]string{ // of the table, by what stands over a column of it
		"do → must follow": "Function tests", "taken as": "Taken for granted", "spare cores": "Cable schedule",
		"not landed": "Landed", "cores ring out": "First fix", "must follow, calculated": "Power-up",
	}
	seen := map[string]bool{}
	for name, p := range papers {
		for n, page := range p.Pages {
			var above draw.Text // the heading last met, on this page
			for _, i := range page.Items {
				x, is := i.(draw.Text)
				if !is {
					continue
				}
				for over, title := range titles {
					const close, top draw.MM = 9, 25 // of headings to what they head, and of what goes on to the edge of the page
					switch {
					case strings.HasPrefix(x.Text, title) && x.Bold:
						above = x
					case x.Text == over && x.Bold:
						seen[over] = true
						if begins := strings.HasPrefix(above.Text, title) && x.At.Y-above.At.Y < close; !begins && x.At.Y > top {
							t.Errorf("%s, page %d: the table under %q goes on at %.0f mm", name, n+1, title, float64(x.At.Y))
						}
					}
				}
			}
		}
	}
	if len(seen) != len(titles) {
		t.Errorf("of the tables only %v are there", seen)
	}
}
