package main

import (
	"fmt"
	"strings"

	"doorwright/proof"
	"doorwright/situation"
	"doorwright/unit"
)

// matrix is the cause-and-effect matrix.
type matrix struct {
	Job   string       `json:"job"`
	Doors []matrixDoor `json:"doors"`
}

// matrixDoor is one door of it.
type matrixDoor struct {
	Name    string      `json:"name"`
	Title   string      `json:"title"`
	Effects []proof.Row `json:"effects"`
}

func matrixSheet(v *view) (sheet, error) { return matrixOf(v), nil }

func matrixOf(v *view) matrix {
	m := matrix{Job: v.job.ID, Doors: []matrixDoor{}}
	for _, d := range v.examined().Doors {
		if v.wants(d.Door.ID) {
			m.Doors = append(m.Doors, matrixDoor{d.Door.ID, d.Door.Title, d.Matrix})
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
	p.title("CAUSE AND EFFECT  " + m.Job)
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
	p.say(0, plain, `What each door does in the course of each cause, calculated: "released/held" is released, then held again. A "!" says that the controller raises an `+
		`alarm, "differs" that limit cases come to different ends, "-" that the cause cannot happen there.`)
}

// doorsAcross is how many doors stand side by side in 80 columns.
const doorsAcross = 4

// block writes one combination, a few doors at a time.
func (m matrix) block(p *page, c combination) {
	for from := 0; from < len(m.Doors); from += doorsAcross {
		doors := m.Doors[from:min(from+doorsAcross, len(m.Doors))]
		t := table{head: []string{"cause"}}
		for _, d := range doors {
			t.head = append(t.head, d.Name)
		}
		for _, cause := range situation.Causes() {
			cells, any := []string{cause.Title}, false
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

func (d matrixDoor) cell(cause, with string) string {
	for _, r := range d.Effects {
		if r.Cause == cause && r.With == with {
			return says(r)
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
	p.title("DOOR " + d.Name + "  " + d.Title)
	for _, c := range combinations() {
		t := table{head: []string{"cause", "effect", ">lock V", ">lock mA", "alarm"}}
		for _, r := range d.Effects {
			if r.With == c.with {
				t.add(r.Title, r.Says, span(float64(r.Volts.Low), float64(r.Volts.High), 1, 2),
					span(float64(r.Amps.Low), float64(r.Amps.High), 1000, 0), r.Alarm)
			}
		}
		if len(t.rows) > 0 {
			p.gap()
			p.say(0, bold, c.title)
			p.table(2, t)
		}
	}
}

// span writes a range in a scaled unit, one figure when both ends read the same.
func span(low, high, scale float64, decimals int) string {
	a, b := fmt.Sprintf("%.*f", decimals, low*scale), fmt.Sprintf("%.*f", decimals, high*scale)
	if a == b {
		return a
	}
	return a + " to " + b
}

func (m matrix) table() table {
	t := table{head: []string{
		"door", "cause", "title", "with", "step", "effect", "volts_low", "volts_high", "amperes_low",
		"amperes_high", "alarm",
	}}
	for _, d := range m.Doors {
		for _, r := range d.Effects {
			t.add(d.Name, r.Cause, r.Title, r.With, r.Step, r.Says, si(r.Volts.Low), si(r.Volts.High), si(r.Amps.Low),
				si(r.Amps.High), r.Alarm)
		}
	}
	return t
}

// si writes a quantity in its SI unit with every digit.
func si[T unit.Volt | unit.Ampere | unit.Ohm | unit.Second | unit.Metre | unit.AmpereHour](v T) string {
	return number(v).String()
}
