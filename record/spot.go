package record

import (
	"cmp"
	"slices"
	"strings"

	"doorwright/meter"
	"doorwright/wiring"
)

// Spot is where and when something is measured, as a record writes it.
type Spot struct {
	Device    string // or the run, at first fix
	Red       string // pin of the red lead; of a run the first core, or what is measured: "insulation"
	Black     string // pin of the black lead; the whole name where it is at another device; empty of a current
	Condition string // as meter.Condition writes it, or FirstFix
}

// FirstFix is the condition of what is measured on a run before anything is connected.
const FirstFix = "first fix"

// SpotOf is the spot of a pair of terminals of a plan.
func SpotOf(plan *wiring.Plan, p meter.Pair) Spot {
	s := Spot{Red: p.At, Condition: p.In.String()}
	if e, ok := plan.End(p.At); ok {
		s.Device, s.Red = e.Device.ID, e.Pin
	}
	s.Black = strings.TrimPrefix(p.To, s.Device+".")
	return s
}

// SpotOfRun is the spot of a loop at first fix; of a measurement that is of no two cores, the red lead names what it is.
func SpotOfRun(f meter.FirstFix) Spot { return Spot{f.Run, cmp.Or(f.Red, f.What), f.Black, FirstFix} }

// Spot is where and when the reading was taken.
func (r Reading) Spot() Spot { return Spot{r.Device, r.Red, r.Black, r.Condition} }

// Pair is the pair of terminals of the reading; false for one at first fix, for a current, and for one of devices that
// the plan does not have.
func (r Reading) Pair(plan *wiring.Plan) (meter.Pair, bool) {
	in, err := meter.ParseCondition(r.Condition)
	if err != nil || r.Shows.Quantity == meter.Amps || plan.Device(r.Device) == nil {
		return meter.Pair{}, false
	}
	p := meter.Pair{At: r.Device + "." + r.Red, To: r.black(plan), In: in, Quantity: r.Shows.Quantity}
	return p, true
}

// black is the terminal of the black lead, which may be at another device.
func (r Reading) black(plan *wiring.Plan) string {
	here := r.Device + "." + r.Black
	if _, ok := plan.End(here); !ok {
		if _, ok := plan.End(r.Black); ok {
			return r.Black
		}
	}
	return here
}

// Leads are the terminals of the two leads as they are labelled on the units. What the plan does not have, such as the
// cores of a run, stays as it was written.
func (r Reading) Leads(plan *wiring.Plan) (red, black string) {
	red, black = r.Red, r.Black
	if e, ok := plan.End(r.Device + "." + r.Red); ok {
		red = e.Name()
	}
	if e, ok := plan.End(r.black(plan)); ok {
		black = e.Name()
	}
	return red, black
}

// Reading is the last reading at a spot that is comparable with a quantity; nil when there is none. A voltage where a
// resistance was meant is found, to be told as the mistake it is.
func (r *Record) Reading(at Spot, q meter.Quantity) *Reading {
	for i := range slices.Backward(r.Read) {
		x := &r.Read[i]
		if x.Spot() == at && kindOf(x.Shows.Quantity) == kindOf(q) {
			return x
		}
	}
	return nil
}

// Current is the last current that was measured into a device, or out of a supply; nil when there is none.
func (r *Record) Current(device string) *Reading {
	for i := range slices.Backward(r.Read) {
		if x := &r.Read[i]; x.Device == device && x.Shows.Quantity == meter.Amps {
			return x
		}
	}
	return nil
}

// kindOf puts together what a meter may be set to by mistake for the other.
func kindOf(q meter.Quantity) meter.Quantity {
	if q == meter.Volts {
		return meter.Ohms
	}
	return q
}
