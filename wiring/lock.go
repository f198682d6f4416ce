package wiring

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
)

// step is one contact in the lock feed: the current goes in at in and out at out.
type step struct {
	in, out End
	why     Reason
}

// lockFeed wires the locks of a door: from the source through the relay contact, then through every contact that must
// be able to take the power away with no software in the way, to the lock, and back through the second pole of the
// manual release.
func (p *planner) lockFeed(d *job.Door) {
	if len(d.Locks) == 0 {
		return
	}
	first := d.Locks[0]
	for _, l := range d.Locks[1:] {
		if l.Feed != first.Feed {
			p.problem(d.ID, "its locks hang on different feeds, but one relay contact switches one feed",
				"give all locks of the door the same feed")
			return
		}
	}
	controller := p.of(&d.Controller.Fitted)
	source, ok := p.feedEnds(first.Feed, controller, d.Channel)
	if !ok {
		return
	}
	relay, ok := p.relayStep(d, controller)
	if !ok {
		return
	}
	plus, minus := p.chain(d)
	locks := p.lockEnds(d)
	p.follow(source.plus, append([]step{relay}, plus...), locks.plus, whyLockSource, whyLockContact)
	p.follow(source.minus, minus, locks.minus, whyLockReturn, whyLockReturn)
	for _, l := range d.Locks {
		p.suppress(l)
	}
}

// follow joins from, through the steps, to the far end. The join to the first step is named by why; joins after a step
// by that step, and last names the join after a step that has no reason of its own.
func (p *planner) follow(from End, steps []step, to End, why, last Reason) {
	for _, s := range steps {
		p.newGroup()
		if s.why != (Reason{}) {
			why = s.why
		}
		p.join(from, s.in, Power, why)
		from = s.out
		why = s.why
		if s.why == (Reason{}) {
			why = last
		}
	}
	p.newGroup()
	p.join(from, to, Power, why)
}

// relayStep is the contact that gives and takes the lock's power: the controller's own, or that of an interposing
// relay whose coil the controller's contact feeds.
func (p *planner) relayStep(d *job.Door, controller *Device) (step, bool) {
	port, ok := p.port(controller, device.Changeover, "lock", d.Channel, "", fmt.Sprintf("lock relay for door channel %d", d.Channel))
	if !ok {
		return step{}, false
	}
	own := step{in: End{controller, device.PinOf(port, "common")}, out: End{controller, device.PinOf(port, p.restContact(d))}}
	if d.Interpose == nil {
		return own, true
	}
	relay := p.of(d.Interpose)
	source, ok := p.feedEnds(job.Feed{Controller: true}, controller, d.Channel)
	if !ok {
		return step{}, false
	}
	coil, ok := p.port(relay, device.Coil, "", 0, "", "coil")
	if !ok {
		return step{}, false
	}
	p.follow(source.plus, []step{own}, ends(relay, coil).plus, whyInterposeCoil, whyInterposeCoil)
	p.newGroup()
	p.join(source.minus, ends(relay, coil).minus, Power, whyInterposeCoil)
	c, ok := p.workingContact(relay, "")
	return step{in: c.a, out: c.b}, ok
}

// restContact is the relay contact the lock feed takes: closed at rest for a lock that is powered while the relay is
// off, open at rest for the other.
func (p *planner) restContact(d *job.Door) string {
	if d.RelayContact != "" {
		return d.RelayContact
	}
	if poweredWhenLocked(d.Locks[0]) != energiseToLock(d) {
		return "nc"
	}
	return "no"
}

func poweredWhenLocked(l *job.Lock) bool {
	name, ok := l.Model.FindPort(device.LockCoil, "", 0, "")
	return ok && l.Model.Port(name).Action == device.FailSafe
}

