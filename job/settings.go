package job

import (
	"fmt"
	"slices"

	"doorwright/device"
	"doorwright/unit"
)

// channelSettings fills in what the controller is set to for a door.
func (r *resolver) channelSettings(d *Door, path string, w *DoorDoc) {
	at := under(path, "settings")
	if w.Settings.Sense == "" {
		r.assume(under(at, "lock-output"), "energise-to-unlock")
	}
	s := device.ChannelSettings{
		EnergiseToLock: w.Settings.Sense == "energise-to-lock",
		UnlockFor:      figure(r, under(at, "unlock-for"), w.Settings.UnlockFor, longestUnlock, usualUnlock),
		HeldAfter:      figure(r, under(at, "held-after"), w.Settings.HeldAfter, longestHeld, usualHeld),
		ExitUnlocks:    !w.Settings.ExitShunts,
	}
	optional(r, under(at, "expects-resistor"), w.Settings.Resistor, largestEnd)
	s.Exit = r.exitInput(d, under(path, "exit"), w)
	s.Contact = inputOf(contactModels(d), "contact", device.RestClosed, d, w)
	s.Aux = auxInput(d, w)
	r.supervisable(d, path, w)
	if d.Controller != nil && d.Channel > 0 {
		d.Controller.Settings.Channels[d.Channel-1] = s
	}
}

// rests are the positions at rest in which a model offers a contact for a use, or for no use in particular where it has
// none for that one, or any.
func rests(m *device.Model, use string) map[string]bool {
	offers := map[string]bool{}
	for _, fits := range []func(string) bool{
		func(u string) bool { return u == use }, func(u string) bool { return u == "" }, func(string) bool { return true },
	} {
		for _, e := range m.Ports {
			if fits(e.Value.Use) {
				offerRests(m, e.Key, offers)
			}
		}
		if len(offers) > 0 {
			break
		}
	}
	return offers
}

// offerRests enters the positions at rest of one port. A changeover contact offers those it has terminals for.
func offerRests(m *device.Model, port string, offers map[string]bool) {
	p := m.Port(port)
	if p.Is == device.Contact {
		offers[m.AtRest(port)] = true
	}
	if p.Is != device.Changeover {
		return
	}
	closed, open := "nc", "no"
	if k := device.KindOf(m.Kind); k != nil {
		if signal := m.SignalOf(port); slices.Contains(k.Wakes, signal) || slices.Contains(k.Quiet, signal) {
			closed, open = open, closed
		}
	}
	if m.Terminal(device.PinOf(port, closed)) != nil {
		offers[device.RestClosed] = true
	}
	if m.Terminal(device.PinOf(port, open)) != nil {
		offers[device.RestOpen] = true
	}
}

// inputOf are the settings of an input that contacts of these models end at: the preferred position at rest where all
// of them offer it, else the other.
func inputOf(models []*device.Model, use, preferred string, d *Door, w *DoorDoc) device.InputSettings {
	if len(models) == 0 {
		return device.InputSettings{}
	}
	rest := preferred
	for _, m := range models {
		if !rests(m, use)[preferred] {
			rest = opposite(preferred)
		}
	}
	scheme, ohms := d.Supervision, d.Resistor
	if w.Settings.Expects != "" {
		scheme = device.Scheme(w.Settings.Expects)
	}
	if w.Settings.Resistor != 0 {
		ohms = w.Settings.Resistor
	}
	return supervised(device.InputSettings{Used: true, Rest: rest}, scheme, ohms)
}

func opposite(rest string) string {
	if rest == device.RestOpen {
		return device.RestClosed
	}
	return device.RestOpen
}

// supervised sets the resistors that an input expects.
func supervised(s device.InputSettings, scheme device.Scheme, ohms unit.Ohm) device.InputSettings {
	s.Scheme = scheme
	if scheme == device.SchemeDouble || scheme == device.SchemeSingle && s.Rest == device.RestClosed {
		s.Series = ohms
	}
	if scheme == device.SchemeDouble || scheme == device.SchemeSingle && s.Rest == device.RestOpen {
		s.Parallel = ohms
	}
	return s
}

