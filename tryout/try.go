package tryout

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// Try is one door made ready to be played with. It is not changed by plays and may be used by several goroutines.
type Try struct {
	site   *situation.Site
	faults *fault.Catalogue
	door   *job.Door
	island *situation.Island
	near   []*situation.Unit // of the door and what it hangs on, in the order of the plan
}

// New makes a door ready.
func New(site *situation.Site, faults *fault.Catalogue, d *job.Door) *Try {
	t := &Try{site: site, faults: faults, door: d, island: site.Island(d.Controller.ID)}
	for _, u := range t.island.Units {
		if t.serves(u.Device) {
			t.near = append(t.near, u)
		}
	}
	return t
}

// serves says that a device is of the door, or its controller, or of a supply it hangs on.
func (t *Try) serves(d *wiring.Device) bool {
	return d.Door == t.door.ID || of(d.ID, t.door.Controller.ID) ||
		slices.ContainsFunc(t.door.Supplies(), func(s *job.Supply) bool { return of(d.ID, s.ID) })
}

// of says that an id is one, or of something that belongs to it.
func of(id, owner string) bool { return id == owner || strings.HasPrefix(id, owner+".") }

// Show replays a play and tells what the door comes to. It errs on what the door or the plan does not have.
func (t *Try) Show(p Play) (*Scene, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	wrong, err := t.all(p.Wrong)
	if err != nil {
		return nil, err
	}
	is := t.island
	if wrong != nil && !is.Has(wrong) {
		is = t.site.IslandOf(fault.Both(wrong, cutOf(t.island.Conductors[0])))
	}
	c := situation.Nominal()
	c.Supply = p.Supply
	if p.Copper != nil {
		c.Copper = *p.Copper
	}
	b := is.Bench(c)
	if p.Cell != 0 {
		for _, u := range is.Units {
			b.SetCells(u, p.Cell)
		}
	}
	if wrong != nil {
		b = b.With(wrong)
	}
	v := &viewer{try: t, island: is, bench: b, wrong: wrong}
	s := &Scene{Door: t.door}
	last := v.facts()
	for _, a := range p.Acts {
		said, err := v.take(a)
		if err != nil {
			return nil, err
		}
		now := v.facts()
		s.Steps = append(s.Steps, Step{Act: a, Says: said, Changes: changes(last, now)})
		last = now
	}
	v.fill(s, last)
	return s, nil
}

// viewer looks at a bench while a play is replayed.
type viewer struct {
	try    *Try
	island *situation.Island
	bench  *situation.Bench
	wrong  *fault.Fault
}

// take does one act and says it in words.
func (v *viewer) take(a Act) (string, error) {
	if a.Verb == Wait {
		v.bench.Take(situation.Step{Wait: a.Wait})
		return fmt.Sprintf("%v pass", a.Wait), nil
	}
	u := v.island.Unit(a.Device)
	if u == nil {
		return "", fmt.Errorf("%q: there is no device %q at this door", a, a.Device)
	}
	if a.Verb == Card {
		shows := v.bench.Take(situation.Step{Show: a.Device})
		switch {
		case shows.Heard:
			return "Valid card shown at " + name(u.Device), nil
		case shows.Failed != "":
			return fmt.Sprintf("Valid card shown at %s: not understood (%s)", name(u.Device), device.Misheard(shows.Failed)), nil
		}
		return fmt.Sprintf("Valid card shown at %s: nothing arrives", name(u.Device)), nil
	}
	h := handleOf(u.Device, a.Signal)
	if h == nil {
		return "", fmt.Errorf("%q: nothing can do %q to %s", a, a.Signal, name(u.Device))
	}
	v.bench.Take(situation.Step{Do: []situation.Action{{Device: a.Device, Signal: a.Signal, On: a.Verb == On}}, Wait: 1})
	return h.says(u.Device, a.Verb == On), nil
}

// name is what a device is called, without its ratings, with its id.
func name(d *wiring.Device) string {
	title, _, _ := strings.Cut(d.Title, ",")
	if title == "" || title == d.ID {
		return d.ID
	}
	return title + " " + d.ID
}
