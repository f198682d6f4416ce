package standby

import "doorwright/unit"

// sizeFactor is one row of IEEE 485, table 1: how much more capacity a lead-acid battery needs at a temperature.
type sizeFactor struct{ fahrenheit, factor float64 }

// sizeFactors is IEEE 485, table 1, cell size correction factors, base 25 C (77 F). The rows at 25, 30, 35 and 125 F
// are from memory.
var sizeFactors = []sizeFactor{
	{25, 1.520},
	{30, 1.430},
	{35, 1.350},
	{40, 1.300},
	{45, 1.250},
	{50, 1.190},
	{55, 1.150},
	{60, 1.110},
	{65, 1.080},
	{66, 1.072},
	{67, 1.064},
	{68, 1.056},
	{69, 1.048},
	{70, 1.040},
	{71, 1.034},
	{72, 1.029},
	{73, 1.023},
	{74, 1.017},
	{75, 1.011},
	{76, 1.006},
	{77, 1.000},
	{78, 0.994},
	{79, 0.987},
	{80, 0.980},
	{81, 0.976},
	{82, 0.972},
	{83, 0.968},
	{84, 0.964},
	{85, 0.960},
	{86, 0.956},
	{87, 0.952},
	{88, 0.948},
	{89, 0.944},
	{90, 0.940},
	{95, 0.930},
	{100, 0.910},
	{105, 0.890},
	{110, 0.880},
	{115, 0.870},
	{120, 0.860},
	{125, 0.850},
}

// tableEnd is the lowest temperature of the table.
const tableEnd unit.Celsius = (25 - 32) / 1.8

// tableFactor is the factor at t, in a straight line between rows, and on along the outermost rows beyond them.
func tableFactor(t unit.Celsius) float64 {
	f := 1.8*float64(t) + 32
	i := 1
	for i < len(sizeFactors)-1 && sizeFactors[i].fahrenheit < f {
		i++
	}
	a, b := sizeFactors[i-1], sizeFactors[i]
	return a.factor + (b.factor-a.factor)*(f-a.fahrenheit)/(b.fahrenheit-a.fahrenheit)
}

// coldFactor is tableFactor without credit for a warm room (common practice).
func coldFactor(t unit.Celsius) float64 { return max(1, tableFactor(t)) }
