package device

import "testing"

// A board releases while its fire input is open, latching outputs until reset: the automatic re-lock after a silenced
// alarm is a known danger (common practice, no source).
func TestBoardReleasesOnFire(t *testing.T) {
	s := newSeat(t, "board-12-8")
	s.settings.Outputs = []OutputSettings{{}, {Releases: true}, {Releases: true, Latches: true}}
	steps := []struct {
		name        string
		fire, reset Level
		feed        bool
		want        [4]bool // the fourth output has no settings
	}{
		{"healthy", Closed, Open, true, [4]bool{true, true, true, true}},
		{"fire", Open, Open, true, [4]bool{true, false, false, true}},
		{"fire, somebody resets", Open, Closed, true, [4]bool{true, false, false, true}},
		{"fire over", Closed, Open, true, [4]bool{true, true, false, true}},
		{"reset", Closed, Closed, true, [4]bool{true, true, true, true}},
		{"fire line between states", Between, Open, true, [4]bool{true, false, false, true}},
		{"no power", Closed, Open, false, [4]bool{}},
	}
	for _, c := range steps {
		s.reads["fire"], s.reads["reset"], s.signals["feed"] = c.fire, c.reset, c.feed
		s.act(t, 1)
		got := [4]bool{s.set["out1"], s.set["out2"], s.set["out3"], s.set["out4"]}
		if got != c.want {
			t.Errorf("%s: outputs %v, want %v", c.name, got, c.want)
		}
	}
}

// Only outputs that electronics switch can fail to let go.
func TestBoardThatHangs(t *testing.T) {
	for _, c := range []struct {
		model  string
		wantOn bool
	}{{"board-12-8", false}, {"board-12-8-electronic", true}} {
		s := newSeat(t, c.model)
		s.settings.Outputs = []OutputSettings{{Releases: true}}
		s.reads["fire"], s.reads["reset"] = Closed, Open
		s.act(t, 0)
		s.signals["hung"], s.reads["fire"] = true, Open
		s.act(t, 1)
		if s.set["out1"] != c.wantOn {
			t.Errorf("%s hung, fire: output on %v", c.model, s.set["out1"])
		}
		s.signals["feed"] = false
		s.act(t, 1)
		if s.set["out1"] {
			t.Errorf("%s hung, no power: output on", c.model)
		}
	}
}

// A fire interface that comes up together with the board latches nothing.
func TestBoardLatchesNothingWhileItComesUp(t *testing.T) {
	s := newSeat(t, "board-12-8")
	s.settings.Outputs = []OutputSettings{{Releases: true, Latches: true}}
	s.reads["fire"] = Open
	KindOf("board").Act(s)
	s.reads["fire"] = Closed
	s.act(t, 0)
	if !s.set["out1"] {
		t.Error("the output is latched off")
	}
}
