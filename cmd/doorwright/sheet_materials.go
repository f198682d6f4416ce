package main

import (
	"fmt"
	"math"
	"strings"

	"doorwright/unit"
	"doorwright/wiring"
)

// materials is what to order.
type materials struct {
	Job       string     `json:"job"`
	Materials []material `json:"materials"` // devices, then components, then cables
	in        unit.Measures
}

// material is one line of the list. Quantity counts pieces, or metres of cable.
type material struct {
	Group    wiring.MaterialGroup `json:"group"` // device, component or cable
	ID       string               `json:"id"`
	Title    string               `json:"title"`
	Quantity number               `json:"quantity"`
	Unit     string               `json:"unit"`  // "piece" or "m"
	Where    []string             `json:"where"` // devices or runs
}

func materialSheet(v *view) (sheet, error) {
	s := materials{Job: v.job.ID, Materials: []material{}, in: v.job.Measures}
	for _, m := range v.plan.Materials(v.wantsDevice, v.wantsRun) {
		line := material{Group: m.Group, ID: m.ID, Title: m.Title, Quantity: number(m.Pieces), Unit: "piece", Where: m.Where}
		if m.Group == wiring.Cables {
			line.Quantity, line.Unit = number(m.Length), "m"
		}
		s.Materials = append(s.Materials, line)
	}
	return s, nil
}

func (s materials) text(p *page) {
	p.title("MATERIALS " + s.Job)
	for _, g := range []struct {
		group wiring.MaterialGroup
		title string
	}{
		{wiring.Devices, "Devices"},
		{wiring.Components, "Components that the wiring needs"},
		{wiring.Cables, "Cable, by computed length"},
	} {
		t := table{head: []string{">quantity", "what", "where"}}
		for _, m := range s.Materials {
			if m.Group == g.group {
				t.add(m.amount(s.in), m.name(), strings.Join(m.Where, ", "))
			}
		}
		if len(t.rows) == 0 {
			continue
		}
		p.gap()
		p.title(g.title)
		p.table(2, t)
	}
}

func (m material) amount(in unit.Measures) string {
	if m.Unit == "m" {
		length, of := in.In(unit.Metre(m.Quantity))
		return fmt.Sprintf("%.0f %s", math.Ceil(length-1e-9), of)
	}
	return m.Quantity.String()
}

// name is the model with its title, where that says more.
func (m material) name() string {
	if m.Group == wiring.Components || strings.EqualFold(m.ID, m.Title) {
		return m.ID
	}
	return m.ID + ", " + m.Title
}

func (s materials) table() table {
	t := table{head: []string{"group", "id", "title", "quantity", "unit", "where"}}
	for _, m := range s.Materials {
		t.add(string(m.Group), m.ID, m.Title, m.Quantity.String(), m.Unit, strings.Join(m.Where, " "))
	}
	return t
}
