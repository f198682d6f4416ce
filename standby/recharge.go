package standby

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
)

// A battery is to be back at most of its capacity within a day: 80 % in 24 h is asked of fire alarm supplies by EN 54-4,
// 5.3.1, and usual elsewhere.
const (
	// Back is the share of its capacity that counts as charged again.
	Back = 0.8
	// BackIn is the time it may take from empty.
	BackIn unit.Second = 24 * hour
	// efficiency is the share of what is put into a lead-acid battery that stays in it (from memory).
	efficiency = 0.85
)

// Recharge compares what charges a battery once mains is back with what it takes to have it back in time.
type Recharge struct {
	Needs   unit.Ampere
	Charger unit.Ampere // by the data sheet of the supply; 0 when it does not say
	Left    unit.Ampere // of the limit of the supply, beside what hangs on it at rest, where that draws most
}

// Stated says that the data sheet tells what the charger gives.
func (r Recharge) Stated() bool { return r.Charger > 0 }

// Gives is what the battery is charged with: no more than the charger gives, and than is left.
func (r Recharge) Gives() unit.Ampere {
	if !r.Stated() {
		return r.Left
	}
	return min(r.Charger, r.Left)
}

// Enough says that the battery is back in time, for all that is known.
func (r Recharge) Enough() bool { return r.Gives() >= r.Needs }

// Takes is how long the battery takes; false when it is not charged at all.
func (r Recharge) Takes() (unit.Second, bool) {
	if !(r.Gives() > 0) {
		return 0, false
	}
	return BackIn * unit.Second(r.Needs/r.Gives()), true
}

// Charging says what charges the battery, without an end.
func (r Recharge) Charging() string {
	switch {
	case !r.Stated():
		return "What the charger gives is not stated"
	case r.Left < r.Charger:
		return fmt.Sprintf("The charger gives %v, but the doors leave %v of what the supply gives", r.Charger, r.Left)
	}
	return fmt.Sprintf("The charger gives %v", r.Charger)
}

// rechargeOf looks at a supply on benches of its island at rest. Where the network does not come to rest it tells nothing.
func rechargeOf(is *situation.Island, s *job.Supply, benches []*situation.Bench) Recharge {
	into := terminalsOf(s.Model)
	r := Recharge{Needs: recharge(capacityOf(s.Battery.Model)), Charger: into.Charge}
	for _, p := range is.Probes(device.Source) {
		if p.Unit.Device.ID != s.ID || p.PortName != into.From {
			continue
		}
		r.Left = p.Port.Limit
		for _, b := range benches {
			if b.Outcome().Settled() {
				r.Left = max(0, min(r.Left, p.Port.Limit-b.Amps(&p)))
			}
		}
	}
	return r
}

// recharge is the current that brings a battery of the 20 h capacity c back in time.
func recharge(c unit.AmpereHour) unit.Ampere {
	return unit.Ampere(Back * float64(c) / (float64(BackIn/hour) * efficiency))
}

// terminalsOf are those of a supply for its battery.
func terminalsOf(m *device.Model) device.Port {
	for _, name := range m.PortsOf(device.Battery) {
		return *m.Port(name)
	}
	return device.Port{}
}
