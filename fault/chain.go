package fault

import (
	"fmt"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// onChain says that a conductor carries the current of a lock: opening it leaves the lock without power.
func onChain(w *wiring.Conductor) bool { return wired(w) && w.Reason.Effect == wiring.LockDead }

// chain lists every conductor of a lock feed joined to the positive and to the 0 V of its supply, and to earth. A
// conductor that is on that net anyway is left out.
func (c *lister) chain() {
	for _, w := range c.conductors {
		if !onChain(w) {
			continue
		}
		for _, d := range c.lockSupplies() {
			for _, port := range d.Model.PortsOf(device.Source) {
				c.joinedTo(w, Supplied, nodeOf(d, device.PinOf(port, "plus")), "the positive of "+d.ID, []*wiring.Device{d})
				c.joinedTo(w, Grounded, nodeOf(d, device.PinOf(port, "minus")), "0 V of "+d.ID, []*wiring.Device{d})
			}
		}
		c.joinedTo(w, Earthed, device.Ground, "earth", nil)
	}
}

// joinedTo is a conductor joined to a node of its supply, or to earth.
func (c *lister) joinedTo(w *wiring.Conductor, class Class, node, what string, of []*wiring.Device) {
	if c.nets.same(w.B.String(), node) {
		return
	}
	id := string(class) + ":" + w.ID
	if len(of) > 0 {
		id += "@" + of[0].ID
	}
	c.put(Fault{
		ID: id, Class: class,
		Name:   fmt.Sprintf("%s is joined to %s", NameOf(w), what),
		Where:  "from " + spot(w.A) + " to " + spot(w.B),
		Repair: fmt.Sprintf("Find where it touches %s and insulate it, or replace it.", what),
		Spread: touchSpread,
		Edits:  []Edit{{Op: Join, A: w.B.String(), B: node, Ohms: BridgeOhms}},
		At:     []*wiring.Conductor{w}, Of: append(endsOf(w), of...),
	})
}

// lockSupplies are the supplies that feed the locks of the door, or of any door for what is shared.
func (c *lister) lockSupplies() []*wiring.Device {
	var all []*wiring.Device
	for _, d := range c.doors {
		for _, l := range d.Locks {
			if s := supplyOf(d, l.Feed); s != nil {
				all = appendNew(all, c.plan.Device(s.ID))
			}
		}
	}
	return slices.DeleteFunc(all, func(d *wiring.Device) bool { return d == nil })
}

// supplyOf is the supply behind a feed; nil when the job names none.
func supplyOf(d *job.Door, f job.Feed) *job.Supply {
	if f.Controller {
		return d.Controller.Feed.Supply
	}
	return f.Supply
}
