package main

import (
	"fmt"

	"doorwright/find"
	"doorwright/meter"
	"doorwright/situation"
	"doorwright/unit"
)

// meterCmd lists what a meter should show at a door.
type meterCmd struct {
	File      string   `arg:"" help:"Job document, - for standard input, or demo:brackwater."`
	Door      string   `placeholder:"ID" help:"The door."`
	Condition string   `placeholder:"TEXT" help:"List every pair in this condition, such as idle, fire or \"off, C1/P3 pulled\", or at \"first fix\"; else the few readings that show every fault."`
	Loop      []string `sep:"none" placeholder:"TEXT" help:"A measured loop of a run: \"W7; 1.2 ohm\"; it stands in place of the length."`
}

// Help is what the command's help says beyond its flags.
func (meterCmd) Help() string {
	return `Conditions: idle, button, card, release, door-open, fire, battery, off, "off, release", "off, C1/P3 pulled", ` +
		`"off, visitor.lock1 alone".

Examples:

    doorwright meter demo:brackwater --door plant
    doorwright meter job.yaml --door D1 --condition "off, C1/P3 pulled"
    doorwright meter job.yaml --door D1 --condition "first fix"
`
}

// Run lists.
func (c *meterCmd) Run(e *env) error {
	l, err := e.load(c.File)
	if err != nil {
		return err
	}
	d, err := oneDoor(l.job, c.Door)
	if err != nil {
		return err
	}
	finder, err := find.New(situation.New(l.plan), d.ID, meter.Default())
	if err != nil {
		return err
	}
	loops, err := c.loops(e, finder)
	if err != nil {
		return err
	}
	if c.Condition == firstFix {
		return e.show(firstFixSheet(d.ID, meter.FirstFixOf(l.plan, d.ID, meter.Default(), loops)))
	}
	if c.Condition == "" {
		return e.show(proposedSheet(finder))
	}
	in, err := meter.ParseCondition(c.Condition)
	if err != nil {
		return err
	}
	book := finder.Book()
	stop := book.Stop(in)
	if stop < 0 {
		var known []string
		for _, s := range book.Stops {
			known = append(known, s.In.String())
		}
		return unknown(c.Condition, "condition at this door", known)
	}
	return e.show(conditionSheet(book, stop))
}

// loops enters the measured loops, unless something is wrong: all of that is told at once.
func (c *meterCmd) loops(e *env, f *find.Finder) ([]meter.Loop, error) {
	var loops []meter.Loop
	n := &noted{}
	for _, text := range c.Loop {
		l, err := meter.ParseLoop(text)
		n.add(ofFlag("loop", text).loop(l), err)
		loops = append(loops, l)
	}
	if wrong := n.enter(f); len(wrong) > 0 {
		return nil, e.refuse(problems{Document: wrong})
	}
	return loops, nil
}

// firstFix is the word for the stage before anything is connected.
const firstFix = "first fix"

func firstFixSheet(door string, list []meter.FirstFix) expected {
	s := expected{Door: door, Readings: []expectedLine{}, Cautions: meter.Cautions(), first: true}
	for _, f := range list {
		s.Readings = append(s.Readings, expectedLine{
			At: f.Run, Label: f.Where, Condition: f.What, Say: f.Run, Quantity: f.Quantity, Nominal: number(f.Nominal), Low: number(f.Low),
			High: number(f.High), Open: f.Open, Why: f.Why,
		})
	}
	return s
}

// expected is what a meter should show at one door.
type expected struct {
	Door     string         `json:"door"`
	Proposed bool           `json:"proposed"` // the few readings that show every fault that can be shown
	Shown    int            `json:"faults_shown,omitempty"`
	Unseen   int            `json:"faults_no_reading_shows,omitempty"`
	Readings []expectedLine `json:"readings"`
	Cautions []string       `json:"cautions"`
	Amiss    []string       `json:"plan_errors,omitempty"` // what is wrong with the door as planned, by calculation
	Granted  []string       `json:"taken_for_granted,omitempty"`
	first    bool           // at first fix: run by run
}

type expectedLine struct {
	At        string `json:"at"`
	To        string `json:"to"`
	Label     string `json:"label"`
	Condition string `json:"condition"`
	Say       string `json:"say"`
	Quantity  string `json:"quantity"`
	Nominal   number `json:"nominal"` // null over range
	Low       number `json:"low"`
	High      number `json:"high"`
	Open      bool   `json:"over_range"`
	Shows     int    `json:"shows,omitempty"`
	Why       string `json:"why,omitempty"`
}

