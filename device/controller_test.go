package device

import (
	"testing"

	"doorwright/unit"
)

// controllerSeat is a one-door controller in quiet operation: unlocks for 5 s, holds alarm after 20 s, exit requests by
// a contact open at rest, door contact closed at rest.
func controllerSeat(t *testing.T, change func(*ChannelSettings)) *seat {
	t.Helper()
	s := newSeat(t, "controller-1-12")
	channel := ChannelSettings{
		UnlockFor: 5, HeldAfter: 20, ExitUnlocks: true,
		Exit:    InputSettings{Used: true, Rest: RestOpen, Scheme: SchemeNone},
		Contact: InputSettings{Used: true, Rest: RestClosed, Scheme: SchemeNone},
	}
	if change != nil {
		change(&channel)
	}
	s.settings.Channels = []ChannelSettings{channel}
	s.reads["exit1"], s.reads["contact1"], s.reads["aux1"] = Open, Closed, Open
	s.act(t, 0)
	return s
}

// moment is one instant of a controller's life and what it must show at its end.
type moment struct {
	name                           string
	gone                           unit.Second
	do                             func(*seat)
	unlocked, forced, held, tamper bool
}

func heard(side string) func(*seat) { return func(s *seat) { s.heard[side] = true } }
func silent(s *seat)                { clear(s.heard) }
func reads(port string, l Level) func(*seat) {
	return func(s *seat) { s.reads[port] = l }
}

func live(t *testing.T, s *seat, moments []moment) {
	t.Helper()
	for _, m := range moments {
		if m.do != nil {
			m.do(s)
		}
		s.act(t, m.gone)
		c := s.memory.Channels[0]
		if s.set["lock1"] != m.unlocked || c.Forced != m.forced || c.Held != m.held || c.Tamper != m.tamper {
			t.Errorf("%s: relay %v forced %v held %v tamper %v, want %v %v %v %v", m.name,
				s.set["lock1"], c.Forced, c.Held, c.Tamper, m.unlocked, m.forced, m.held, m.tamper)
		}
		if s.set["sounder1"] != (m.forced || m.held) {
			t.Errorf("%s: sounder %v", m.name, s.set["sounder1"])
		}
	}
}

// What a door controller does on a grant, an exit request, a forced and a held door: common practice of door access,
// the functions that IEC 60839-11-1 clause 6 lists (from memory).
func TestControllerOpensAndWatches(t *testing.T) {
	cases := []struct {
		name    string
		change  func(*ChannelSettings)
		moments []moment
	}{
		{"a credential unlocks for its time", nil, []moment{
			{name: "quiet"},
			{name: "heard", do: heard("entry"), unlocked: true},
			{name: "a second later", gone: 1, do: silent, unlocked: true},
			{name: "just before the end", gone: 3.9, unlocked: true},
			{name: "time over", gone: 0.2},
		}},
		{"a granted opening is no alarm, standing open is", nil, []moment{
			{name: "heard", do: heard("exit"), unlocked: true},
			{name: "door opens", gone: 1, do: func(s *seat) { silent(s); s.reads["contact1"] = Open }, unlocked: true},
			{name: "still open after 20 s", gone: 20},
			{name: "a moment longer", gone: 0.1, held: true},
			{name: "door closes", gone: 1, do: reads("contact1", Closed)},
		}},
		{"an exit request unlocks", nil, []moment{
			{name: "pressed", do: reads("exit1", Closed), unlocked: true},
			{name: "held down for a minute", gone: 60, unlocked: true},
			{name: "let go", gone: 5, do: reads("exit1", Open)},
		}},
		{"an exit request only shunts where a handle opens", func(c *ChannelSettings) { c.ExitUnlocks = false }, []moment{
			{name: "handle turned", do: reads("exit1", Closed)},
			{name: "door opens", gone: 1, do: reads("contact1", Open)},
			{name: "handle back, door closes", gone: 2, do: func(s *seat) { s.reads["exit1"], s.reads["contact1"] = Open, Closed }},
			{name: "opened by force a while later", gone: 10, do: func(*seat) {}},
			{name: "now", do: reads("contact1", Open), forced: true},
		}},
		{"a forced door stays an alarm until somebody comes", nil, []moment{
			{name: "opened without a grant", do: reads("contact1", Open), forced: true},
			{name: "closed again", gone: 5, do: reads("contact1", Closed), forced: true},
			{name: "an hour later", gone: 3600, forced: true},
			{name: "a credential", do: heard("entry"), unlocked: true},
		}},
		{"an unsupervised exit line that is shorted is a request", nil, []moment{
			{name: "shorted", do: reads("exit1", Closed), unlocked: true},
		}},
		{
			"a supervised exit line that is shorted or cut is tamper, not a request",
			func(c *ChannelSettings) { c.Exit.Scheme = SchemeDouble },
			[]moment{
				{name: "shorted", do: reads("exit1", ShortCircuit), tamper: true},
				{name: "mended", do: reads("exit1", Open)},
				{name: "cut", do: reads("exit1", Cut), tamper: true},
				{name: "between states", do: reads("exit1", Between), tamper: true},
			},
		},
		{
			"a contact line with a fault leaves the door as last seen",
			func(c *ChannelSettings) { c.Contact.Scheme = SchemeDouble },
			[]moment{
				{name: "cut", do: reads("contact1", Cut), tamper: true},
				{name: "shorted", do: reads("contact1", ShortCircuit), tamper: true},
			},
		},
		{"a hung controller changes nothing", nil, []moment{
			{name: "heard", do: heard("entry"), unlocked: true},
			{name: "hangs", gone: 60, do: func(s *seat) { silent(s); s.signals["hung"] = true }, unlocked: true},
			{name: "button pressed and door opened", gone: 1, do: func(s *seat) { s.reads["exit1"], s.reads["contact1"] = Closed, Open }, unlocked: true},
		}},
		{"a controller without power drops everything and forgets", nil, []moment{
			{name: "forced", do: reads("contact1", Open), forced: true},
			{name: "unlocked", do: heard("entry"), unlocked: true},
			{name: "no power, though it had hung", do: func(s *seat) { silent(s); s.signals["feed"], s.signals["hung"] = false, true }},
			{name: "power back", do: func(s *seat) { s.signals["feed"], s.signals["hung"] = true, false; s.reads["contact1"] = Closed }},
		}},
		{
			"an unused exit input does nothing", func(c *ChannelSettings) { c.Exit.Used = false },
			[]moment{{name: "shorted", do: reads("exit1", Closed)}},
		},
		{"no held alarm where none is set", func(c *ChannelSettings) { c.HeldAfter = 0 }, []moment{
			{name: "heard", do: heard("entry"), unlocked: true},
			{name: "opens", gone: 1, do: func(s *seat) { silent(s); s.reads["contact1"] = Open }, unlocked: true},
			{name: "an hour", gone: 3600},
		}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { live(t, controllerSeat(t, c.change), c.moments) })
	}
}

