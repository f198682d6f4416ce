package web

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/device"
	"doorwright/journal"
	"doorwright/wiring"
)

// coreWords say which cores differ between two plans, each end as it is labelled on its unit.
func coreWords(d journal.Difference, was, is *wiring.Plan) []string {
	var all []string
	for _, c := range d.Removed {
		all = append(all, "no longer there: "+coreName(c)+" "+endsOf(was, c))
	}
	for _, c := range d.Moved {
		before, now := coreName(c[0])+" ", coreName(c[1])+" "
		if before == now {
			before = ""
		}
		all = append(all, "changed: "+now+endsOf(is, c[1])+", was "+before+endsOf(was, c[0])+"; its ticks no longer count")
	}
	for _, c := range d.Added {
		all = append(all, "new: "+coreName(c)+" "+endsOf(is, c))
	}
	const most = 60
	if len(all) > most {
		all = append(all[:most], fmt.Sprintf("and %d more", len(all)-most))
	}
	return all
}

// coreName is how a core is found on site: by its run, number and colour; a lead or link by its ends alone.
func coreName(c journal.Core) string {
	if kind, _, ok := strings.Cut(c.ID, ":"); ok {
		return kind
	}
	return strings.TrimSpace(c.ID + " " + c.Colour)
}

func endsOf(p *wiring.Plan, c journal.Core) string {
	return "from " + endName(p, c.A, c.ATo) + " to " + endName(p, c.B, c.BTo)
}

// endName is a terminal as it is labelled; a pin that a plan does not have stays what it is called.
func endName(p *wiring.Plan, id, pin string) string {
	if d := p.Device(id); d != nil {
		if i := slices.IndexFunc(d.Model.Strip, func(t device.Terminal) bool { return t.Pin == pin }); i >= 0 {
			return id + " " + d.Model.Strip[i].Label
		}
	}
	return id + " " + pin
}