// exitInput are the settings of the exit input, where exit devices, handle contacts of locks and releases that only
// tell the controller end together.
func (r *resolver) exitInput(d *Door, path string, w *DoorDoc) device.InputSettings {
	var models []*device.Model
	var first *Fitted
	for _, f := range exitTellers(d) {
		models = append(models, f.Model)
		offers := rests(f.Model, "exit")
		if len(offers) != 1 {
			continue
		}
		if first != nil && offers[device.RestOpen] != rests(first.Model, "exit")[device.RestOpen] {
			r.problem(f.Where, quote(f.ModelID), fmt.Sprintf(
				"is %s at rest, but %s at the same exit input is %s; choose models that rest alike",
				restWord(offers), first.ID, restWord(rests(first.Model, "exit"))))
		}
		first = f
	}
	return inputOf(models, "exit", device.RestOpen, d, w)
}

func restWord(offers map[string]bool) string {
	if offers[device.RestOpen] {
		return device.RestOpen
	}
	return device.RestClosed
}

// exitTellers lists the devices of known model whose contacts end at the exit input.
func exitTellers(d *Door) []*Fitted {
	var all []*Fitted
	for _, e := range d.Exits {
		if e.Model != nil {
			all = append(all, &e.Fitted)
		}
	}
	for _, l := range d.Locks {
		if l.Model != nil && tells(l.Model, "exit") {
			all = append(all, &l.Fitted)
		}
	}
	for _, e := range d.Releases {
		if e.Model != nil && !e.InFeed {
			all = append(all, &e.Fitted)
		}
	}
	return all
}

func contactModels(d *Door) []*device.Model {
	var all []*device.Model
	for _, c := range d.Contacts {
		if c.Model != nil {
			all = append(all, c.Model)
		}
	}
	return all
}

// auxInput are the settings of the auxiliary inputs of the channel: further inputs and releases that are watched. They
// are set alike, to what the first of them has fitted.
//
// The fail contact of a board stands in line with the resistor of a supervised line, so that a fuse that opens reads as a
// cut: a fault, and not a contact in use.
func auxInput(d *Door, w *DoorDoc) device.InputSettings {
	if d.Told != nil {
		return supervised(device.InputSettings{Used: true, Rest: device.RestClosed}, device.SchemeDouble, d.Resistor)
	}
	for _, a := range d.Aux {
		if a.Model == nil {
			continue
		}
		s := inputOf([]*device.Model{a.Model}, "aux", device.RestClosed, d, w)
		if w.Settings.Expects == "" {
			ohms := a.Resistor
			if w.Settings.Resistor != 0 {
				ohms = w.Settings.Resistor
			}
			s = supervised(device.InputSettings{Used: true, Rest: s.Rest}, a.Supervision, ohms)
		}
		return s
	}
	for _, e := range d.Releases {
		if e.Model != nil && e.InFeed && tells(e.Model, "signal") {
			return inputOf([]*device.Model{e.Model}, "signal", device.RestClosed, d, w)
		}
	}
	return device.InputSettings{}
}

// supervisable refuses a scheme that the inputs of the controller cannot be set to.
func (r *resolver) supervisable(d *Door, path string, w *DoorDoc) {
	key, scheme := under(path, "supervision"), d.Supervision
	if w.Settings.Expects != "" {
		key, scheme = under(under(path, "settings"), "expects"), device.Scheme(w.Settings.Expects)
	}
	if scheme == device.SchemeNone || d.Controller == nil || d.Controller.Model == nil || d.Channel == 0 {
		return
	}
	m := d.Controller.Model
	for _, in := range []struct {
		use  string
		used bool
	}{{"exit", len(d.Exits) > 0}, {"contact", len(d.Contacts) > 0}} {
		name, ok := m.FindPort(device.Input, in.use, d.Channel, "")
		if in.used && ok && !m.Port(name).Supervise {
			r.problem(key, quote(string(scheme)), fmt.Sprintf(
				"is not possible; the %s input of %s (%s) cannot be supervised, so choose another controller, or write none",
				in.use, d.Controller.ID, d.Controller.ModelID))
			return
		}
	}
}