func lineOf(b *meter.Book, p meter.Pair, band meter.Band) expectedLine {
	return expectedLine{
		At: p.At, To: p.To, Label: b.Label(p.At) + " against " + b.Label(p.To), Condition: p.In.String(), Say: p.In.Say(),
		Quantity: string(p.Quantity), Nominal: number(band.Nominal), Low: number(band.Low), High: number(band.High), Open: band.Open,
	}
}

func proposedSheet(f *find.Finder) expected {
	list, shown, unseen := f.List()
	s := expected{
		Door: f.Book().Door.ID, Proposed: true, Shown: shown, Unseen: unseen, Readings: []expectedLine{}, Cautions: meter.Cautions(),
		Amiss: amiss(f.Book()), Granted: meter.Granted(f.Book().Plan(), f.Book().Door),
	}
	for _, l := range list {
		x := lineOf(f.Book(), l.Pair, l.Band)
		x.Shows, x.Why = l.Shows, l.Why
		s.Readings = append(s.Readings, x)
	}
	return s
}

func conditionSheet(b *meter.Book, stop int) expected {
	s := expected{
		Door: b.Door.ID, Readings: []expectedLine{}, Cautions: meter.Cautions(), Amiss: amiss(b), Granted: meter.Granted(b.Plan(), b.Door),
	}
	for k := b.Stops[stop].From; k < b.Stops[stop].To; k++ {
		s.Readings = append(s.Readings, lineOf(b, b.Pairs[k], b.Band(k)))
	}
	return s
}

func (s expected) text(p *page) {
	p.title("METER " + s.Door)
	sayAmiss(p, s.Amiss)
	if s.Proposed {
		p.say(0, plain, fmt.Sprintf("%s that together show every fault that can be shown: %d of %d; the others change nothing a meter "+
			"reads. Dead before live, place by place.", counted(len(s.Readings), "reading"), s.Shown, s.Shown+s.Unseen))
	}
	for _, g := range s.Granted {
		p.label(0, "GRANTED", yellow, g)
	}
	for _, c := range s.Cautions {
		p.label(0, "CAUTION", yellow, c)
	}
	if s.first {
		s.runs(p)
		return
	}
	condition := ""
	var t table
	flush := func() {
		p.table(2, t)
		t = table{head: []string{"where", ">should be", ">from", ">to", "why"}}
		if !s.Proposed {
			t.head = t.head[:4]
		}
	}
	for _, r := range s.Readings {
		if r.Condition != condition {
			flush()
			p.gap()
			p.say(0, bold, r.Condition+": "+r.Say)
			condition = r.Condition
		}
		t.add(r.Label, r.shown(r.Nominal), r.shown(r.Low), r.upper(), r.Why)
	}
	flush()
}

// runs writes what is measured on each run.
func (s expected) runs(p *page) {
	run := ""
	for _, r := range s.Readings {
		if r.At != run {
			run = r.At
			p.gap()
			p.say(0, bold, run)
		}
		limits := meter.Show(meter.Ohms, float64(r.Low)) + " to " + meter.Show(meter.Ohms, float64(r.High))
		switch {
		case r.Open:
			limits = "at least " + unit.Ohm(r.Low).String()
		case r.Low <= 0:
			limits = "at most " + meter.Show(meter.Ohms, float64(r.High))
		}
		p.hang(2, r.Condition, plain, fmt.Sprintf("%s: %s. %s", r.Label, limits, sentence(r.Why)), 14)
	}
}

func (r expectedLine) shown(v number) string {
	return meter.Show(meter.Quantity(r.Quantity), float64(v))
}

func (r expectedLine) upper() string {
	if r.Open {
		return "over range"
	}
	return r.shown(r.High)
}

func (s expected) table() table {
	t := table{head: []string{
		"door", "at", "to", "label", "condition", "quantity", "nominal", "low", "high", "over_range", "shows", "why",
	}}
	for _, r := range s.Readings {
		t.add(s.Door, r.At, r.To, r.Label, r.Condition, r.Quantity, r.Nominal.String(), r.Low.String(), r.High.String(),
			fmt.Sprint(r.Open), fmt.Sprint(r.Shows), r.Why)
	}
	return t
}
