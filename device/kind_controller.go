package device

import "doorwright/unit"

// A controller decides who may pass: it hears readers, reads exit and contact inputs and moves the lock relays. It
// stands still when it hangs ("hung"): relays stay as they are.
func controllerKind() Kind {
	return Kind{
		Name: "controller", Title: "a controller",
		World: []string{"hung"},
		Needs: []PortNeed{
			{Is: Load, Why: "a feed to run on"},
			{Is: Changeover, Use: "lock", Why: "a relay for the lock of each door"},
		},
		Act:    controllerAct,
		Drives: []PortType{Contact, Changeover, Output},
	}
}

// controllerAct is what a controller does: nothing without power, nothing new while it hangs, else each door by itself.
// In the step in which it comes up it reads no input yet, so that units that come up with it are not taken for alarms.
func controllerAct(u Unit) {
	m, mem := u.Model(), u.Memory()
	if !u.Signal(m.Running()) {
		*mem = Memory{}
		controllerRest(u)
		return
	}
	if u.Signal("hung") {
		return
	}
	if !mem.Started {
		mem.Started = true
		controllerDrive(u)
		return
	}
	for channel := 1; channel <= m.Channels(); channel++ {
		door := doorOf(u, channel)
		door.step(&mem.Channels[channel-1], u.Elapsed())
	}
	controllerDrive(u)
}

// doorSeen is what a controller sees of one door at one instant.
type doorSeen struct {
	settings    ChannelSettings
	exit, heard bool // an exit request is there; a credential was read just now
	open, known bool // the door stands open; the contact input says so at all
	fault       bool // a supervised input reads a fault of its line
}

func doorOf(u Unit, channel int) doorSeen {
	var d doorSeen
	if s := u.Settings(); s != nil && channel <= len(s.Channels) {
		d.settings = s.Channels[channel-1]
	}
	d.heard = u.Heard(channel, "entry") || u.Heard(channel, "exit")
	m := u.Model()
	for i := range m.Ports {
		p := &m.Ports[i].Value
		if p.Is != Input || p.Channel != channel {
			continue
		}
		s, level := u.Settings().Input(p), u.Reading(m.Ports[i].Key).Level
		d.fault = d.fault || Faulty(s, level)
		switch p.Use {
		case "exit":
			d.exit = d.exit || Active(s, level)
		case "contact":
			d.known = s.Used && (level == Open || level == Closed)
			d.open = Active(s, level)
		}
	}
	return d
}

// step moves the memory of one door on by the time gone; with none gone, doing it again changes nothing.
func (d doorSeen) step(m *ChannelMemory, gone unit.Second) {
	m.UnlockLeft = max(0, m.UnlockLeft-gone)
	m.ShuntLeft = max(0, m.ShuntLeft-gone)
	if d.heard || d.exit {
		m.ShuntLeft = d.settings.UnlockFor
		m.Granted = m.Granted || m.Open
	}
	if d.heard || d.exit && d.settings.ExitUnlocks {
		m.UnlockLeft = d.settings.UnlockFor
	}
	if d.heard {
		m.Forced = false // somebody with a right to pass has come and seen
	}
	m.Tamper = d.fault
	d.watch(m, gone)
}

// watch follows the door itself. While the contact input reads neither open nor closed, the door stays as last seen.
func (d doorSeen) watch(m *ChannelMemory, gone unit.Second) {
	switch {
	case !d.known:
		return
	case !d.open:
		m.Open, m.OpenFor, m.Granted, m.Held = false, 0, false, false
		return
	case !m.Open:
		m.Open, m.OpenFor = true, 0
		m.Granted = d.heard || d.exit || m.ShuntLeft > 0 || m.UnlockLeft > 0
		m.Forced = m.Forced || !m.Granted
	default:
		m.OpenFor += gone
	}
	if after := d.settings.HeldAfter; after > 0 && m.Granted && m.OpenFor > after {
		m.Held = true
	}
}

// controllerRest lets go of all that the controller drives.
func controllerRest(u Unit) {
	m := u.Model()
	for i := range m.Ports {
		if signal := m.Ports[i].Value.signal(m.Ports[i].Key); signal != "" {
			u.Set(signal, false)
		}
	}
}

// controllerDrive moves lock relays, reader lamps and sounders by what the memory says; with an empty memory all doors
// are locked.
func controllerDrive(u Unit) {
	m, mem := u.Model(), u.Memory()
	for i := range m.Ports {
		p := &m.Ports[i].Value
		signal := p.signal(m.Ports[i].Key)
		if signal == "" {
			continue
		}
		switch p.Use {
		case "lock":
			u.Set(signal, mem.unlocked(p.Channel) != energiseToLock(u, p.Channel))
		case "led":
			u.Set(signal, mem.unlocked(p.Channel))
		case "sounder":
			u.Set(signal, mem.alarm(p.Channel))
		}
	}
}

func energiseToLock(u Unit, channel int) bool {
	s := u.Settings()
	return s != nil && channel >= 1 && channel <= len(s.Channels) && s.Channels[channel-1].EnergiseToLock
}

func (m *Memory) unlocked(channel int) bool {
	return channel >= 1 && channel <= MaxChannels && m.Channels[channel-1].UnlockLeft > 0
}

// alarm is that of one door, or of any for channel 0.
func (m *Memory) alarm(channel int) bool {
	for i, c := range m.Channels {
		if (channel == 0 || channel == i+1) && (c.Forced || c.Held) {
			return true
		}
	}
	return false
}
