package wiring

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
)

// step is one contact in the lock feed: the current goes in at in and out at out. Why names the conductor that leads to
// it.
type step struct {
	in, out End
	why     Reason
}

// lockFeed wires the locks of a door: from the source through the relay contact, then through every contact that must
// be able to take the power away with no software in the way, to the lock, and back through the second pole of the
// manual release.
func (p *planner) lockFeed(d *job.Door) {
	if !p.alike(d) {
		return
	}
	controller := p.of(&d.Controller.Fitted)
	source, ok := p.feedEnds(d.Locks[0].Feed, controller, d.Channel)
	if !ok {
		return
	}
	relay, ok := p.relayStep(d, controller)
	if !ok {
		return
	}
	plus, minus := p.chain(d)
	locks := p.lockEnds(d)
	there := p.follow(source.plus, append([]step{relay}, plus...), locks.plus, whyLockFeed)
	back := p.follow(source.minus, minus, locks.minus, whyLockReturn)
	outAndBack(there, back)
	for _, l := range d.Locks {
		p.suppress(p.of(&l.Fitted), device.LockCoil, l.Suppressor)
	}
}

// alike says that one relay contact can serve all locks of a door, and reports why it cannot.
func (p *planner) alike(d *job.Door) bool {
	for _, l := range d.Locks {
		first := d.Locks[0]
		if l.Feed != first.Feed {
			p.problem(d.ID, "its locks hang on different feeds, but one relay contact switches one feed",
				"give all locks of the door the same feed")
			return false
		}
		if poweredWhenLocked(l) != poweredWhenLocked(first) {
			p.problem(d.ID, fmt.Sprintf("%s and %s need power at opposite times, but one relay contact serves both",
				first.ID, l.ID), "fit locks that are all fail-safe or all fail-secure")
			return false
		}
	}
	return len(d.Locks) > 0
}

// follow joins from, through the steps, to the far end. Last names the join to the far end.
func (p *planner) follow(from End, steps []step, to End, last Reason) []*wish {
	var all []*wish
	for _, s := range append(steps, step{in: to, why: last}) {
		if w := p.join(from, s.in, Power, s.why); w.laid() {
			all = append(all, w)
		}
		from = s.out
	}
	return all
}

// outAndBack lays the two poles of a feed side by side wherever both go between the same two places, so that the
// current of one sheath sums to nothing.
func outAndBack(there, back []*wish) {
	met := map[*wish]bool{}
	for _, w := range there {
		w.colour = plusColour
		for _, v := range back {
			v.colour = minusColour
			if !met[v] && samePlaces(w, v) {
				met[v] = true
				sideBySide(w, v)
				break
			}
		}
	}
}

// relayStep is the contact that gives and takes the lock's power: the controller's own, or that of an interposing
// relay whose coil the controller's contact feeds.
func (p *planner) relayStep(d *job.Door, controller *Device) (step, bool) {
	what := fmt.Sprintf("lock relay for door channel %d", d.Channel)
	port, ok := p.port(controller, device.Changeover, "lock", d.Channel, "", what)
	if !ok {
		return step{}, false
	}
	own := step{pinOf(controller, port, "common"), End{controller, device.PinOf(port, relayContact(d))}, whyLockSource}
	if d.Interpose == nil {
		return own, true
	}
	source, ok := p.feedEnds(job.Feed{Controller: true}, controller, d.Channel)
	if !ok {
		return step{}, false
	}
	own.why = whyInterposeCoil
	relay := p.of(d.Interpose)
	c, ok := p.relay(relay, func(coil pair) {
		there := p.follow(source.plus, []step{own}, coil.plus, whyInterposeCoil)
		back := p.follow(source.minus, nil, coil.minus, whyInterposeCoil)
		outAndBack(there, back)
	})
	return step{c.a, c.b, whyLockSource}, ok
}

// relay feeds the coil of a relay and gives the contact that closes when it pulls in.
func (p *planner) relay(relay *Device, feed func(coil pair)) (contactEnds, bool) {
	coil, ok := p.port(relay, device.Coil, "", 0, "", "coil")
	if !ok {
		return contactEnds{}, false
	}
	feed(ends(relay, coil))
	p.suppress(relay, device.Coil, "")
	return p.contact(relay, "", true)
}

// relayContact is the relay contact the lock feed takes: closed at rest for a lock that is powered while the relay is
// off, open at rest for the other.
func relayContact(d *job.Door) string {
	if d.RelayContact != "" {
		return d.RelayContact
	}
	if poweredWhenLocked(d.Locks[0]) != settings(d).EnergiseToLock {
		return "nc"
	}
	return "no"
}

func poweredWhenLocked(l *job.Lock) bool {
	name, ok := l.Model.FindPort(device.LockCoil, "", 0, "")
	return ok && l.Model.Port(name).Action == device.FailSafe
}

// chain lists the contacts that stand hard in the lock feed, in the plus and in the minus conductor.
func (p *planner) chain(d *job.Door) (plus, minus []step) {
	if d.Fire != nil {
		if c, ok := p.contact(p.of(d.Fire), "fire", true); ok {
			plus = append(plus, step{c.a, c.b, whyFireInFeed})
		}
	}
	if d.Watch != nil {
		if c, ok := p.watch(d); ok {
			plus = append(plus, step{c.a, c.b, whyWatchInFeed})
		}
	}
	for _, e := range d.Exits {
		if e.Breaks {
			if c, ok := p.contact(p.of(&e.Fitted), "feed", true); ok {
				plus = append(plus, step{c.a, c.b, whyExitInFeed})
			}
		}
	}
	for _, r := range d.Releases {
		if !r.InFeed {
			continue
		}
		poles := p.poles(p.of(&r.Fitted))
		if len(poles) > 0 {
			plus = append(plus, step{poles[0].a, poles[0].b, whyReleaseFirst})
		}
		if len(poles) > 1 {
			minus = append(minus, step{poles[1].a, poles[1].b, whyReleaseSecond})
		}
	}
	return plus, minus
}

// watch lays the coil of the supply-watch relay across the controller's supply and gives its contact.
func (p *planner) watch(d *job.Door) (contactEnds, bool) {
	controller := p.of(&d.Controller.Fitted)
	feed, ok := p.port(controller, device.Load, "", 0, "", "supply input")
	if !ok {
		return contactEnds{}, false
	}
	return p.relay(p.of(d.Watch), func(coil pair) { p.joinPair(ends(controller, feed), coil, whyWatchCoil) })
}

// lockEnds are the terminals of the lock, or of the joints at the head from which several locks are fed.
func (p *planner) lockEnds(d *job.Door) pair {
	if len(d.Locks) == 1 {
		return p.winding(d.Locks[0])
	}
	joint := func(end string, why Reason) *Device {
		why.Why = whyFanOut
		return p.addAt(d.Locks[0].Place, d.ID, junction(d.ID+"."+end, len(d.Locks)+1, why))
	}
	plus, minus := joint("plus", whyLockFeed), joint("minus", whyLockReturn)
	for i, l := range d.Locks {
		to := p.winding(l)
		there := p.follow(way(plus, i+2), nil, to.plus, whyLockFeed)
		back := p.follow(way(minus, i+2), nil, to.minus, whyLockReturn)
		outAndBack(there, back)
	}
	return pair{way(plus, 1), way(minus, 1)}
}

// winding is the pair of terminals of a lock's winding. Every model of a lock has one.
func (p *planner) winding(l *job.Lock) pair {
	d := p.of(&l.Fitted)
	port, _ := d.Model.FindPort(device.LockCoil, "", 0, "")
	return ends(d, port)
}
