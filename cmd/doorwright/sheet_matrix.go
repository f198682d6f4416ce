package main

import (
	"fmt"
	"math"
	"strings"

	"doorwright/proof"
	"doorwright/situation"
)

// matrix is the cause-and-effect matrix.
type matrix struct {
	Job   string       `json:"job"`
	Doors []matrixDoor `json:"doors"`
}

// matrixDoor is one door of it.
type matrixDoor struct {
	Name    string   `json:"name"`
	Title   string   `json:"title"`
	Effects []effect `json:"effects"`
}

// effect is one row, as programs get it: figures that are no finite numbers are null.
type effect struct {
	proof.Row
	Volts span `json:"volts"`
	Amps  span `json:"amps"`
}

// span is a range over the limit cases.
type span struct {
	Low  number `json:"low"`
	High number `json:"high"`
}

func effectsOf(rows []proof.Row) []effect {
	all := []effect{}
	for _, r := range rows {
		e := effect{r, span{number(r.Volts.Low), number(r.Volts.High)}, span{number(r.Amps.Low), number(r.Amps.High)}}
		if r.Says == proof.Restless {
			none := number(math.NaN())
			e.Volts, e.Amps = span{none, none}, span{none, none}
		}
		all = append(all, e)
	}
	return all
}

func matrixSheet(v *view) (sheet, error) { return matrixOf(v), nil }

func matrixOf(v *view) matrix {
	m := matrix{Job: v.job.ID, Doors: []matrixDoor{}}
	for _, d := range v.examined().Doors {
		if v.wants(d.Door.ID) {
			m.Doors = append(m.Doors, matrixDoor{d.Door.ID, d.Door.Title, effectsOf(d.Matrix)})
		}
	}
	return m
}

// combination is one block of the matrix: causes alone, or combined with something that stands.
type combination struct{ with, title string }

func combinations() []combination {
	return []combination{
		{"", "Alone"},
		{"fire", "While a fire signal is there"},
		{"release", "While the manual release of the door stands operated"},
	}
}

func (m matrix) text(p *page) {
	p.title("CAUSE AND EFFECT " + m.Job)
	m.legend(p)
	if len(m.Doors) == 1 {
		m.one(p, m.Doors[0])
		return
	}
	for _, c := range combinations() {
		m.block(p, c)
	}
}

func (m matrix) legend(p *page) {
	p.say(0, plain, `What each door does in the course of each cause, calculated: "released/held" is released, then held again. `+
		`A "!" says that the controller raises an alarm, "differs" that limit cases come to different ends, "restless" `+
		`that something keeps restarting (see the findings), "-" that the cause cannot happen there.`)
}

// columnsOfDoor is how wide a door is that stands beside others, with its share of the causes in front of them: four in 80.
const columnsOfDoor = 20

// block writes one combination, a few doors at a time.
func (m matrix) block(p *page, c combination) {
	across := p.width / columnsOfDoor
	for from := 0; from < len(m.Doors); from += across {
		doors := m.Doors[from:min(from+across, len(m.Doors))]
		t := table{head: []string{"cause"}}
		for _, d := range doors {
			t.head = append(t.head, d.Name)
		}
		for _, cause := range situation.Causes() {
			cells, any := []string{titleOver(cause, doors)}, false
			for _, d := range doors {
				cell := d.cell(cause.ID, c.with)
				any = any || cell != "-"
				cells = append(cells, cell)
			}
			if any {
				t.add(cells...)
			}
		}
		if len(t.rows) > 0 {
			p.gap()
			p.say(0, bold, c.title)
			p.table(2, t)
		}
	}
}

// titleOver is the title of a cause at some doors: where it is another one at some of them, the usual one.
func titleOver(cause situation.Cause, doors []matrixDoor) string {
	title := ""
	for _, d := range doors {
		for _, r := range d.Effects {
			switch {
			case r.Cause != cause.ID:
			case title == "" || title == r.Title:
				title = r.Title
			default:
				return cause.Title
			}
		}
	}
	return title
}

func (d matrixDoor) cell(cause, with string) string {
	for _, r := range d.Effects {
		if r.Cause == cause && r.With == with {
			return says(r.Row)
		}
	}
	return "-"
}

func says(r proof.Row) string {
	short := strings.ReplaceAll(r.Says, ", then ", "/")
	if r.Alarm != "" {
		return short + " !"
	}
	return short
}

// one writes a single door with its figures.
func (m matrix) one(p *page, d matrixDoor) {
	p.gap()
	p.title("DOOR " + d.Name + ": " + d.Title)
	for _, c := range combinations() {
		t := table{head: []string{"cause", "effect", ">lock V", ">lock mA", "alarm"}}
		for _, r := range d.Effects {
			if r.With == c.with {
				t.add(r.Title, r.Says, r.Volts.text(1, 2), r.Amps.text(1000, 0), r.Alarm)
			}
		}
		if len(t.rows) > 0 {
			p.gap()
			p.say(0, bold, c.title)
			p.table(2, t)
		}
	}
}

// text writes the range in a scaled unit, one figure when both ends read the same.
func (s span) text(scale float64, decimals int) string {
	if !s.Low.finite() {
		return "-"
	}
	a, b := fixed(float64(s.Low)*scale, decimals), fixed(float64(s.High)*scale, decimals)
	if a == b {
		return a
	}
	return a + " to " + b
}

// fixed writes a figure with so many decimals; a zero has no sign.
func fixed(v float64, decimals int) string {
	text := fmt.Sprintf("%.*f", decimals, v)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

func (m matrix) table() table {
	t := table{head: []string{
		"door", "cause", "title", "with", "step", "effect", "volts_low", "volts_high", "amperes_low",
		"amperes_high", "alarm",
	}}
	for _, d := range m.Doors {
		for _, r := range d.Effects {
			t.add(d.Name, r.Cause, r.Title, r.With, r.Step, r.Says, r.Volts.Low.String(), r.Volts.High.String(),
				r.Amps.Low.String(), r.Amps.High.String(), r.Alarm)
		}
	}
	return t
}
