package main

import (
	"math"
	"slices"
	"strings"

	"doorwright/unit"
)

// materials is what to order.
type materials struct {
	Job       string     `json:"job"`
	Materials []material `json:"materials"` // devices, then components, then cables
}

// material is one line of the list. Quantity counts pieces, or metres of cable.
type material struct {
	Group    string   `json:"group"` // device, component or cable
	ID       string   `json:"id"`
	Title    string   `json:"title"`
	Quantity number   `json:"quantity"`
	Unit     string   `json:"unit"`  // "piece" or "m"
	Where    []string `json:"where"` // devices or runs
}

// The groups of materials.
const (
	devicesGroup    = "device"
	componentsGroup = "component"
	cablesGroup     = "cable"
)

func materialSheet(v *view) (sheet, error) {
	var all []material
	for _, group := range []string{devicesGroup, componentsGroup} {
		for _, d := range v.plan.Devices {
			if !v.wantsDevice(d) || (d.Added != nil) != (group == componentsGroup) {
				continue
			}
			all = count(all, material{Group: group, ID: d.ModelID, Title: d.Model.Title, Quantity: 1, Unit: "piece"}, d.ID)
		}
	}
	for _, r := range v.job.Runs {
		if v.wantsRun(r) {
			all = count(all, material{
				Group: cablesGroup, ID: r.TypeID, Title: r.Type.Title, Quantity: number(r.Length()), Unit: "m",
			}, r.ID)
		}
	}
	return materials{Job: v.job.ID, Materials: slices.Clip(append([]material{}, all...))}, nil
}

// count adds one more to the line of its group and id.
func count(all []material, m material, where string) []material {
	i := slices.IndexFunc(all, func(x material) bool { return x.Group == m.Group && x.ID == m.ID })
	if i < 0 {
		m.Where = []string{where}
		return append(all, m)
	}
	all[i].Quantity += m.Quantity
	all[i].Where = append(all[i].Where, where)
	return all
}

func (s materials) text(p *page) {
	p.title("MATERIALS " + s.Job)
	for _, g := range []struct{ group, title string }{
		{devicesGroup, "Devices"},
		{componentsGroup, "Components that the wiring needs"},
		{cablesGroup, "Cable, by computed length"},
	} {
		t := table{head: []string{">quantity", "what", "where"}}
		for _, m := range s.Materials {
			if m.Group == g.group {
				t.add(m.amount(), m.name(), strings.Join(m.Where, ", "))
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

func (m material) amount() string {
	if m.Unit == "m" {
		return unit.Metre(math.Ceil(float64(m.Quantity))).String()
	}
	return m.Quantity.String()
}

// name is the model with its title, where that says more.
func (m material) name() string {
	if m.Group == componentsGroup || strings.EqualFold(m.ID, m.Title) {
		return m.ID
	}
	return m.ID + ", " + m.Title
}

func (s materials) table() table {
	t := table{head: []string{"group", "id", "title", "quantity", "unit", "where"}}
	for _, m := range s.Materials {
		t.add(m.Group, m.ID, m.Title, m.Quantity.String(), m.Unit, strings.Join(m.Where, " "))
	}
	return t
}
