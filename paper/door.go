package paper

import (
	"strings"

	"doorwright/draw"
	"doorwright/job"
	"doorwright/record"
	"doorwright/rules"
)

// DoorSheet is what a technician carries to one door: what it looks like, what lands where and why, what is set, what a
// meter should show, in which order it gets power and what is tested. It errs when a code cannot be made.
func (w *Work) DoorSheet(f Frame, d *job.Door) (*Paper, error) {
	f.Kind, f.Part, f.Number = "Door sheet", d.ID, w.Job.ID+" / "+d.ID
	f.Title, f.Revision = w.Job.Title, w.Job.Revision
	page := newFlow(f)
	if err := w.doorHead(page, d); err != nil {
		return nil, err
	}
	page.cautions(cautionsOf(d))
	w.findingsAt(page, d)
	page.head("Settings")
	w.settingTable(page, d)
	reasons, readings := &reasonList{}, w.readingsOf(d)
	page.among(draw.WiringParts(w.Plan, d, false, page.fits), func(f *flow) {
		f.head("Landings: tick each end when landed and tugged; ids without " + d.ID + ".")
		w.coreTable(f, d, reasons)
	}, func(f *flow) {
		w.addedList(f, d, reasons)
		reasons.list(f)
	}, func(f *flow) {
		f.room(28) // with the first of its small headings and the lines below it
		f.head("Readings")
		w.runTable(f, d, false)
	}, func(f *flow) {
		w.deadTable(f, d, readings, false)
	}, func(f *flow) {
		w.liveTable(f, d, readings, false)
	})
	page.head("Power-up")
	w.powerUp(page, d)
	page.head("Function tests that what is fitted calls for")
	w.testTable(page, d, false)
	page.note("Test as well where the door has it: " + byHand())
	return page.paper(), nil
}

// byHand names the steps that somebody must see whether the door has what they are about.
func byHand() string {
	var all []string
	for _, s := range record.StepsByHand() {
		name := s.ID + " " + s.Before
		if s.Life {
			name = s.ID + " " + markLife + " " + s.Before
		}
		all = append(all, name)
	}
	return strings.Join(all, "; ") + "."
}

// The head of a door sheet: the edge of its code, and the width of the column of facts beside the elevation.
const (
	codeSize  draw.MM = 24
	factsWide draw.MM = 54
)

// doorHead writes the name of the door, and below it side by side its code with what it is, and its elevation.
func (w *Work) doorHead(f *flow, d *job.Door) error {
	f.name(d.Title, 0)
	top := f.at
	code, err := codeAt(CodeText(w.Job.ID, d.ID, w.Job.Revision), draw.Point{X: f.area.Left + codeSize, Y: top}, codeSize)
	if err != nil {
		return err
	}
	f.put(code...)
	f.at += codeSize + 1.5
	for _, l := range w.doorFacts(d) {
		f.fact(l[0], l[1], factsWide)
	}
	const larger = 1.25 // the type of drawings becomes that of the page
	e := draw.ElevationPart(w.Plan, d, (f.width()-factsWide-4)/larger)
	f.put(placed(e, draw.Point{X: f.area.Left + factsWide + 3, Y: top}, larger)...)
	o := draw.OpeningPlan(w.Plan, d, (factsWide-2)/larger)
	f.put(placed(o, draw.Point{X: f.area.Left, Y: f.at + 2}, larger)...)
	f.at += 2 + o.Height*larger
	f.at = max(f.at, top+e.Height*larger) + 1
	return nil
}

// doorFacts are what the door is, each with its name.
func (w *Work) doorFacts(d *job.Door) [][2]string {
	var supplies, families []string
	for _, s := range record.SuppliesOf(d) {
		supplies = append(supplies, s.ID)
	}
	for _, x := range d.Families {
		families = append(families, x.Title)
	}
	facts := [][2]string{
		{"Door", d.ID},
		{"Secured side", d.Secured},
		{"Opening", openingWords(d)},
		{"Escape", escapeWords(d)},
		{"Fire door", fireWords(d)},
		{"Locks", draw.InLine(modelsOf(locksOf(d)) + ", " + actionOf(d))},
		{"Ways out", waysOut(d)},
		{"Controller", controllerOf(d) + " at " + d.Controller.Place.ID},
		{"Supplies", strings.Join(supplies, ", ")},
		{"Rules", strings.Join(families, "; ")},
	}
	var all [][2]string
	for _, x := range facts {
		if x[1] != "" {
			all = append(all, x)
		}
	}
	return all
}

// findingsAt lists what fails at the door by calculation.
func (w *Work) findingsAt(f *flow, d *job.Door) {
	first := true
	for _, x := range w.Examination.Findings {
		if x.Door != d.ID {
			continue
		}
		if first {
			f.head("Findings by calculation")
			if w.Examination.Faults == nil {
				f.say(sentence(notTried) + " " + tryThem)
			}
			first = false
		}
		word := "ERROR"
		if x.Severity == rules.Advice {
			word = "ADVICE"
		}
		f.item(word, sentence(x.What)+w.acceptedWords(x))
	}
}

// DoorSheets are the sheets of all doors in one paper; each counts its own pages.
func (w *Work) DoorSheets(f Frame) (*Paper, error) {
	w.readAll()
	all := &Paper{Title: w.Job.ID + " " + w.Job.Title + ": door sheets", Issued: f.Issued}
	for _, d := range w.Job.Doors {
		p, err := w.DoorSheet(f, d)
		if err != nil {
			return nil, err
		}
		all.Pages = append(all.Pages, p.Pages...)
	}
	return all, nil
}
