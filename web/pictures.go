package web

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/device"
	"doorwright/draw"
	"doorwright/job"
	"doorwright/unit"
)

// card is one model to choose, with its picture and what matters of it.
type card struct {
	ID, Title string
	Facts     []string
	View      string // view box of its picture; empty where there is none
}

// pictured puts pictures to the fields of a form that choose a device, and gives the drawings that they show, each once.
func pictured(j *job.Job, groups []planGroup) (drawings string) {
	models, _ := device.Builtin().With(j.Document.Models) // the job was read: its models have no flaws
	var b strings.Builder
	views := map[string]string{}
	for i := range groups {
		for k := range groups[i].Fields {
			f := &groups[i].Fields[k]
			if f.Role == "" {
				continue
			}
			for _, o := range f.Options {
				c := card{ID: o.Value, Title: o.Title}
				if m, ok := models.Get(o.Value); ok {
					if views[o.Value] == "" {
						s := draw.Picture(o.Value, m)
						views[o.Value] = fmt.Sprintf("0 0 %.4g %.4g", float64(s.Width), float64(s.Height))
						b.Write(draw.Symbol(pictureID(o.Value), s))
					}
					c.Facts, c.View = modelFacts(m), views[o.Value]
				}
				f.Cards = append(f.Cards, c)
			}
		}
	}
	return b.String()
}

// pictureID names the drawing of a model in a page.
func pictureID(model string) string { return "unit-" + model }

// chosen is the card of the model that a field has; an empty one for a model that is not among them.
func (f *planField) chosen() card {
	if i := slices.IndexFunc(f.Cards, func(c card) bool { return c.ID == f.Value }); i >= 0 {
		return f.Cards[i]
	}
	return card{ID: f.Value, Title: f.Value}
}

// modelFacts are the few facts by which one chooses a model: what it needs, what it does without power, what it switches
// and where it is mounted.
func modelFacts(m *device.Model) []string {
	var all []string
	for i := range m.Ports {
		p := &m.Ports[i].Value
		all = append(all, portFacts(p)...)
	}
	all = append(all, contactFacts(m)...)
	switch m.Lock.Inside {
	case device.InsideNever:
		all = append(all, "no handle frees it")
	case device.InsideAlways:
		all = append(all, "a handle inside frees it")
	case device.InsideWithLever:
		all = append(all, "a lever inside frees it")
	}
	for _, f := range m.Fits {
		switch f.Key {
		case "outline":
		case "mounts":
			all = append(all, f.Value)
		default:
			all = append(all, f.Key+" "+f.Value)
		}
	}
	return all
}

// portFacts are those of a port that takes, gives or holds power.
func portFacts(p *device.Port) []string {
	switch p.Is {
	case device.LockCoil:
		all := []string{takes(p), "fail-safe: free without power"}
		if p.Action == device.FailSecure {
			all[1] = "fail-secure: locked without power"
		}
		if p.Duty == "intermittent" {
			all = append(all, "not to be powered all the time")
		}
		return all
	case device.Load, device.Coil:
		return []string{takes(p)}
	case device.Source:
		return []string{fmt.Sprintf("gives %s, %s", volts(p.Float), amps(p.Limit))}
	case device.Battery:
		if p.Capacity > 0 {
			return []string{p.Capacity.String()}
		}
	case device.Through:
		return []string{fmt.Sprintf("%d ways", p.Ways)}
	}
	return nil
}

// takes is what a port takes of the supply: volts and amps, as the data sheet has them.
func takes(p *device.Port) string {
	says := p.Nominal.String()
	if p.Nominal == 0 {
		says = bandOf(p.Window)
	}
	at := p.Nominal
	if at == 0 {
		at = p.Window.Low
	}
	i := p.Amps
	switch {
	case i != 0 || at == 0:
	case p.Watts != 0:
		i = unit.Ampere(float64(p.Watts) / float64(at))
	case p.Ohms != 0:
		i = unit.Ampere(float64(at) / float64(p.Ohms))
	}
	if i == 0 {
		return says
	}
	return says + ", " + amps(i)
}

// contactFacts count the contacts of a model that are not those of its own alarms.
func contactFacts(m *device.Model) []string {
	var all []string
	for _, k := range []struct {
		is        device.PortType
		rest      string
		one, many string
	}{
		{device.Changeover, "", "changeover contact", "changeover contacts"},
		{device.Contact, "closed", "contact, closed at rest", "contacts, closed at rest"},
		{device.Contact, "open", "contact, open at rest", "contacts, open at rest"},
	} {
		n := 0
		var rating unit.Ampere
		for i := range m.Ports {
			p := &m.Ports[i].Value
			if p.Is == k.is && (k.rest == "" || (p.Rest == "closed") == (k.rest == "closed")) {
				n++
				rating = max(rating, p.Rating)
			}
		}
		if n > 0 {
			says := counted(n, k.one, k.many)
			if rating > 0 {
				says += ", " + amps(rating)
			}
			all = append(all, says)
		}
	}
	return all
}
