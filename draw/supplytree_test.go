package draw

import (
	"fmt"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// idle is the undisturbed instant of a supply.
func idle(p *wiring.Plan, s *job.Supply) Instant {
	island := situation.New(p).Island(s.ID)
	return Instant{Island: island, Bench: island.Bench(situation.Nominal()), Say: "nothing happens; limit case: nominal"}
}

func TestSupplyTreesOfTheDemo(t *testing.T) {
	p := planOf(t, demo.Brackwater)
	for _, s := range p.Job.Supplies {
		for _, sheet := range SupplyTree(p, s, idle(p, s), 0) {
			checkTexts(t, sheet)
			golden(t, "supply-"+s.ID, sheet)
		}
	}
}

// thirtyTwo is a job of 32 doors on one supply, with names from several languages.
func thirtyTwo() []byte {
	var b strings.Builder
	b.WriteString("job: BIG\ntitle: Élévation à l’œuvre\nrules: [general]\nplaces: {riser: {title: Riser}}\n" +
		"supplies: {PS1: {model: supply-24-10, place: riser, zero-volt: earthed}}\ncontrollers:\n")
	for i := range 32 {
		fmt.Fprintf(&b, "  C%d: {model: controller-1-24, place: riser, feed: PS1}\n", i+1)
	}
	b.WriteString("doors:\n")
	titles := []string{"دخول المبنى الرئيسي", "כניסה ראשית", "Accès côté générateurs, derrière la grande grille de l’écluse", "Hall"}
	for i := range 32 {
		fmt.Fprintf(&b, "  D%d:\n    title: %q\n    controller: C%d\n    entry: reader-pulse-wide\n"+
			"    locks: [{model: strike-24-secure, handle: frees}]\n    contacts: [contact-surface]\n", i+1, titles[i%4], i+1)
	}
	return []byte(b.String())
}

func TestSupplyWithThirtyTwoDoors(t *testing.T) {
	p := planOf(t, thirtyTwo())
	s := p.Job.Supplies[0]
	const high = 280
	sheets := SupplyTree(p, s, idle(p, s), high)
	text := ""
	for _, sheet := range sheets {
		checkTexts(t, sheet)
		if sheet.Height > high {
			t.Errorf("a sheet is %v mm high, more than %v", sheet.Height, high)
		}
		text += dump(sheet)
	}
	for i := range 32 {
		if !strings.Contains(text, fmt.Sprintf(" D%d.entry ", i+1)) {
			t.Errorf("door D%d is on no sheet", i+1)
		}
	}
	if len(sheets) < 2 {
		t.Errorf("%d sheets", len(sheets))
	}
}

func TestWiringWithNamesOfAllSortsAndLengths(t *testing.T) {
	text := strings.ReplaceAll(string(thirtyTwo()), "entry: reader-pulse-wide",
		"entry: {model: reader-pulse-wide, title: \"Lecteur de badges extérieur, étanche, côté quai nord, à gauche de la grande porte Überwachungszentralenhaupteingangsleser\"}")
	p := planOf(t, []byte(text))
	for _, d := range p.Job.Doors[:4] {
		checkWiring(t, p, d)
		checkTexts(t, Elevation(p, d))
	}
}

// A job wants a lock at every door; a door of which the plan knows no device must still come out.
func TestDoorWithoutDevices(t *testing.T) {
	p := planOf(t, thirtyTwo())
	d := *p.Job.Doors[0]
	bare := job.Door{ID: "bare", Title: "Bare", Controller: d.Controller, Leaves: 1}
	checkTexts(t, Wiring(p, &bare))
	checkTexts(t, Elevation(p, &bare))
}
