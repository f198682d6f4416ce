package meter

import (
	"math"

	"doorwright/situation"
	"doorwright/unit"
)

// Test is how a meter drives what it measures without power. On each range of ohms the current brings full scale to the
// same voltage; with more than Open between its leads it shows over range.
type Test struct {
	Full unit.Volt   // at full scale of every range of ohms
	Open unit.Volt   // between open leads, ohms
	Amps unit.Ampere // of the diode range
	Most unit.Volt   // highest reading of the diode range
}

// ordinary is the test of a hand-held meter: 1 mA on 600 ohm and less on every range above, 1.5 V at open leads, diode
// range of 1 mA up to 2 V. Meters differ: 1 mA at the lowest range to below 1 uA at the highest, 0.3 V to 3 V open (from
// memory).
func ordinary() Test { return Test{Full: 0.6, Open: 1.5, Amps: 1e-3, Most: 2} }

// openVolts is the highest voltage the meter brings between its leads.
func (m Meter) openVolts(q Quantity) unit.Volt {
	if q == Diode {
		return m.Test.Most
	}
	return m.Test.Open
}

// showsOhms is what the meter shows at a plain resistance, leads and all; +Inf over range.
func (m Meter) showsOhms(q Quantity, r float64) float64 {
	r += float64(m.LeadOhms) / 2
	if q == Diode {
		return overRange(r*float64(m.Test.Amps), float64(m.Test.Most))
	}
	return overRange(r, m.Ohms.most())
}

func overRange(v, most float64) float64 {
	if v > most {
		return math.Inf(1)
	}
	return v
}

// throughDiode is what the meter shows when a diode lies in the way of its current: z is the small-signal resistance of
// the pair with the diode at rest, of which the diode's own takes the share; own is the resistance that the diode sees, itself
// at rest and no meter there. What it conducts more takes that share of the voltage away.
func (m Meter) throughDiode(q Quantity, z, share, own float64) float64 {
	_, rest := situation.JunctionAmps(0)
	// The pair and the diode are two ports of what is linear: the transfer between them is z*share.
	across := func(amps float64) float64 {
		low, high := 0.0, math.Max(amps*z*share, 0)
		for range 60 {
			v := (low + high) / 2
			i, _ := situation.JunctionAmps(v)
			if extra := i - rest*v; v+own*extra < amps*z*share {
				low = v
			} else {
				high = v
			}
		}
		v := (low + high) / 2
		i, _ := situation.JunctionAmps(v)
		return amps*z - share*z*(i-rest*v)
	}
	if q == Diode {
		return overRange(across(float64(m.Test.Amps)), float64(m.Test.Most))
	}
	for _, r := range m.Ohms.Ranges {
		amps := float64(m.Test.Full) / r.Full
		if v := across(amps); v <= float64(m.Test.Full) {
			return v / amps
		}
	}
	return math.Inf(1)
}
