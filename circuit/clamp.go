package circuit

import "math"

// clamp is the law of a varistor: 1 mA at its voltage, rising with a high power, the same both ways (IEC 61051-1 gives
// the voltage at 1 mA as the varistor's own). Above clampTop of its voltage it goes on as its tangent, below a floor
// its current of less than 1e-17 A is 0.
type clamp struct {
	volts    float64
	exponent float64
	floor    float64
}

const (
	clampAmpere = 1e-3
	clampTop    = 1.25
	clampNought = 1e-17 // A, below any current that is resolved
)

func newClamp(m ClampModel) clamp {
	v, e := float64(m.Volts), m.Exponent
	return clamp{volts: v, exponent: e, floor: v * math.Pow(clampNought/clampAmpere, 1/e)}
}

func (c clamp) at(v float64) (i, g float64) {
	a := math.Abs(v)
	if a < c.floor {
		return 0, 0
	}
	top := clampTop * c.volts
	at := min(a, top)
	i = clampAmpere * math.Pow(at/c.volts, c.exponent)
	g = c.exponent * i / at
	return math.Copysign(i+g*(a-at), v), g
}

func (c clamp) rough(float64) (g, inject float64) { return 0, 0 }

func (c clamp) begin(v, _ float64) float64 { return min(max(v, -c.volts), c.volts) }

func (c clamp) step(from, to float64) float64 {
	far := 0.1 * c.volts
	if math.Abs(to) <= c.volts || math.Abs(to-from) <= far {
		return to
	}
	if math.Abs(from) < c.volts {
		return math.Copysign(c.volts, to)
	}
	return from + math.Copysign(far, to-from)
}

func (c clamp) spice(number int, a, b string) string {
	v := across(a, b)
	top := clampTop * c.volts
	i := clampAmpere * math.Pow(clampTop, c.exponent)
	g := c.exponent * i / top
	size := "(" + exact(clampAmpere) + "*pow(min(abs(" + v + ")," + exact(top) + ")/" + exact(c.volts) + "," +
		exact(c.exponent) + ")+" + exact(g) + "*max(abs(" + v + ")-" + exact(top) + ",0))"
	return behavioural(number, a, b, "("+v+" > 0 ? 1 : -1)*"+size)
}
