package wiring_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/internal/site"
	"doorwright/job"
	"doorwright/wiring"

	"pgregory.net/rapid"
)

// moved lists the conductors of a plan that are not in a larger one as they are here, with the same colour and terminals by
// the same names. Left out are those at a screw that has a junction beside it in one of the plans only: there the hand of a
// technician moves them.
func moved(less, more *wiring.Plan) []string {
	relieved := func(p *wiring.Plan, e wiring.End) bool {
		return p.Device(e.Device.ID+"."+strings.ReplaceAll(e.Pin, ".", "-")) != nil || p.Device(e.Device.ID+".earth") != nil && e.Pin == "earth.earth"
	}
	touched := func(e wiring.End) bool {
		if e.Device == nil {
			return false
		}
		if e.Device.Added == nil {
			return relieved(less, e) != relieved(more, e)
		}
		return more.Device(e.Device.ID) == nil
	}
	now := map[string]*wiring.Conductor{}
	for _, c := range more.Conductors {
		now[c.ID] = c
	}
	var all []string
	for _, c := range less.Conductors {
		if touched(c.A) || touched(c.B) {
			continue
		}
		o := now[c.ID]
		if o == nil {
			all = append(all, c.ID+" is gone")
		} else if o.Core.Colour != c.Core.Colour || o.A.String() != c.A.String() || o.B.String() != c.B.String() {
			all = append(all, c.ID+" was from "+c.A.String()+" to "+c.B.String()+", is from "+o.A.String()+" to "+o.B.String())
		}
	}
	return all
}

// relabelled lists the terminals that are labelled otherwise in the larger plan.
func relabelled(less, more *wiring.Plan) []string {
	var all []string
	for _, d := range less.Devices {
		for _, t := range d.Model.Strip {
			o := more.Device(d.ID)
			if o == nil {
				continue
			}
			if e, ok := more.End(wiring.End{Device: d, Pin: t.Pin}.String()); ok && e.Label() != t.Label {
				all = append(all, e.String()+" was "+t.Label+", is "+e.Label())
			}
		}
	}
	return all
}

func siteOf(t *testing.T, doors ...site.Door) *wiring.Plan {
	t.Helper()
	return planOf(t, string(site.Of(doors...)))
}

// A door that is added, wherever it stands in the document, leaves what is landed for the others where it is, under its name:
// every arrangement of the site is added to all others. Whatever a technician has ticked stays ticked.
func TestDoorThatIsAddedMovesNoCore(t *testing.T) {
	all := site.Doors(2 * site.DoorsPerSupply)
	whole := siteOf(t, all...)
	for i, d := range all {
		if i+1 < len(all) && all[i+1].Second() {
			continue // the door that brings the controller of both
		}
		rest := siteOf(t, slices.Concat(all[:i], all[i+1:])...)
		if len(rest.Conductors) >= len(whole.Conductors) {
			t.Fatalf("%s adds nothing", d.ID())
		}
		for _, m := range moved(rest, whole) {
			t.Errorf("with %s added %s", d.ID(), m)
		}
	}
}

// The first door of a controller or a supply, to which a second one comes.
func TestSecondDoorMovesNoCore(t *testing.T) {
	for i, d := range site.Doors(2 * site.DoorsPerSupply) {
		if d.Second() {
			continue
		}
		less, more := siteOf(t, d), siteOf(t, d, site.Door{Number: i + 2})
		for _, m := range append(moved(less, more), relabelled(less, more)...) {
			t.Errorf("with a door added to %s %s", d.ID(), m)
		}
	}
}

// A door of any make-up that is written before or behind another moves none of its cores; behind it, no label of a
// terminal either. Where two supplies must have one 0 V for data, they are joined at the first door that asks for it: such
// doors are added behind.
func TestDoorsOfAnyMakeUpMoveNoCore(t *testing.T) {
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		doors := []string{drawnDoor(t), drawnDoor(t), drawnDoor(t)}
		order := rapid.Permutation([]int{0, 1, 2}).Draw(t, "order")
		makeUp, zero := rapid.SampledFrom([]string{"iec", "north-american"}).Draw(t, "make-up"), rapid.SampledFrom([]string{"earthed", "floating", "unknown"}).Draw(t, "0 V")
		read := func(order []int) *wiring.Plan {
			j, _ := job.Read("drawn.yaml", []byte(drawnJob(doors, makeUp, zero, order)))
			if j == nil {
				return nil
			}
			return wiring.Make(j)
		}
		out := rapid.IntRange(0, 2).Draw(t, "added")
		less, more := read(slices.Delete(slices.Clone(order), out, out+1)), read(order)
		if out < 2 && strings.Contains(strings.Join(doors, ""), "reader-pulse-wide, feed: PS2") || less == nil || more == nil || len(less.Problems)+len(more.Problems) > 0 {
			return
		}
		tried++
		found := moved(less, more)
		if out == 2 {
			found = append(found, relabelled(less, more)...)
		}
		for _, m := range found {
			t.Errorf("with a door added %s", m)
		}
	})
	if tried < 10 {
		t.Errorf("only %d were tried", tried)
	}
}
