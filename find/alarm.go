package find

import (
	"fmt"
	"math"

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

// Alarms are what was read or seen that bears on life, the gravest first.
func (f *Finder) Alarms() []Alarm {
	var all []Alarm
	for _, r := range f.readings {
		if !MayBeMains(r) {
			continue
		}
		all = append(all, Alarm{fmt.Sprintf("%s at %s against %s. %s", meter.Show(r.Quantity, r.Value), f.book.Label(r.At), f.book.Label(r.To), SaysMains), true})
	}
	for _, o := range f.seen {
		if o.What == meter.LockHolds && o.Is == "yes" && (o.In.Act == meter.Release || o.In.Act == meter.Fire) {
			all = append(all, Alarm{Says: SaysShutIn})
			break
		}
	}
	return all
}

// What is said where mains may have got into a circuit, and where a door does not let people out.
const (
	SaysMains  = "No supply of a door gives that much: mains may have got into this circuit. Hands and leads off. Have it made dead at the isolator, by whoever may do that, and proved dead before anybody touches it. If it was a slip, take it back and enter what the meter shows."
	SaysShutIn = "A release that does not free the door can shut people in. Before anything else: take the power off the lock where it lets go without it, else prop the door open; have somebody watch it, and tell whoever is in charge."
)

// MayBeMains says that a reading is of more volts than any supply of a door gives.
func MayBeMains(r meter.Reading) bool {
	return r.Quantity == meter.Volts && math.Abs(r.Value) > float64(mostVolts)
}
