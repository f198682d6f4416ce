// Package unit holds the physical quantities that cross package borders, and how people write them.
//
// Every quantity is a float64 in the unit its name says, so that a bare number is never handed on. Parse functions
// read what a person writes ("4.7 kohm", "138 ft", "24 AWG"); String writes it back in three or four figures with a
// sensible prefix. encoding/json sees plain numbers in the base unit, both ways; YAML sees text with the unit.
package unit

// The quantities, each in its base unit. Sizes of conductors are Size, temperature is Celsius because every table of
// the trade is in it.
type (
	Volt       float64 // V
	Ampere     float64 // A
	Ohm        float64 // ohm
	Watt       float64 // W
	Metre      float64 // m
	Second     float64 // s
	Celsius    float64 // degrees Celsius
	AmpereHour float64 // Ah
	Henry      float64 // H
	Baud       float64 // symbols per second
)

// scale is one accepted way to write a unit: its symbol, and that one of it is times/over base units. Two whole
// numbers rather than one factor, since 9 x 0.001 is not the float64 nearest to 0.009 but 9 x 1 / 1000 is.
type scale struct {
	symbol      string
	times, over float64
}

// toBase turns a number of this unit into base units.
func (s scale) toBase(v float64) float64 { return v * s.times / s.over }

// size is how many base units one of this unit is.
func (s scale) size() float64 { return s.times / s.over }

// family lists the ways to write one quantity. The first symbol is the base unit, named in error messages.
type family struct {
	name    string
	scales  []scale
	example string
}

// The foot is 0.3048 m and the inch 25.4 mm, exact by definition (international yard and pound agreement, 1959).
var (
	foot = scale{"ft", 3048, 10_000}
	inch = scale{"in", 254, 10_000}
)

var (
	volts   = family{"voltage", []scale{{"V", 1, 1}, {"mV", 1, 1e3}, {"kV", 1e3, 1}}, "12 V"}
	amperes = family{"current", []scale{{"A", 1, 1}, {"mA", 1, 1e3}, {"uA", 1, 1e6}}, "500 mA"}
	ohms    = family{"resistance", []scale{
		{"ohm", 1, 1},
		{"kohm", 1e3, 1},
		{"Mohm", 1e6, 1},
		{"mohm", 1, 1e3},
		{"Ω", 1, 1},
		{"kΩ", 1e3, 1},
		{"MΩ", 1e6, 1},
		{"mΩ", 1, 1e3},
	}, "4.7 kohm"}
	watts    = family{"power", []scale{{"W", 1, 1}, {"mW", 1, 1e3}, {"kW", 1e3, 1}}, "3 W"}
	metres   = family{"length", []scale{{"m", 1, 1}, {"mm", 1, 1e3}, {"cm", 1, 100}, {"km", 1e3, 1}, foot, inch}, "42 m"}
	seconds  = family{"time", []scale{{"s", 1, 1}, {"ms", 1, 1e3}, {"us", 1, 1e6}, {"min", 60, 1}, {"h", 3600, 1}}, "5 s"}
	celsius  = family{"temperature", []scale{{"C", 1, 1}, {"°C", 1, 1}}, "20 C"}
	ampHours = family{"battery capacity", []scale{{"Ah", 1, 1}, {"mAh", 1, 1e3}}, "17 Ah"}
	henries  = family{"inductance", []scale{{"H", 1, 1}, {"mH", 1, 1e3}}, "500 mH"}
	bauds    = family{"signalling speed", []scale{{"baud", 1, 1}, {"kbaud", 1e3, 1}}, "9600 baud"}
)
