package device

import (
	"slices"
	"testing"

	"doorwright/unit"
)

func TestFindPort(t *testing.T) {
	m, _ := Builtin().Get("controller-2-12")
	cases := []struct {
		is      PortType
		use     string
		channel int
		side    string
		want    string
	}{
		{Load, "", 0, "", "feed"},
		{Changeover, "lock", 2, "", "lock2"},
		{Changeover, "lock", 0, "", "lock1"},
		{Input, "exit", 1, "", "exit1"},
		{Input, "contact", 2, "", "contact2"},
		{PulseIn, "", 2, "exit", "reader2-exit"},
		{PulseIn, "", 1, "entry", "reader1-entry"},
		{Bus, "", 2, "exit", "bus"},
		{Output, "lock", 2, "", "lock-power"},
		{Output, "signal", 2, "", "reader2-power"},
		{Output, "aux", 1, "", "device-power"},
		{Output, "sounder", 3, "", ""},
		{Source, "", 0, "", ""},
	}
	for _, c := range cases {
		got, ok := m.FindPort(c.is, c.use, c.channel, c.side)
		if got != c.want || ok != (c.want != "") {
			t.Errorf("%s %q %d %q: %q %v, want %q", c.is, c.use, c.channel, c.side, got, ok, c.want)
		}
	}
	if m.Channels() != 2 || m.Running() != "feed" {
		t.Errorf("channels %d, running %q", m.Channels(), m.Running())
	}
}

func TestPinsAndTerminals(t *testing.T) {
	if got := Pins(Port{Is: Bar, Ways: 3}); !slices.Equal(got, []string{"1", "2", "3"}) {
		t.Errorf("bar %v", got)
	}
	if got := Pins(Port{Is: Through, Ways: 2}); !slices.Equal(got, []string{"1a", "1b", "2a", "2b"}) {
		t.Errorf("through %v", got)
	}
	for _, ways := range []int{0, -3} {
		if got := Pins(Port{Is: Bar, Ways: ways}); len(got) != 0 {
			t.Errorf("%d ways: %v", ways, got)
		}
	}
	m, _ := Builtin().Get("controller-1-12")
	if x := m.Terminal("lock1.nc"); x == nil || x.Label != "NC1" {
		t.Errorf("lock1.nc is on %+v", x)
	}
	if m.Terminal("lock1.nowhere") != nil || m.Port("nowhere") != nil {
		t.Error("found what is not there")
	}
	if p, pin := SplitPin(PinOf("reader1-entry", "d0")); p != "reader1-entry" || pin != "d0" {
		t.Errorf("split into %q and %q", p, pin)
	}
	for _, bad := range []string{"", "loose"} {
		if p, pin := SplitPin(bad); p != "" || pin != "" {
			t.Errorf("%q splits into %q and %q", bad, p, pin)
		}
	}
}

func TestContactsAtRest(t *testing.T) {
	for _, c := range []struct{ model, port, want string }{
		{"contact-surface", "reed", RestClosed},
		{"release-2", "pole1", RestClosed},
		{"exit-sensor-12", "break", RestClosed},
		{"exit-button-2", "break", RestClosed},
		{"handle-lock-12", "handle", RestOpen},
		{"supply-12-5", "fault", RestClosed},
		{"relay-12", "contact1", ""},
		{"relay-12", "nowhere", ""},
	} {
		m, _ := Builtin().Get(c.model)
		if got := m.AtRest(c.port); got != c.want {
			t.Errorf("%s.%s is %q at rest, want %q", c.model, c.port, got, c.want)
		}
	}
}

func TestSettingsOfInputs(t *testing.T) {
	s := &Settings{Channels: []ChannelSettings{{}, {
		Exit: InputSettings{Scheme: SchemeDouble}, Contact: InputSettings{Scheme: SchemeSingle}, Aux: InputSettings{Rest: RestClosed},
	}}}
	for _, c := range []struct {
		s    *Settings
		p    Port
		want InputSettings
	}{
		{s, Port{Use: "exit", Channel: 2}, s.Channels[1].Exit},
		{s, Port{Use: "contact", Channel: 2}, s.Channels[1].Contact},
		{s, Port{Use: "aux", Channel: 2}, s.Channels[1].Aux},
		{s, Port{Use: "aux", Channel: 3}, InputSettings{Used: true, Rest: RestOpen, Scheme: SchemeNone}},
		{nil, Port{Use: "fire"}, InputSettings{Used: true, Rest: RestClosed, Scheme: SchemeNone}},
		{s, Port{Use: "reset"}, InputSettings{Used: true, Rest: RestOpen, Scheme: SchemeNone}},
	} {
		if got := c.s.Input(&c.p); got != c.want {
			t.Errorf("%s on channel %d: %+v, want %+v", c.p.Use, c.p.Channel, got, c.want)
		}
	}
}

func TestTerminalTakes(t *testing.T) {
	for _, c := range []struct {
		terminal Terminal
		size     unit.Size
		want     bool
	}{
		{Terminal{}, unit.MM2(0.2), true},
		{Terminal{}, unit.MM2(2.5), true},
		{Terminal{}, unit.MM2(4), false},
		{Terminal{}, unit.AWG(26), false}, // 0.129 mm2 (ASTM B258)
		{Terminal{}, unit.AWG(22), true},  // 0.326 mm2 (ASTM B258)
		{Terminal{From: unit.MM2(0.14), To: unit.MM2(0.75)}, unit.MM2(1), false},
		{Terminal{From: unit.MM2(0.14), To: unit.MM2(0.75)}, unit.MM2(0.14), true},
	} {
		if got := c.terminal.Suits(c.size); got != c.want {
			t.Errorf("%+v suits %v: %v", c.terminal, c.size, got)
		}
	}
	if (Terminal{}).Takes() != 1 || (Terminal{Cores: 3}).Takes() != 3 {
		t.Error("wrong number of cores")
	}
}
