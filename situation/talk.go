package situation

import (
	"doorwright/circuit"
	"doorwright/device"
)

// line is a reader and the controller that listens to it.
type line struct {
	reader, controller *Unit
	channel            int
	side               string
	phases             []device.Phase
}

// Shows tells what came of showing a valid card at a reader.
type Shows struct {
	Heard  bool
	Failed string // the phase that was not understood; empty when all were
}

// lineOf finds who listens to a reader; nil when nobody does.
func (is *Island) lineOf(reader *Unit) *line {
	for _, d := range is.Doors {
		controller := is.byID[d.Controller.ID]
		for _, r := range []struct {
			id, side string
		}{{entryID(d), "entry"}, {exitReaderID(d), "exit"}} {
			if r.id != reader.Device.ID || controller == nil {
				continue
			}
			l := &line{reader: reader, controller: controller, channel: d.Channel, side: r.side}
			l.phases = phasesOf(l)
			return l
		}
	}
	return nil
}

// phasesOf finds the two ports of a line and what they must be able to tell each other.
func phasesOf(l *line) []device.Phase {
	for _, is := range []struct{ from, to device.PortType }{
		{device.PulseOut, device.PulseIn}, {device.SerialPort, device.SerialPort}, {device.Bus, device.Bus},
	} {
		from := l.reader.Device.Model.PortsOf(is.from)
		if len(from) == 0 {
			continue
		}
		to, ok := l.controller.Device.Model.FindPort(is.to, "", l.channel, l.side)
		if !ok {
			continue
		}
		return device.Conversation(device.LineEnd{Port: from[0], Is: is.from}, device.LineEnd{Port: to, Is: is.to})
	}
	return nil
}

// talk takes a line through all phases. What the reader says is heard when every phase brings the levels it must.
func (b *Bench) talk(l *line) Shows {
	if len(l.phases) == 0 {
		return Shows{Failed: "no line"}
	}
	if !b.Runs(l.reader) || !b.Runs(l.controller) {
		return Shows{Failed: "no power"}
	}
	for _, p := range l.phases {
		if !b.understood(l, p) {
			return Shows{Failed: p.Name}
		}
	}
	return Shows{Heard: true}
}

// understood holds one phase and looks at the levels.
func (b *Bench) understood(l *line, p device.Phase) bool {
	sender := l.reader
	if p.Sender == device.AtController {
		sender = l.controller
	}
	for _, s := range p.Signals {
		b.setWorld(sender, s, true)
	}
	// A reader lights and sounds while it talks: the line must work at its highest short current.
	b.peaks(l.reader, len(p.Signals) > 0)
	b.solve()
	ok := b.outcome.Circuit.Outcome != circuit.NotConverged && b.Runs(l.reader) // what has collapsed elsewhere is no matter here
	for _, e := range p.Expect {
		at := l.reader
		if e.At == device.AtController {
			at = l.controller
		}
		v := b.Volts(at, e.Pin, e.Against)
		ok = ok && (e.Below == nil || v <= *e.Below) && (e.Above == nil || v >= *e.Above)
	}
	for _, s := range p.Signals {
		b.setWorld(sender, s, false)
	}
	b.peaks(l.reader, false)
	return ok
}

// peaks lets the loads of a unit draw their highest short current, or their usual one again.
func (b *Bench) peaks(u *Unit, on bool) {
	for _, name := range u.Device.Model.PortsOf(device.Load) {
		b.setWorld(u, device.LineSignal(name, device.Peaks), on)
	}
}

// setWorld sets a signal that the world sets.
func (b *Bench) setWorld(u *Unit, name string, on bool) {
	for _, i := range u.slots {
		if s := &b.island.slots[i]; s.name == name && !s.senses {
			b.put(i, on)
			return
		}
	}
}
