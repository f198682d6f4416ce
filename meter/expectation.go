package meter

import (
	"slices"
	"sync"

	"doorwright/situation"
	"doorwright/unit"
	"doorwright/wiring"
)

// Expectation is one reading a sound door gives: calculated, never measured.
type Expectation struct {
	Door      string // id of the door; empty when several share the device
	Device    string // id of the device, or of the run
	Pin       string // the terminal for the red lead; of a run the first core
	Against   string // the terminal for the black lead; of a run the second core
	Label     string // both in the words on the units: "L+ against L- at visitor.lock1"
	Condition string // what was done before: "access granted: valid card shown"
	Dead      bool   // the dead test: every source is off and the Caution lines apply
	Quantity  Quantity
	Nominal   float64 // V or ohm
	Low, High float64
	Open      bool   // the meter shows over range; Low is the least that still counts, Nominal and High its top range
	Unit      string // "V" or "ohm"
	Why       string
}

// Holds says whether a reading is as expected. Over range is +Inf.
func (e Expectation) Holds(v float64) bool {
	if e.Open {
		return v >= e.Low
	}
	return v >= e.Low && v <= e.High
}

// The cautions. They accompany every list of expectations.
const (
	CautionOhms = "Ohms only on a pair that is dead and unplugged: mains, battery, any second supply and network power " +
		"off, and proved dead first."
	CautionMains   = "Never at mains terminals: they are work for a licensed electrician."
	CautionRelease = "Never bridge a release or a fire contact, not for a moment and not for a test."
	CautionPeople  = "Before taking power away or giving it, see that nobody is shut in and somebody watches the door."
	CautionBattery = "A battery feeds a short with hundreds of amperes: insulated tools, no rings, one lead at a time."
	CautionLabel   = "Calculated from the plan, not measured. Local codes and licensed practice go before this list."
)

// Cautions lists the cautions in the order to print them.
func Cautions() []string {
	return []string{CautionOhms, CautionMains, CautionRelease, CautionPeople, CautionBattery, CautionLabel}
}

// Expect lists the expected readings of a site: the dead tests first, in the order of the work, then the live ones,
// island by island and condition by condition.
func Expect(site *situation.Site, m Meter) []Expectation { return expect(site, m, lengthShare) }

// lengthShare is how much longer or shorter than its length a cable may be that is not pulled yet (common practice: the
// allowance on a designed length is about as much).
const lengthShare = 0.15

func expect(site *situation.Site, m Meter, share float64) []Expectation {
	all := runLoops(site.Plan, m, share)
	all = append(all, coils(site.Plan, m)...)
	all = append(all, poles(site.Plan, m)...)
	landed := landings(site.Plan)
	dead, living := make([][]Expectation, len(site.Islands)), make([][]Expectation, len(site.Islands))
	var done sync.WaitGroup
	for i, is := range site.Islands {
		done.Go(func() { dead[i], living[i] = island(is, landed, m, share) })
	}
	done.Wait()
	return slices.Concat(all, slices.Concat(dead...), slices.Concat(living...))
}

// island gives the expectations that come from the network of an island.
func island(is *situation.Island, landed map[string]bool, m Meter, share float64) (dead, living []Expectation) {
	doors := placesOf(is, landed)
	d, l := deadSheets(is, doors, landed), liveSheets(is, doors, landed)
	survey(is, share, l, d)
	return tell(d, m.line), tell(l, m.voltage)
}

// label is a pair of terminals in the words on the unit.
func label(d *wiring.Device, pin, against string) string {
	return printed(d, pin) + " against " + printed(d, against) + " at " + d.ID
}

func printed(d *wiring.Device, pin string) string { return wiring.End{Device: d, Pin: pin}.Label() }

// reading makes an expectation of what is true at the terminals: nominal, and the band without the meter.
func (m Meter) reading(q Quantity, nominal float64, b band) Expectation {
	if q == Volts {
		w := m.Volts.widened(b.with(nominal))
		return Expectation{Quantity: Volts, Unit: "V", Nominal: nominal, Low: w.low, High: w.high}
	}
	w := m.Ohms.widened(b.with(nominal).with(b.high + float64(m.LeadOhms)))
	return Expectation{Quantity: Ohms, Unit: "ohm", Dead: true, Nominal: nominal, Low: max(0, w.low), High: w.high}
}

// open makes an expectation of no path.
func (m Meter) open() Expectation {
	top := m.Ohms.most()
	return Expectation{
		Quantity: Ohms, Unit: "ohm", Dead: true, Open: true, Nominal: top, High: top,
		Low: min(top, float64(leastInsulation)*(1-m.Ohms.Share)),
	}
}

// leastInsulation is the least between the cores of a sound circuit at extra-low voltage: 0.5 Mohm (IEC 60364-6, table
// 6A, for SELV and PELV at 250 V).
const leastInsulation unit.Ohm = 0.5e6
