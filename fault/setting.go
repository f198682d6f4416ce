package fault

import (
	"fmt"
	"slices"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
	"doorwright/wiring"
)

// settings lists what can be set otherwise than fitted: position at rest, end-of-line scheme and value of an input, the
// sense of the lock output, an exit request that only shunts, what an output of a board does on fire, a terminator.
// Times, speeds and addresses do nothing to the circuit and are not here.
func (c *lister) settings() {
	for _, d := range c.doors {
		if d.ID == c.door {
			c.channel(d)
		}
	}
	for _, d := range c.devices {
		c.boardOutputs(d)
		c.terminators(d)
	}
}

// channel lists the settings of a controller for one door.
func (c *lister) channel(door *job.Door) {
	d, i := c.plan.Device(door.Controller.ID), door.Channel-1
	if d == nil || i < 0 || i >= len(d.Settings.Channels) {
		return
	}
	for _, in := range []struct {
		use string
		of  func(*device.ChannelSettings) *device.InputSettings
	}{
		{"exit", func(s *device.ChannelSettings) *device.InputSettings { return &s.Exit }},
		{"contact", func(s *device.ChannelSettings) *device.InputSettings { return &s.Contact }},
		{"aux", func(s *device.ChannelSettings) *device.InputSettings { return &s.Aux }},
	} {
		port, ok := d.Model.FindPort(device.Input, in.use, door.Channel, "")
		if !ok || !in.of(&d.Settings.Channels[i]).Used {
			continue
		}
		for _, x := range wrongInputs(*in.of(&d.Settings.Channels[i]), d.Model.Port(port).Supervise) {
			s := copied(&d.Settings)
			*in.of(&s.Channels[i]) = x.set
			c.setting(d, in.use+"-"+x.id+"@"+door.ID, fmt.Sprintf("%s input for %s is set to %s", in.use, door.ID, x.says), s)
		}
	}
	c.sense(d, door, i)
}

// sense lists what a controller is set to do with the lock.
func (c *lister) sense(d *wiring.Device, door *job.Door, i int) {
	s := copied(&d.Settings)
	s.Channels[i].EnergiseToLock = !s.Channels[i].EnergiseToLock
	to := "to unlock"
	if s.Channels[i].EnergiseToLock {
		to = "to lock"
	}
	c.setting(d, "lock-sense@"+door.ID, fmt.Sprintf("lock output for %s is set to energise %s", door.ID, to), s)
	if !s.Channels[i].Exit.Used {
		return
	}
	s = copied(&d.Settings)
	s.Channels[i].ExitUnlocks = !s.Channels[i].ExitUnlocks
	does := "only to shunt the alarm"
	if s.Channels[i].ExitUnlocks {
		does = "to unlock"
	}
	c.setting(d, "exit-unlocks@"+door.ID, fmt.Sprintf("exit request for %s is set %s", door.ID, does), s)
}

// wrongInput is an input set otherwise than fitted.
type wrongInput struct {
	id, says string
	set      device.InputSettings
}

func wrongInputs(s device.InputSettings, supervises bool) []wrongInput {
	inverted := s
	inverted.Rest = device.RestOpen
	if s.Rest == device.RestOpen {
		inverted.Rest = device.RestClosed
	}
	all := []wrongInput{{"rest", inverted.Rest + " at rest", inverted}}
	if !supervises {
		return all
	}
	for _, scheme := range []device.Scheme{device.SchemeNone, device.SchemeSingle, device.SchemeDouble} {
		if scheme == s.Scheme || scheme == device.SchemeNone && s.Scheme == "" {
			continue
		}
		all = append(all, wrongInput{string(scheme), supervision(scheme), schemed(s, scheme, endOfLine(s))})
	}
	if s.Series+s.Parallel > 0 {
		other := otherValue(endOfLine(s))
		all = append(all, wrongInput{"value", "end-of-line resistors of " + other.String(), schemed(s, s.Scheme, other)})
	}
	return all
}

func supervision(scheme device.Scheme) string {
	if scheme == device.SchemeNone {
		return "no end-of-line resistors"
	}
	return string(scheme) + " end-of-line resistors"
}

