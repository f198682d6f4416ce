package main

import (
	"fmt"
	"strings"

	"doorwright/signal"
)

// traffic is a capture taken apart, and what it means.
type traffic struct {
	Bytes    int              `json:"bytes"`
	Findings []signal.Finding `json:"findings"`
	Units    []signal.Unit    `json:"units"`
	Frames   []frame          `json:"frames"`
	Noise    []noise          `json:"noise"`

	all bool // list routine frames too
}

// frame is one frame, or what is left of one.
type frame struct {
	Line      int             `json:"line"`
	Column    int             `json:"column"`
	Time      *number         `json:"time,omitempty"` // seconds, as in the capture
	Mark      string          `json:"mark,omitempty"` // direction, as marked in the capture
	State     string          `json:"state"`
	Direction string          `json:"direction"`
	Address   int             `json:"address"`
	Sequence  int             `json:"sequence"`
	Check     string          `json:"check"` // crc or checksum
	Found     string          `json:"check_found,omitempty"`
	Want      string          `json:"check_wanted,omitempty"`
	Security  string          `json:"security,omitempty"`
	Code      string          `json:"code"`
	Name      string          `json:"name"`
	What      string          `json:"what"`
	Details   []signal.Detail `json:"details,omitempty"`
	Raw       string          `json:"raw"`
}

// noise is bytes that belong to no frame.
type noise struct {
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Raw    string `json:"raw"`
	after  int    // how many frames came before
}

const (
	toUnit   = "to the unit"
	fromUnit = "from the unit"
)

func trafficOf(b *signal.Bytes, formats []*signal.Format) traffic {
	t := b.Split()
	s := traffic{Bytes: t.Bytes, Findings: b.Explain(t), Units: t.Units(), Frames: []frame{}, Noise: []noise{}}
	for i := range t.Frames {
		s.Frames = append(s.Frames, frameOf(&t.Frames[i], formats))
	}
	for _, n := range t.Noise {
		s.Noise = append(s.Noise, noise{n.Line, n.Column, fmt.Sprintf("% X", n.Raw), n.After})
	}
	return s
}

func frameOf(f *signal.Frame, formats []*signal.Format) frame {
	out := frame{
		Line: f.Line, Column: f.Column, Mark: f.Mark, State: string(f.State), Direction: toUnit, Address: f.Address,
		Sequence: f.Sequence, Check: "checksum", Security: strings.ReplaceAll(fmt.Sprintf("% X", f.Security), " ", ""),
		Code: fmt.Sprintf("%02X", f.Code), Name: f.Name(), What: f.What(), Raw: fmt.Sprintf("% X", f.Raw),
	}
	if f.Reply {
		out.Direction = fromUnit
	}
	if f.Timed {
		at := number(f.At)
		out.Time = &at
	}
	digits := "%02X"
	if f.CRC {
		out.Check, digits = "crc", "%04X"
	}
	if f.State != signal.Cut {
		out.Found, out.Want = fmt.Sprintf(digits, f.Found), fmt.Sprintf(digits, f.Want)
		out.Details = f.Details(formats)
	}
	return out
}

func (s traffic) text(p *page) {
	for i, f := range s.Findings {
		if i > 0 {
			p.gap()
		}
		if i > 0 && !f.Fault {
			p.label(0, "NOTE", bold, strings.Join(append([]string{f.What, f.Wire}, f.Check...), " "))
			continue
		}
		look := bold
		if f.Fault {
			look = red
		}
		p.say(0, look, strings.ToUpper(f.What))
		p.hang(2, "On the wire:", bold, f.Wire, 15)
		sayChecks(p, f.Check)
	}
	s.units(p)
	s.frames(p)
}

// units counts what each address did.
func (s traffic) units(p *page) {
	if len(s.Units) == 0 {
		return
	}
	p.gap()
	p.say(0, bold, "Units")
	t := table{head: []string{">address", ">commands", ">answered", ">damaged", ">garbage", ">repeats", ">restarts"}}
	for _, u := range s.Units {
		name := fmt.Sprint(u.Address)
		if u.Address == signal.AnyUnit {
			name = "any"
		}
		t.add(name, fmt.Sprint(u.Commands), fmt.Sprint(u.Answered), fmt.Sprint(u.Damaged), fmt.Sprint(u.Garbage),
			fmt.Sprint(u.Repeats), fmt.Sprint(u.Restarts))
	}
	p.table(2, t)
}

// routine says that a frame tells nothing new: a poll, or its empty answer.
func (f frame) routine() bool {
	return f.State == string(signal.Right) && (f.Name == "POLL" || f.Name == "ACK") && len(f.Details) == 0
}

// frames lists the frames with the noise between them, each where it stands in the capture.
func (s traffic) frames(p *page) {
	if len(s.Frames)+len(s.Noise) == 0 {
		return
	}
	p.gap()
	p.say(0, bold, "Frames, by line of the capture; > to the unit, < from it")
	t := table{head: []string{">line", "", ">addr", ">seq", "what", "fields"}}
	hidden, n := 0, 0
	for i, f := range s.Frames {
		for ; n < len(s.Noise) && s.Noise[n].after <= i; n++ {
			t.add(s.Noise[n].row()...)
		}
		if !s.all && f.routine() {
			hidden++
			continue
		}
		t.add(f.row()...)
	}
	for ; n < len(s.Noise); n++ {
		t.add(s.Noise[n].row()...)
	}
	p.table(2, t)
	if hidden > 0 {
		p.say(2, dim, fmt.Sprintf("%s, polls and empty answers, not listed; --all lists them.", counted(hidden,
			"more frame")))
	}
}

// row is one frame in the table for people.
func (f frame) row() []string {
	arrow := ">"
	if f.Direction == fromUnit {
		arrow = "<"
	}
	var fields []string
	switch f.State {
	case string(signal.Damaged):
		fields = append(fields, fmt.Sprintf("CHECK WRONG: %s, should be %s", f.Found, f.Want))
	case string(signal.Cut):
		fields = append(fields, "CUT SHORT: "+f.Raw)
	}
	for _, d := range f.Details {
		text := d.Name + " " + d.Value
		if d.Wrong {
			text = "WRONG " + text
		}
		fields = append(fields, text)
	}
	if len(fields) == 0 {
		fields = append(fields, f.What)
	}
	return []string{
		fmt.Sprint(f.Line), arrow, fmt.Sprint(f.Address), fmt.Sprint(f.Sequence), f.Name,
		strings.Join(fields, "; "),
	}
}

// mostNoise is how much of a stretch of noise is repeated in text.
const mostNoise = 48

func (n noise) row() []string {
	raw := n.Raw
	if len(raw) > mostNoise {
		raw = raw[:mostNoise] + "…"
	}
	return []string{fmt.Sprint(n.Line), "", "", "", "noise", raw}
}

func (s traffic) table() table {
	t := table{head: []string{
		"line", "time", "mark", "state", "direction", "address", "sequence", "check", "security", "code", "name", "fields", "raw",
	}}
	for _, f := range s.Frames {
		var fields []string
		for _, d := range f.Details {
			fields = append(fields, d.Name+" "+d.Value)
		}
		at := ""
		if f.Time != nil {
			at = f.Time.String()
		}
		t.add(fmt.Sprint(f.Line), at, f.Mark, f.State, f.Direction, fmt.Sprint(f.Address), fmt.Sprint(f.Sequence),
			f.Check, f.Security,
			f.Code, f.Name, strings.Join(fields, "; "), f.Raw)
	}
	return t
}
