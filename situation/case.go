// Package situation is the one place where a wiring plan meets causes and a limit case, becomes a network, is settled
// step by step, and is told again in devices, terminals and conductors.
//
// A cause acts on the world only: a button moves, a card is shown, mains goes. What a controller then does follows
// from what its inputs read through the network and from its settings, in one loop that settles relays, units and
// timers. Proof, meter, standby, the netlist and later the try-out all go through here; nobody else makes a network.
package situation

import "doorwright/unit"

// Case is a limit case: how far everything that varies has gone one way.
type Case struct {
	Name    string
	Copper  unit.Celsius // of the cables
	Worst   bool         // conductors at the most a sound one may have, contacts aged, battery aged
	Supply  int          // -1, 0, 1: supplies at the low end, the middle, the high end of their tolerance
	Winding int          // -1 cold and low in resistance (draws most), 1 hot and high, 0 nominal
	Hot     unit.Celsius // surroundings of the windings
	Loads   int          // -1, 0, 1: other loads at the light end, the middle, the heavy end
	Earthed bool         // the 0 V connections nobody has confirmed are there
}

// Cases lists the limit cases of an island. Where the 0 V connection of a supply is unconfirmed, each case is taken
// with and without it.
//
// Voltage at a lock is lowest with the supply low, the copper hot and the other loads heavy; whether its own winding
// is then hot (little current, weak hold) or cold (much drop) is not known beforehand, so both are tried. The highest
// voltages and the most stubborn holding come the other way round.
func (is *Island) Cases() []Case {
	low, high := is.plan.Job.Temperature.Low, is.plan.Job.Temperature.High
	base := []Case{
		{Name: "nominal", Copper: referenceTemperature, Hot: referenceTemperature},
		{Name: "low, windings hot", Copper: high, Worst: true, Supply: -1, Winding: 1, Hot: high, Loads: 1},
		{Name: "low, windings cold", Copper: high, Worst: true, Supply: -1, Winding: -1, Hot: low, Loads: 1},
		{Name: "high, windings cold", Copper: low, Supply: 1, Winding: -1, Hot: low, Loads: -1},
		{Name: "high, windings hot", Copper: low, Supply: 1, Winding: 1, Hot: high, Loads: -1},
	}
	unsure := false
	for _, w := range is.Conductors {
		unsure = unsure || w.Unsure
	}
	var all []Case
	for _, c := range base {
		c.Earthed = true
		all = append(all, c)
		if unsure {
			c.Name += ", 0 V floating"
			c.Earthed = false
			all = append(all, c)
		}
	}
	return all
}

// Nominal is the case in which everything has its nominal value.
func Nominal() Case {
	return Case{Name: "nominal", Copper: referenceTemperature, Hot: referenceTemperature, Earthed: true}
}

// referenceTemperature is that at which resistances are stated (IEC 60228: 20 C).
const referenceTemperature unit.Celsius = 20