func TestControllerRelayWithBothSenses(t *testing.T) {
	for _, c := range []struct{ energiseToLock, heard, powered, want bool }{
		{false, false, true, false},
		{false, true, true, true},
		{true, false, true, true},
		{true, true, true, false},
		{true, false, false, false},
		{false, true, false, false},
	} {
		s := controllerSeat(t, func(x *ChannelSettings) { x.EnergiseToLock = c.energiseToLock })
		s.heard["entry"], s.signals["feed"] = c.heard, c.powered
		s.act(t, 0)
		if s.set["lock1"] != c.want {
			t.Errorf("energise to lock %v, heard %v, powered %v: energised %v", c.energiseToLock, c.heard, c.powered, s.set["lock1"])
		}
	}
}

// Units that come up together must not be taken for an alarm: a sensor's relay is still open in the first instant.
func TestControllerReadsNoInputWhileItComesUp(t *testing.T) {
	s := newSeat(t, "controller-1-12")
	s.settings.Channels = []ChannelSettings{{
		UnlockFor: 5, ExitUnlocks: true,
		Exit:    InputSettings{Used: true, Rest: RestClosed},
		Contact: InputSettings{Used: true, Rest: RestClosed},
	}}
	s.reads["exit1"], s.reads["contact1"] = Open, Open
	KindOf("controller").Act(s)
	s.reads["exit1"], s.reads["contact1"] = Closed, Closed // the other units have come up
	s.act(t, 0)
	if s.set["lock1"] || s.memory.Channels[0] != (ChannelMemory{}) {
		t.Errorf("relay %v, memory %+v", s.set["lock1"], s.memory.Channels[0])
	}
}

func TestTwoDoorsDoNotMeet(t *testing.T) {
	s := newSeat(t, "controller-2-12")
	door := ChannelSettings{UnlockFor: 5, ExitUnlocks: true, Exit: InputSettings{Used: true, Rest: RestOpen}}
	s.settings.Channels = []ChannelSettings{door, door}
	s.reads["exit1"], s.reads["exit2"] = Open, Closed
	s.act(t, 0)
	if s.set["lock1"] || !s.set["lock2"] || s.set["led1"] || !s.set["led2"] {
		t.Errorf("set %v", s.set)
	}
}
