package device

import "doorwright/unit"

// PartType is the type of a circuit part.
type PartType int

// The circuit parts a unit is made of. Situation turns them into elements of a network, with figures by limit case.
const (
	PartResistor PartType = iota // Ohms
	PartContact                  // Ohms closed; When says when it is closed
	PartDiode                    // a small silicon rectifier, A anode, B cathode
	PartClamp                    // Volts at 1 mA, both ways
	PartSource                   // Volts behind Ohms, A plus, B minus
	PartLimited                  // Volts behind Ohms with Limit and Short, gives only
	PartBattery                  // lead-acid cells: Cells in series behind Ohms, A plus, B minus
	PartPower                    // draws Watts
	PartCurrent                  // draws Amps
	PartLimiter                  // passes current from A to B up to Limit, Ohms below it
)

// Part is one circuit part of a unit. A and B are pins of the unit ("lock1.nc"), nodes inside it (they begin with
// "in_") or Ground.
type Part struct {
	Name      string // unique within the unit: the port, and what of it
	Is        PartType
	A, B      string
	Ohms      unit.Ohm
	Tolerance float64 // relative, of Ohms or Watts or Amps
	Winding   bool    // copper winding: Ohms follows temperature and Heats
	Heats     unit.Celsius
	Volts     unit.Volt
	Spread    float64 // relative, of Volts
	Limit     unit.Ampere
	Short     unit.Ampere
	Watts     unit.Watt
	Amps      unit.Ampere
	Cells     int
	Knee      unit.Volt
	When      []Condition // all must hold; none means always
}

// Ground is the node name of earth.
const Ground = "earth"

// Condition is one signal of the unit and the value it must have.
type Condition struct {
	Signal string
	Is     bool
}

// Sense is a signal of the unit that follows a voltage with hysteresis: a coil that has picked up, a converter that
// runs.
type Sense struct {
	Signal    string
	A, B      string
	On, Off   unit.Volt
	EitherWay bool
	Winding   bool // thresholds are currents in truth: they rise with the winding's temperature
	Heats     unit.Celsius
}
