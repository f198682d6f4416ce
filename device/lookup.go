package device

import (
	"slices"
	"strconv"
	"strings"
)

// PinOf is the full name of a pin: "lock1.nc" for pin nc of port lock1.
func PinOf(port, pin string) string { return port + "." + pin }

// SplitPin takes a full pin name apart; both are empty when pin is not one.
func SplitPin(full string) (port, pin string) {
	port, pin, ok := strings.Cut(full, ".")
	if !ok {
		return "", ""
	}
	return port, pin
}

// Pins are the pins of a port, in order: as its type fixes them, or one or two for each way.
func Pins(p Port) []string {
	switch p.Is {
	case Bar:
		return barPins(p)
	case Through:
		pins := make([]string, 0, 2*max(p.Ways, 0))
		for i := range p.Ways {
			pins = append(pins, strconv.Itoa(i+1)+"a", strconv.Itoa(i+1)+"b")
		}
		return pins
	}
	s, _ := shapeOf(p.Is)
	return slices.Clone(s.pins)
}

func barPins(p Port) []string {
	if len(p.Names) > 0 {
		return slices.Clone(p.Names)
	}
	pins := make([]string, 0, max(p.Ways, 0))
	for i := range p.Ways {
		pins = append(pins, strconv.Itoa(i+1))
	}
	return pins
}

// Port is the port of that name, nil when there is none.
func (m *Model) Port(name string) *Port {
	p, _ := m.Ports.Get(name)
	return p
}

// Terminal is the terminal on which a pin is brought out, nil when there is none.
func (m *Model) Terminal(pin string) *Terminal {
	for i := range m.Strip {
		if m.Strip[i].Pin == pin {
			return &m.Strip[i]
		}
	}
	return nil
}

// Reach is the terminal that reaches a pin: its own, or for a 0 V pin without one the nearest terminal in the strip
// that is joined to it inside the unit, as when two inputs share one common. Nil when there is none.
func (m *Model) Reach(pin string) *Terminal {
	if t := m.Terminal(pin); t != nil || !m.onPlane(pin) {
		return t
	}
	port, _ := SplitPin(pin)
	at := slices.IndexFunc(m.Strip, func(t Terminal) bool {
		p, _ := SplitPin(t.Pin)
		return p == port
	})
	best := -1
	for i := range m.Strip {
		if m.onPlane(m.Strip[i].Pin) && (best < 0 || distance(i, at) < distance(best, at)) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	return &m.Strip[best]
}

func distance(a, b int) int { return max(a-b, b-a) }

// PortsOf are the names of the ports of a type, in order.
func (m *Model) PortsOf(is PortType) []string {
	var names []string
	for _, e := range m.Ports {
		if e.Value.Is == is {
			names = append(names, e.Key)
		}
	}
	return names
}

// FindPort is the first port of a type with that use, door channel and side. Empty use, side and channel 0 match any. A
// port that names no channel or no side serves all of them, but one that names what is asked for goes before.
func (m *Model) FindPort(is PortType, use string, channel int, side string) (name string, ok bool) {
	best := -1
	for i := range m.Ports {
		p := &m.Ports[i].Value
		if p.Is != is || use != "" && p.Use != use {
			continue
		}
		exactChannel, okChannel := fits(channel, p.Channel)
		exactSide, okSide := fits(side, p.Side)
		if okChannel && okSide && exactChannel+exactSide > best {
			name, best = m.Ports[i].Key, exactChannel+exactSide
		}
	}
	return name, best >= 0
}

// fits compares what is asked for with what a port states: 1 for a stated match.
func fits[T comparable](asked, stated T) (exact int, ok bool) {
	var none T
	switch {
	case asked == none || stated == none:
		return 0, true
	case asked == stated:
		return 1, true
	}
	return 0, false
}

// Channels is the number of doors a unit serves; 0 for one that knows no doors.
func (m *Model) Channels() int {
	n := 0
	for i := range m.Ports {
		n = max(n, m.Ports[i].Value.Channel)
	}
	return min(n, MaxChannels)
}

// Running is the signal that says whether the unit has power: the name of its first load. Empty for a unit that needs
// none.
func (m *Model) Running() string {
	for i := range m.Ports {
		if m.Ports[i].Value.Is == Load {
			return m.Ports[i].Key
		}
	}
	return ""
}

// SignalOf is the signal that moves a contact or switches an output; empty for a port that nothing moves.
func (m *Model) SignalOf(port string) string {
	p := m.Port(port)
	if p == nil {
		return ""
	}
	return p.signal(port)
}

// signal is the one that moves a port of that name; empty when nothing does.
func (p *Port) signal(name string) string {
	switch {
	case p.Driven != "":
		return p.Driven
	case p.Is == Contact || p.Is == Changeover:
		return name
	}
	return ""
}

// AtRest is the position, "closed" or "open", of a contact in the undisturbed state: units powered, nobody there, door
// closed. Empty for a port that is not a Contact, and for a contact of a coil, which follows what feeds the coil.
func (m *Model) AtRest(port string) string {
	p := m.Port(port)
	if p == nil || p.Is != Contact {
		return ""
	}
	signal := m.SignalOf(port)
	if coil := m.Port(signal); coil != nil && coil.Is == Coil {
		return ""
	}
	k := KindOf(m.Kind)
	on := k != nil && (slices.Contains(k.Wakes, signal) || slices.Contains(k.Quiet, signal))
	if (p.Rest == RestClosed) != on {
		return RestClosed
	}
	return RestOpen
}

// Positions of a contact.
const (
	RestClosed = "closed"
	RestOpen   = "open"
)

// Input is what an input is set to expect. An input that has no settings of its own expects what its use says: fire,
// tamper and trouble lines are closed while all is well, the others open.
func (s *Settings) Input(p *Port) InputSettings {
	own := InputSettings{Used: true, Rest: RestOpen, Scheme: SchemeNone}
	switch p.Use {
	case "fire", "tamper", "trouble":
		own.Rest = RestClosed
	}
	if s == nil || p.Channel < 1 || p.Channel > len(s.Channels) {
		return own
	}
	c := &s.Channels[p.Channel-1]
	switch p.Use {
	case "exit":
		return c.Exit
	case "contact":
		return c.Contact
	case "aux":
		return c.Aux
	}
	return own
}

// World are the signals that the world sets on a unit of this model: those of its kind, then those that make its data
// lines send.
func (m *Model) World() []string {
	var all []string
	if k := KindOf(m.Kind); k != nil {
		all = slices.Clone(k.World)
	}
	for _, e := range m.Ports {
		for _, s := range lineSignals(e.Value) {
			all = append(all, LineSignal(e.Key, s))
		}
	}
	return all
}
