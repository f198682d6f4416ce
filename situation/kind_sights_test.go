package situation_test

import (
	"cmp"
	"slices"
	"testing"

	"doorwright/device"
	"doorwright/situation"
)

// sight is where something is seen, and when.
type sight struct{ when, subject string }

// shown is what is seen of every unit.
type shown map[sight]string

// showsOf takes every island through what the world can do to each of its units, one at a time.
func showsOf(t *testing.T, site *situation.Site) shown {
	t.Helper()
	all := shown{}
	for _, is := range site.Islands {
		b := is.Bench(situation.Nominal())
		rest := b.Save()
		all.look(t, is, b, "rest")
		all.windings(is)
		for _, u := range is.Units {
			for _, signal := range device.KindOf(u.Device.Model.Kind).World {
				b.Back(rest)
				act := situation.Action{Device: u.Device.ID, Signal: signal, On: !b.Signal(u, signal)}
				b.Take(situation.Step{Do: []situation.Action{act}, Wait: 1})
				all.look(t, is, b, u.Device.ID+" "+signal)
			}
		}
		for _, d := range is.Doors {
			if d.Entry != nil {
				b.Back(rest)
				when := d.Entry.ID + " card"
				all[sight{when, d.Entry.ID}] = word(b.Take(situation.Step{Show: d.Entry.ID}).Heard, "heard", "not heard")
				all.look(t, is, b, when)
			}
		}
	}
	return all
}

func word(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}

// look enters the locks, relays, inputs and powers of an island.
func (s shown) look(t *testing.T, is *situation.Island, b *situation.Bench, when string) {
	t.Helper()
	if !b.Outcome().Settled() {
		t.Errorf("%s: %v %v", when, b.Outcome().Circuit.Outcome, b.Outcome().Unsteady)
	}
	for _, d := range is.Doors {
		for _, l := range b.Door(d).Locks {
			s[sight{when, l.Lock.ID}] = [...]string{"unpowered", "undecided", "powered"}[l.Power]
		}
	}
	for _, u := range is.Units {
		id, m := u.Device.ID, u.Device.Model
		if m.Running() != "" {
			s[sight{when, id + " power"}] = word(b.Runs(u), "runs", "dark")
		}
		for _, port := range m.PortsOf(device.Coil) {
			s[sight{when, id}] = word(b.Signal(u, port), "pulled", "fallen")
		}
		for _, port := range m.PortsOf(device.Input) {
			s[sight{when, id + "." + port}] = b.Reading(u, port).Level.String()
		}
	}
}

// windings enters which windings of locks have a suppressor, down to the first that has none.
func (s shown) windings(is *situation.Island) {
	bare := firstFree(is, nil)
	for _, d := range is.Doors {
		for _, l := range d.Locks {
			s[sight{"rest", l.ID + " winding"}] = word(l.ID == bare, "bare", "suppressed")
		}
	}
}

// differing are the sights that both have, and that are not the same, in order.
func differing(before, after shown) []sight {
	var all []sight
	for s, was := range before {
		if is, ok := after[s]; ok && is != was {
			all = append(all, s)
		}
	}
	slices.SortFunc(all, func(a, b sight) int {
		return cmp.Or(cmp.Compare(a.subject, b.subject), cmp.Compare(a.when, b.when))
	})
	return all
}
