package tryout

import (
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

func brackwater(t testing.TB) (*situation.Site, *fault.Catalogue) {
	t.Helper()
	j, problems := job.Read("demo", demo.Brackwater)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	plan := wiring.Make(j)
	return situation.New(plan), fault.New(plan)
}

func tryOf(t testing.TB, door string) *Try {
	t.Helper()
	site, faults := brackwater(t)
	for _, d := range site.Plan.Job.Doors {
		if d.ID == door {
			return New(site, faults, d)
		}
	}
	t.Fatalf("no door %s", door)
	return nil
}

func show(t testing.TB, try *Try, p Play, acts ...string) *Scene {
	t.Helper()
	for _, text := range acts {
		a, err := ParseAct(text)
		if err != nil {
			t.Fatal(err)
		}
		p.Acts = append(p.Acts, a)
	}
	s, err := try.Show(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What a play comes to is what the proof examines: the same cause, written as acts, has the same effect.
func TestPlayAgreesWithTheCausesOfTheProof(t *testing.T) {
	site, faults := brackwater(t)
	tried := 0
	for _, d := range site.Plan.Job.Doors {
		try := New(site, faults, d)
		for _, c := range situation.Causes() {
			steps := c.Steps(try.island, d)
			acts, ok := actsOf(steps)
			if !ok || len(steps) == 0 {
				continue
			}
			b := try.island.Bench(situation.Nominal())
			for _, s := range steps {
				b.Take(s)
			}
			want := b.Door(d)
			got, err := try.Show(Play{Acts: acts})
			if err != nil {
				t.Fatalf("%s, %s: %v", d.ID, c.ID, err)
			}
			if got.Effect != want.Effect {
				t.Errorf("%s, %s: %v, by the proof %v", d.ID, c.ID, got.Effect, want.Effect)
			}
			for i, l := range got.Locks {
				if diff := l.Volts - want.Locks[i].Volts; diff > 1e-6 || diff < -1e-6 {
					t.Errorf("%s, %s: %v at %s, by the proof %v", d.ID, c.ID, l.Volts, l.Lock.ID, want.Locks[i].Volts)
				}
			}
			tried++
		}
	}
	if tried < 60 {
		t.Errorf("only %d causes tried", tried)
	}
}

// actsOf writes the steps of a cause as acts; false for what a play does not have.
func actsOf(steps []situation.Step) ([]Act, bool) {
	var all []Act
	for _, s := range steps {
		if s.Flat || len(s.Do) > 1 {
			return nil, false
		}
		for _, a := range s.Do {
			verb := Off
			if a.On {
				verb = On
			}
			all = append(all, Act{Verb: verb, Device: a.Device, Signal: a.Signal})
		}
		if s.Show != "" {
			all = append(all, Act{Verb: Card, Device: s.Show})
		}
		if wait := s.Wait; wait > 0 && len(s.Do) == 0 {
			all = append(all, Act{Verb: Wait, Wait: wait})
		} else if wait > 1 {
			all = append(all, Act{Verb: Wait, Wait: wait - 1})
		}
	}
	return all, true
}

// Cutting any conductor on the way of a lock's power takes the power away, and the scene says which one it was.
func TestCutConductorOnTheWayIsNamed(t *testing.T) {
	cuts := 0
	site, faults := brackwater(t)
	for _, d := range site.Plan.Job.Doors {
		try := New(site, faults, d)
		var acts []string
		s := show(t, try, Play{})
		if s.Locks[0].Power != situation.Powered {
			acts = []string{"card " + d.Entry.ID}
			s = show(t, try, Play{}, acts...)
		}
		if s.Locks[0].Power != situation.Powered || len(s.Locks[0].Feed.Breaks) > 0 {
			t.Fatalf("%s: %v, breaks %v", d.ID, s.Locks[0].Power, s.Locks[0].Feed.Breaks)
		}
		for _, id := range s.Locks[0].Feed.Path {
			cut := show(t, try, Play{Wrong: []string{"cut " + id}}, acts...)
			l := cut.Locks[0]
			named := slices.ContainsFunc(l.Feed.Breaks, func(b Break) bool { return b.Where == id })
			dead := slices.ContainsFunc(cut.Units, func(u Unit) bool { return !u.Runs })
			if l.Power != situation.Unpowered || !named && !dead {
				t.Errorf("%s without %s: %v, %v", d.ID, id, l.Power, l.Feed.Breaks)
			}
			cuts++
		}
	}
	if cuts < 60 {
		t.Errorf("only %d cut", cuts)
	}
}

// Whatever the world can do to a unit has words.
func TestEverySignalOfTheWorldHasAHandle(t *testing.T) {
	seen := 0
	for _, k := range device.Kinds() {
		for _, signal := range k.World {
			d := &wiring.Device{ID: "x", Model: &device.Model{Kind: k.Name}}
			if handleOf(d, signal) == nil {
				t.Errorf("%s: no words for %q", k.Name, signal)
			}
			seen++
		}
	}
	if seen == 0 {
		t.Error("no signals")
	}
}

func TestEveryControlCanBeOperatedAndTakenBack(t *testing.T) {
	site, faults := brackwater(t)
	for _, d := range site.Plan.Job.Doors {
		try := New(site, faults, d)
		for _, c := range show(t, try, Play{}).Controls {
			if again, err := ParseAct(c.Act.String()); err != nil || again != c.Act {
				t.Errorf("%v reads back as %v, %v", c.Act, again, err)
			}
			s, err := try.Show(Play{Acts: []Act{c.Act}})
			if err != nil {
				t.Errorf("%s: %v", c.Act, err)
				continue
			}
			if c.Act.Verb == Card {
				continue
			}
			i := slices.IndexFunc(s.Controls, func(o Control) bool { return o.Act.Device == c.Act.Device && o.Act.Signal == c.Act.Signal })
			if i < 0 || s.Controls[i].Act.Verb == c.Act.Verb || s.Controls[i].On == c.On {
				t.Errorf("%s cannot be taken back", c.Act)
			}
		}
	}
}

// Why a release has two poles: a bridge over one of them leaves the other; only both together defeat it.
func TestBridgeOverOnePoleOfATwoPoleReleaseStillReleases(t *testing.T) {
	try := tryOf(t, "visitor")
	s := show(t, try, Play{}, "on visitor.release1 operated")
	if s.Effect != situation.Released || len(s.Locks[0].Feed.Breaks) < 2 {
		t.Fatalf("%v with breaks %v", s.Effect, s.Locks[0].Feed.Breaks)
	}
	one, other := "join visitor.release1.pole1.a visitor.release1.pole1.b", "join visitor.release1.pole2.a visitor.release1.pole2.b"
	if s := show(t, try, Play{Wrong: []string{one}}, "on visitor.release1 operated"); s.Effect != situation.Released {
		t.Errorf("one pole bridged: %v", s.Effect)
	}
	if s := show(t, try, Play{Wrong: []string{one, other}}, "on visitor.release1 operated"); s.Effect != situation.Held {
		t.Errorf("both poles bridged: %v", s.Effect)
	}
}

func TestWornBatteryAndHotCopperLowerTheVoltage(t *testing.T) {
	try := tryOf(t, "visitor")
	hot := Play{Copper: new(hottest)}
	cool, warm := show(t, try, Play{}), show(t, try, hot)
	if warm.Locks[0].Volts >= cool.Locks[0].Volts {
		t.Errorf("%v in the heat, %v at 20 C", warm.Locks[0].Volts, cool.Locks[0].Volts)
	}
	full := show(t, try, Play{}, "off PS1 mains")
	worn := show(t, try, Play{Cell: 1.9}, "off PS1 mains")
	if worn.Locks[0].Volts >= full.Locks[0].Volts {
		t.Errorf("%v on a worn battery, %v on a full one", worn.Locks[0].Volts, full.Locks[0].Volts)
	}
}

func TestMistakesAreNamed(t *testing.T) {
	try := tryOf(t, "visitor")
	for _, p := range []struct {
		play Play
		says string
	}{
		{Play{Wrong: []string{"cut W99/1"}}, "no conductor"},
		{Play{Wrong: []string{"join visitor.lock1.coil.plus nowhere"}}, "no terminal"},
		{Play{Wrong: []string{"join earth earth"}}, "two different"},
		{Play{Wrong: []string{"nonsense"}}, "write an id"},
		{Play{Acts: []Act{{Verb: On, Device: "visitor.exit1", Signal: "mains"}}}, "nothing can do"},
		{Play{Acts: []Act{{Verb: Card, Device: "staff.nowhere"}}}, "no device"},
		{Play{Cell: 3}, "a cell"},
		{Play{Supply: 2}, "supply 2"},
	} {
		if _, err := try.Show(p.play); err == nil || !strings.Contains(err.Error(), p.says) {
			t.Errorf("%v: %v, should say %q", p.play, err, p.says)
		}
	}
}

func FuzzParseAct(f *testing.F) {
	for _, text := range []string{"card staff.entry", "on staff.exit1 pressed", "off PS1 mains", "wait 5 s", "wait 1e99 s", "on ", ""} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		a, err := ParseAct(text)
		if err != nil {
			return
		}
		if again, err := ParseAct(a.String()); err != nil || again != a {
			t.Errorf("%q reads as %v, and that as %v, %v", text, a, again, err)
		}
	})
}
