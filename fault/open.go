package fault

import (
	"fmt"

	"doorwright/circuit"
	"doorwright/unit"
	"doorwright/wiring"
)

// opens lists what can be interrupted: every conductor, every terminal that holds several, every pull-off plug. One end
// of a conductor off its terminal is the same as the conductor cut, so that both are one fault.
func (c *lister) opens() {
	for _, w := range c.conductors {
		c.put(openOf(w))
	}
	for _, d := range c.devices {
		c.looseTerminals(d)
		c.pulledPlugs(d)
	}
}

// openOf is one conductor interrupted.
func openOf(w *wiring.Conductor) Fault {
	f := Fault{
		ID: "open:" + w.ID, Class: Open, Door: w.Door,
		Name:  NameOf(w) + " is missing or off a terminal",
		Where: "from " + spot(w.A) + " to " + spot(w.B) + ", both ends included",
		Edits: []Edit{cut(w)}, At: []*wiring.Conductor{w}, Of: endsOf(w),
		Repair: "Fit it again and tighten both terminals.",
	}
	if w.Kind == wiring.Core {
		f.Name = NameOf(w) + " is cut"
		f.Where = fmt.Sprintf("%s, from %s to %s, both ends included", coreName(w), spot(w.A), spot(w.B))
		f.Repair = fmt.Sprintf("Land both ends again; where the core itself is broken, use a spare core of %s or pull a new cable.",
			w.Run.ID)
	}
	f.ID = typable(f.ID)
	return f
}

func cut(w *wiring.Conductor) Edit { return Edit{Op: Resist, Conductor: w, Ohms: circuit.OpenOhms} }

// cutAll interrupts several conductors.
func cutAll(ws []*wiring.Conductor) []Edit {
	var edits []Edit
	for _, w := range ws {
		edits = append(edits, cut(w))
	}
	return edits
}

// looseTerminals are the terminals of a device that hold several conductors and let go of all.
func (c *lister) looseTerminals(d *wiring.Device) {
	for _, t := range d.Model.Strip {
		end := wiring.End{Device: d, Pin: t.Pin}
		on := c.landed[end]
		if len(on) < 2 || !c.mine(on...) {
			continue
		}
		c.put(Fault{
			ID: "open:" + end.String(), Class: Open,
			Name:   fmt.Sprintf("terminal %s is loose: its %d conductors are off", spot(end), len(on)),
			Where:  spot(end),
			Repair: "Tighten the terminal, or land the conductors again.",
			Edits:  cutAll(on), At: on, Of: []*wiring.Device{d},
		})
	}
}

// pulledPlugs are the pull-off plugs of a device that are off with all that is landed on them.
func (c *lister) pulledPlugs(d *wiring.Device) {
	var plugs []string
	on, terminals := map[string][]*wiring.Conductor{}, map[string]int{}
	for _, t := range d.Model.Strip {
		ws := c.landed[wiring.End{Device: d, Pin: t.Pin}]
		if t.Plug == "" || len(ws) == 0 {
			continue
		}
		if terminals[t.Plug] == 0 {
			plugs = append(plugs, t.Plug)
		}
		terminals[t.Plug]++
		on[t.Plug] = appendNew(on[t.Plug], ws...)
	}
	for _, plug := range plugs {
		if terminals[plug] < 2 || !c.mine(on[plug]...) {
			continue
		}
		c.put(Fault{
			ID: "open:" + d.ID + "/" + plug, Class: Open,
			Name:   fmt.Sprintf("plug %s of %s is off", plug, d.ID),
			Where:  fmt.Sprintf("%s, plug %s", d.ID, plug),
			Repair: "Push the plug on.",
			Edits:  cutAll(on[plug]), At: on[plug], Of: []*wiring.Device{d},
		})
	}
}

// Resistance of a joint that has gone bad: enough to be noticed where it is, not enough to be taken for a cut. 22 ohm
// costs a lock of half an ampere its voltage, 2.2 kohm shifts an input line by about one end-of-line resistor (common
// practice, no source).
const (
	highPower  unit.Ohm = 22
	highSignal unit.Ohm = 2200
)

// highs lists every conductor with a joint gone bad.
func (c *lister) highs() {
	for _, w := range c.conductors {
		ohms := highSignal
		if w.Use == wiring.Power {
			ohms = highPower
		}
		c.put(Fault{
			ID: "high:" + w.ID, Class: High,
			Name:   fmt.Sprintf("%s has a bad joint of %s", NameOf(w), ohms),
			Where:  "from " + spot(w.A) + " to " + spot(w.B) + ", most often at an end",
			Repair: "Cut back to bright copper, land both ends again; where that does not help, replace the conductor.",
			Spread: jointSpread,
			Edits:  []Edit{{Op: Resist, Conductor: w, Ohms: ohms}},
			At:     []*wiring.Conductor{w}, Of: endsOf(w),
		})
	}
}
