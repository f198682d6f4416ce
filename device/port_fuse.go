package device

import "doorwright/unit"

// Whether a fuse stays open, as in Port.Blows.
const (
	BlowsOnce   = "once"
	BlowsResets = "resets"
)

// blowsAt is how many times its rating opens a fuse for certain: the usual links of 5 mm x 20 mm open at 2.1 times
// theirs within half an hour at the latest (IEC 60127-2, from memory); resettable ones trip at about twice the current
// that they hold (common practice, no source). What is less is an overload that it may stand for hours.
const blowsAt = 2

// senseShare is how much below that current a fuse certainly has not opened; it only keeps the sense from chattering.
const senseShare = 0.99

// Fused is the current a port is fused at; 0 for one that is not.
func (p *Port) Fused() unit.Ampere {
	switch {
	case p.Is == Fuse:
		return p.Rating
	case p.Is == Output && p.Blows != "":
		return p.Limit
	}
	return 0
}

// Stays says that the fuse of a port stays open once it has opened.
func (p *Port) Stays() bool { return p.Blows != BlowsResets }

// Signals of a fused port, see LineSignal: that it carries what opens it, or stands open with what it feeds still on it;
// and that it has opened.
const (
	FuseOver  = "over"
	FuseBlown = "blown"
)

// fuseOhms is the resistance of the fuse of a port, cold.
func fuseOhms(p *Port) unit.Ohm {
	if p.Ohms > 0 || p.Fused() <= 0 {
		return p.Ohms
	}
	return unit.Ohm(float64(fuseDrop) / float64(p.Fused()))
}

// whole is the condition that a fuse has not opened.
func whole(name string) Condition { return Condition{LineSignal(name, FuseBlown), false} }

// fuseParts is a link between two terminals.
func fuseParts(a *assembly, name string, p Port) {
	a.add(Part{
		Name: PinOf(name, "link"), Is: PartResistor, A: PinOf(name, "a"), B: PinOf(name, "b"), Ohms: fuseOhms(&p),
		When: []Condition{whole(name)},
	})
}

// fuseSense tells the current of a fuse by the voltage over it, either way.
func fuseSense(name string, p Port) (Sense, bool) {
	if p.Fused() <= 0 {
		return Sense{}, false
	}
	a, b := PinOf(name, "a"), PinOf(name, "b")
	if p.Is == Output {
		a, b = PinOf(p.From, "plus"), PinOf(name, "plus")
	}
	over := unit.Volt(blowsAt * float64(p.Fused()) * float64(fuseOhms(&p)))
	return Sense{Signal: LineSignal(name, FuseOver), A: a, B: b, On: over, Off: over * senseShare, EitherWay: true}, true
}
