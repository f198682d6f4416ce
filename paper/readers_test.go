package paper_test

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"doorwright/paper"
	"doorwright/wiring"
)

// What Debian's poppler 22.12 (pdftotext, pdffonts, pdfinfo), qpdf 11.3 and zbar 0.23 find in our PDFs: readers that
// share
// nothing with the writer.

// laidOut are the papers of the demo by size of sheet, laid out once.
var laidOut = map[string]map[string]*paper.Paper{}

// papersOf are all papers of the demo.
func papersOf(t *testing.T, size string) map[string]*paper.Paper {
	t.Helper()
	if all := laidOut[size]; all != nil {
		return all
	}
	w := demoWork(t)
	f := frame(t, size)
	sheet, err := w.DoorSheet(f, doorNamed(t, w.Job, "visitor"))
	if err != nil {
		t.Fatal(err)
	}
	labels, err := w.Labels(paper.Stock{
		Page: f.Size, Columns: 3, Rows: 8, Wide: 64, High: 33, Across: 66,
		Down: 33,
	}.Centred(), nil)
	if err != nil {
		t.Fatal(err)
	}
	laidOut[size] = map[string]*paper.Paper{
		"door sheet": sheet, "job set": w.JobSet(f), "handover": w.Handover(f),
		"labels": labels,
	}
	return laidOut[size]
}

func TestPapersAreSoundForOtherReaders(t *testing.T) {
	for _, size := range paper.Sizes()[:brief(2, 1)] {
		for name, p := range papersOf(t, size.Name) {
			path, data := pdf(t, p)
			tool(t, "qpdf", "--check", path)
			if each := len(data) / len(p.Pages); each > 60_000 {
				t.Errorf("%s: %d bytes a page; whole fonts have 740,000", name, each)
			}
			fonts := strings.Split(strings.TrimSpace(tool(t, "pdffonts", path)), "\n")[2:]
			if len(fonts) != 2 {
				t.Errorf("%s: %d fonts: %v", name, len(fonts), fonts)
			}
			for _, f := range fonts {
				// name, type, encoding, then whether it is embedded, named as a subset, and mapped to Unicode
				if !regexp.MustCompile(`Identity-H +yes +(yes|no) +yes +\d+ +\d+\s*$`).MatchString(f) || !strings.Contains(strings.ToLower(f), "dejavusans") {
					t.Errorf("%s: a font is not embedded, or its text cannot be copied: %s", name, f)
				}
			}
			info := tool(t, "pdfinfo", "-l", "-1", path)
			boxes := regexp.MustCompile(`Page +\d+ size: +([\d.]+) x ([\d.]+) pts`).FindAllStringSubmatch(info, -1)
			if len(boxes) != len(p.Pages) || len(boxes) == 0 {
				t.Errorf("%s: %d pages, %d were laid out", name, len(boxes), len(p.Pages))
			}
			for _, b := range boxes {
				if !near(b[1], float64(size.Width)) || !near(b[2], float64(size.Height)) {
					t.Errorf("%s on %s: a page of %s by %s points", name, size.Name, b[1], b[2])
				}
			}
		}
	}
}

// near says that a length in points is one in millimetres, to a tenth of a millimetre.
func near(points string, mm float64) bool {
	var v float64
	if _, err := fmt.Sscan(points, &v); err != nil {
		return false
	}
	return v*25.4/72-mm < 0.1 && mm-v*25.4/72 < 0.1
}

func TestEveryLandingIsInTheTextOfTheDoorSheet(t *testing.T) {
	w := demoWork(t)
	n := 0
	for _, d := range w.Job.Doors {
		path, _ := pdf(t, doorSheet(t, w, d.ID))
		text := strings.Join(strings.Fields(tool(t, "pdftotext", "-raw", path, "-")), " ")
		text = strings.ReplaceAll(text, " ", "")
		near := func(id string) string { return strings.TrimPrefix(id, d.ID+".") }
		for _, l := range w.Plan.LandingsFor(d) {
			all := []string{near(l.Device.ID) + l.Terminal.Label}
			switch c := l.Conductor; c.Kind {
			case wiring.Core:
				all = append(all, near(c.Run.ID)+"/"+fmt.Sprint(c.Core.Index)+c.Core.Colour)
			case wiring.Screen:
				all = append(all, near(c.Run.ID)+"screen")
			}
			for _, want := range all {
				n++
				if !strings.Contains(text, strings.ReplaceAll(want, " ", "")) {
					t.Errorf("the sheet of %s does not tell of %q", d.ID, want)
				}
			}
		}
	}
	if n < 800 {
		t.Errorf("only %d texts were looked for", n)
	}
}

func TestTheCodeHoldsJobDoorAndRevision(t *testing.T) {
	w := demoWork(t)
	if len(w.Job.Doors) == 0 {
		t.Fatal("no doors")
	}
	for _, d := range w.Job.Doors[:brief(len(w.Job.Doors), 1)] {
		door := d.ID
		path, _ := pdf(t, doorSheet(t, w, door))
		picture := strings.TrimSuffix(path, ".pdf")
		tool(t, "pdftoppm", "-r", "150", "-gray", "-png", "-singlefile", "-f", "1", "-l", "1", path, picture)
		got := strings.TrimSpace(tool(t, "zbarimg", "--quiet", "--raw", picture+".png"))
		if want := "doorwright?job=BTO&door=" + door + "&rev=A"; got != want {
			t.Errorf("the code says %q, want %q", got, want)
		}
	}
}

func TestTheSameValuesGiveTheSameBytes(t *testing.T) {
	for name, p := range papersOf(t, "a4") {
		_, one := pdf(t, p)
		if name == "handover" {
			_, one = pdf(t, demoWork(t).Handover(frame(t, "a4")))
		}
		_, two := pdf(t, p)
		if !bytes.Equal(one, two) {
			t.Errorf("%s: the bytes differ", name)
		}
		if !bytes.Contains(one, []byte("D:20261020")) && name != "labels" {
			t.Errorf("%s: the date of issue is not the date of the document", name)
		}
	}
}