func energiseToLock(d *job.Door) bool {
	ch := d.Controller.Settings.Channels
	return d.Channel <= len(ch) && ch[d.Channel-1].EnergiseToLock
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
			if c, ok := p.workingContact(p.of(&e.Fitted), "feed"); ok {
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

// watch wires the coil of the supply-watch relay across the controller's supply and gives its contact.
func (p *planner) watch(d *job.Door) (contactEnds, bool) {
	relay, controller := p.of(d.Watch), p.of(&d.Controller.Fitted)
	coil, ok := p.port(relay, device.Coil, "", 0, "", "coil")
	feed, ok2 := p.port(controller, device.Load, "", 0, "", "supply input")
	if !ok || !ok2 {
		return contactEnds{}, false
	}
	p.joinPair(ends(controller, feed), ends(relay, coil), Power, whyWatchCoil)
	return p.workingContact(relay, "")
}

// lockEnds are the terminals of the lock, or of the joint from which several locks are fed.
func (p *planner) lockEnds(d *job.Door) pair {
	if len(d.Locks) == 1 {
		return p.overLoop(d, p.coil(d.Locks[0]), d.Locks[0], 1)
	}
	at := d.Locks[0].Place
	n := len(d.Locks) + 1
	why := whyLockContact
	why.Why = whyFanOut
	plus := p.add(d.ID+".plus", fmt.Sprintf("junction %d", n), device.JunctionModel(n), at, d.ID, why)
	why = whyLockReturn
	why.Why = whyFanOut
	minus := p.add(d.ID+".minus", fmt.Sprintf("junction %d", n), device.JunctionModel(n), at, d.ID, why)
	for i, l := range d.Locks {
		c := p.overLoop(d, p.coil(l), l, i+1)
		p.newGroup()
		p.join(way(plus, i+2), c.plus, Power, whyLockContact)
		p.join(way(minus, i+2), c.minus, Power, whyLockReturn)
	}
	return pair{way(plus, 1), way(minus, 1)}
}

// coil is the pair of terminals of a lock's winding.
func (p *planner) coil(l *job.Lock) pair {
	d := p.of(&l.Fitted)
	port, _ := p.port(d, device.LockCoil, "", 0, "", "winding")
	return ends(d, port)
}

// overLoop leads the feed of a lock that is on the leaf over the door loop.
func (p *planner) overLoop(d *job.Door, c pair, l *job.Lock, n int) pair {
	if d.Loop == nil || !onLeaf(l) {
		return c
	}
	loop := p.of(d.Loop)
	ways := loop.Model.PortsOf(device.Through)
	if len(ways) == 0 || loop.Model.Port(ways[0]).Ways < 2*n {
		p.problem(d.ID, fmt.Sprintf("the door loop has too few ways for lock %d", n), "fit a door loop with more ways")
		return c
	}
	leg := func(k int, side string) End { return End{loop, device.PinOf(ways[0], fmt.Sprintf("%d%s", k, side))} }
	p.newGroup()
	p.join(leg(2*n-1, "b"), c.plus, Power, whyLockContact)
	p.join(leg(2*n, "b"), c.minus, Power, whyLockReturn)
	return pair{leg(2*n-1, "a"), leg(2*n, "a")}
}

// onLeaf says that a lock moves with the leaf: that is where a handle is.
func onLeaf(l *job.Lock) bool { return l.Model.Kind == "handle-lock" }

// suppress fits a suppressor at the lock when its model has none and the job does not refuse one. A clamp is chosen
// for a fail-safe lock, since a plain diode keeps the current flowing and slows release several times over; a diode,
// which wears contacts least, does for the others.
func (p *planner) suppress(l *job.Lock) {
	d := p.of(&l.Fitted)
	port, ok := d.Model.FindPort(device.LockCoil, "", 0, "")
	if !ok {
		return
	}
	kind := l.Suppressor
	if built := d.Model.Port(port).Suppressor; kind == "" && (built == "" || built == "none") {
		kind = "diode"
		if poweredWhenLocked(l) {
			kind = "clamp"
		}
	}
	coil := ends(d, port)
	p.newGroup()
	switch kind {
	case "clamp":
		s := p.add(d.ID+".clamp", "clamp", device.ClampModel(clampFor(d.Model.Port(port).Nominal)), d.Place, p.doorID(), whySuppressor)
		p.join(lone(s, "a"), coil.plus, Power, whySuppressor)
		p.join(lone(s, "b"), coil.minus, Power, whySuppressor)
	case "diode":
		s := p.add(d.ID+".diode", "diode", device.DiodeModel(), d.Place, p.doorID(), whySuppressor)
		p.join(lone(s, "cathode"), coil.plus, Power, whySuppressor)
		p.join(lone(s, "anode"), coil.minus, Power, whySuppressor)
	}
}