// schemed is an input set to another scheme or value, with the resistors where the scheme has them.
func schemed(s device.InputSettings, scheme device.Scheme, ohms unit.Ohm) device.InputSettings {
	s.Scheme, s.Series, s.Parallel = scheme, 0, 0
	if scheme == device.SchemeDouble || scheme == device.SchemeSingle && s.Rest == device.RestClosed {
		s.Series = ohms
	}
	if scheme == device.SchemeDouble || scheme == device.SchemeSingle && s.Rest == device.RestOpen {
		s.Parallel = ohms
	}
	return s
}

// The two values of end-of-line resistors that are sold most (common practice, no source).
const (
	lowEnd  unit.Ohm = 1000
	highEnd unit.Ohm = 4700
)

// endOfLine is the value an input is set to, or the usual one.
func endOfLine(s device.InputSettings) unit.Ohm {
	if ohms := max(s.Series, s.Parallel); ohms > 0 {
		return ohms
	}
	return highEnd
}

// otherValue is the usual value that is further away.
func otherValue(ohms unit.Ohm) unit.Ohm {
	if ohms*ohms > lowEnd*highEnd {
		return lowEnd
	}
	return highEnd
}

// boardOutputs lists what the outputs of a board in use may be set to do on fire.
func (c *lister) boardOutputs(d *wiring.Device) {
	for i, port := range d.Model.PortsOf(device.Output) {
		if i >= len(d.Settings.Outputs) || len(c.onPort(d, port)) == 0 || !c.ofPort(d, port) {
			continue
		}
		was := d.Settings.Outputs[i]
		s := copied(&d.Settings)
		s.Outputs[i].Releases = !was.Releases
		c.setting(d, port+"-releases", fmt.Sprintf("output %s is set to %s in a fire", port, onFire(!was.Releases)), s)
		if !was.Releases {
			continue
		}
		s = copied(&d.Settings)
		s.Outputs[i].Latches = !was.Latches
		c.setting(d, port+"-latches", fmt.Sprintf("output %s is set to %s after a fire", port, afterFire(!was.Latches)), s)
	}
}

func onFire(releases bool) string {
	if releases {
		return "go off"
	}
	return "stay on"
}

func afterFire(latches bool) string {
	if latches {
		return "stay off until it is reset"
	}
	return "come back by itself"
}

// setting is one unit with other settings.
func (c *lister) setting(d *wiring.Device, id, says string, s *device.Settings) {
	c.put(Fault{
		ID: "setting:" + d.ID + "/" + id, Class: Setting, Name: d.ID + ": " + says, Where: d.ID + ", its settings",
		Repair: "Set it to what is fitted, as the job states.",
		Edits:  []Edit{{Op: Configure, Device: d, Settings: s}}, Of: []*wiring.Device{d},
	})
}

// copied are settings that may be changed without changing those of the plan.
func copied(s *device.Settings) *device.Settings {
	t := *s
	t.Channels, t.Outputs = slices.Clone(s.Channels), slices.Clone(s.Outputs)
	return &t
}

// lineOhms is a line terminator, typically 120 ohm by TIA-485.
const lineOhms unit.Ohm = 120

// terminators lists the terminator of every unit on a line switched otherwise. It is a part of the circuit, so that it
// is a resistance put in or taken away and no setting in the sense of Configure.
func (c *lister) terminators(d *wiring.Device) {
	for _, port := range d.Model.PortsOf(device.Bus) {
		on := c.onPort(d, port)
		if !d.Model.Port(port).Terminator || len(on) == 0 || !c.ofPort(d, port) {
			continue
		}
		f := Fault{
			ID: "setting:" + d.ID + "/" + port + "-terminator", Class: Setting, Name: d.ID + ": line terminator is on",
			Where: d.ID + ", its settings", Repair: "Switch the terminators on at the two ends of the line, and only there.",
			Edits: []Edit{{
				Op: Join, A: nodeOf(d, device.PinOf(port, "a")), B: nodeOf(d, device.PinOf(port, "b")), Ohms: lineOhms,
			}},
			At: on, Of: []*wiring.Device{d},
		}
		if d.Settings.Terminator {
			f.Name = d.ID + ": line terminator is off"
			f.Edits = []Edit{{
				Op: Scale, Device: d, Part: device.PinOf(port, "terminator"), Factor: float64(circuit.OpenOhms / lineOhms),
			}}
		}
		c.put(f)
	}
}
