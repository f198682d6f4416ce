package find

import (
	"fmt"
	"math"
	"slices"

	"doorwright/meter"
	"doorwright/unit"
)

// Alarm is what comes before any search.
type Alarm struct {
	Says string
	Stop bool // nothing is searched until it is settled
}

// mostVolts is the voltage up to which no harm is to be expected from touching a circuit of direct current: class ES1 of
// IEC 62368-1, 60 V (from memory). No supply of a door gives more.
const mostVolts unit.Volt = 60

// Alarms are what was read or seen that bears on life, the gravest first. Of a pair that was read again the last reading
// counts: the one before was a slip, or is over.
func (f *Finder) Alarms() []Alarm {
	var all []Alarm
	for i, r := range f.readings {
		again := slices.ContainsFunc(f.readings[i+1:], func(o meter.Reading) bool { return o.Pair() == r.Pair() })
		if says := Danger(r); says != "" && !again {
			all = append(all, Alarm{fmt.Sprintf("%s at %s against %s. %s", meter.Show(r.Quantity, r.Value), f.book.Label(r.At), f.book.Label(r.To), says), true})
		}
	}
	for _, o := range f.seen {
		if o.What == meter.LockHolds && o.Is == "yes" && (o.In.Act == meter.Release || o.In.Act == meter.Fire) {
			all = append(all, Alarm{Says: SaysShutIn})
			break
		}
	}
	return all
}

// deadVolts is up to what a pair counts as dead: what a meter picks up or a capacitor keeps is less (common practice, no
// source).
const deadVolts unit.Volt = 0.5

// What is said where mains may have got into a circuit, where something still feeds one, and where a door does not let people
// out.
const (
	SaysMains  = "No supply of a door gives that much: mains may have got into this circuit. Hands and leads off. Have it made dead at the isolator, by whoever may do that, and proved dead before anybody touches it. If it was a slip, take it back and enter what the meter shows."
	SaysFed    = "All is said to be off, and something still feeds these two: a battery, a second supply, network power, or another circuit. No ohms, no plug and no core until it is found and switched off, and the pair proved dead. If it was a slip, take it back and enter what the meter shows."
	SaysShutIn = "A release that does not free the door can shut people in. Before anything else: take the power off the lock where it lets go without it, else prop the door open; have somebody watch it, and tell whoever is in charge."
)

// Danger is what a reading says that comes before any search; empty where it says nothing of the kind.
func Danger(r meter.Reading) string {
	switch v := math.Abs(r.Value); {
	case r.Quantity != meter.Volts:
	case v > float64(mostVolts):
		return SaysMains
	case r.In.Dead() && v > float64(deadVolts):
		return SaysFed
	}
	return ""
}
