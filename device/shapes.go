package device

// shape is all that a port type fixes: its pins, which figures count, and its circuit.
type shape struct {
	is    PortType
	pins  []string
	plane string   // the pin that lies on the unit's 0 V area
	need  []string // figures that must be given, by their key
	may   []string // other figures that have a meaning
	parts func(a *assembly, name string, p Port)
	sense func(name string, p Port) (Sense, bool)
	extra func(c *checker, path string, p Port) // what need and may cannot say
}

// Pins that several port types have.
var (
	pair  = []string{"plus", "minus"}
	ends  = []string{"a", "b"}
	pulse = []string{"d0", "d1", "common"}
)

// shapes is the one list of port types. Channel and use have a meaning everywhere. It is never changed.
var shapes = []shape{
	{
		is: Load, pins: pair, plane: "minus", need: []string{"window"},
		may:   []string{"watts", "amps", "ohms", "nominal", "peak", "cut-off", "restart", "tolerance"},
		parts: loadParts, sense: loadSense, extra: checkLoad,
	},
	{
		is: Coil, pins: pair, need: []string{"nominal", "ohms", "pick-up", "drop-out"},
		may:   []string{"window", "tolerance", "heats", "inductance", "suppressor", "clamp-volts"},
		parts: windingParts, sense: coilSense, extra: checkCoil,
	},
	{
		is: LockCoil, pins: pair,
		need:  []string{"nominal", "window", "ohms", "action", "holds", "lets-go", "duty", "suppressor"},
		may:   []string{"tolerance", "heats", "inductance", "clamp-volts", "peak"},
		parts: windingParts, extra: checkLock,
	},
	{
		is: Contact, pins: ends, need: []string{"rest", "rating", "rated-volts"},
		may: []string{"driven", "ohms", "from"}, parts: contactParts, extra: checkContact,
	},
	{
		is: Changeover, pins: []string{"common", "nc", "no"}, need: []string{"rating", "rated-volts"},
		may: []string{"driven", "ohms"}, parts: changeoverParts, extra: checkDriven,
	},
	{
		is: Input, pins: []string{"in", "common"}, plane: "common",
		need: []string{"reference", "pull-up", "low", "high"}, may: []string{"supervise", "tolerance"},
		parts: inputParts, extra: checkThresholds,
	},
	{
		is: Output, pins: pair, plane: "minus", need: []string{"from", "limit"},
		may: []string{"driven", "rest", "by", "ohms", "nominal", "blows"}, parts: outputParts, sense: fuseSense, extra: checkOutput,
	},
	{
		is: Source, pins: pair, plane: "minus", need: []string{"nominal", "float", "limit"},
		may: []string{"spread", "short", "ohms"}, parts: sourceParts, extra: checkSource,
	},
	{
		is: Battery, pins: pair, plane: "minus",
		may:   []string{"from", "charge", "dropped", "cells", "ohms", "capacity", "nominal"},
		parts: batteryParts, sense: batterySense, extra: checkBattery,
	},
	{is: PulseOut, pins: pulse, plane: "common", may: []string{"side", "ohms"}, parts: pulseOutParts},
	{
		is: PulseIn, pins: pulse, plane: "common", need: []string{"reference", "pull-up", "low", "high"},
		may: []string{"side", "tolerance"}, parts: pulseInParts, extra: checkThresholds,
	},
	{
		is: SerialPort, pins: []string{"tx", "rx", "common"}, plane: "common", need: []string{"speeds"},
		may: []string{"side"}, parts: serialParts,
	},
	{
		is: Bus, pins: []string{"a", "b", "common"}, plane: "common", need: []string{"speeds"},
		may: []string{"side", "terminator", "bias"}, parts: busParts,
	},
	{is: Resistor, pins: ends, need: []string{"ohms"}, may: []string{"tolerance"}, parts: resistorParts},
	{is: Diode, pins: []string{"anode", "cathode"}, may: []string{"rating"}, parts: diodeParts},
	{is: Clamp, pins: ends, need: []string{"clamp-volts"}, parts: clampParts},
	{
		is: Fuse, pins: ends, need: []string{"rating"}, may: []string{"ohms", "blows"},
		parts: fuseParts, sense: fuseSense,
	},
	{is: Bar, need: []string{"ways"}, may: []string{"rating"}, parts: barParts},
	{is: Through, need: []string{"ways"}, may: []string{"ohms", "rating"}, parts: throughParts},
	{is: Earth, pins: []string{"earth"}, parts: earthParts},
}

func shapeOf(is PortType) (shape, bool) {
	for _, s := range shapes {
		if s.is == is {
			return s, true
		}
	}
	return shape{}, false
}

// PortTypes are all port types, in order.
func PortTypes() []PortType {
	var all []PortType
	for _, s := range shapes {
		all = append(all, s.is)
	}
	return all
}
