package circuit

import "doorwright/unit"

// Limiter adds a current limit in series between a and b: Ohms for small currents, never more than Limit, the same both
// ways. It is what stands between a unit's supply and an output that it hands on.
func (n *Network) Limiter(name string, a, b Node, r unit.Ohm, limit unit.Ampere, g Gate) Element {
	n.positive(name, "resistance in ohms", float64(r))
	n.positive(name, "current limit in amperes", float64(limit))
	return n.add(element{name: name, a: a, b: b, gate: g, law: limiter{float64(limit), 2 * float64(limit) * float64(r)}})
}

// limiter follows a parabola up to its limit, so that its slope is continuous everywhere: no kinks.
type limiter struct {
	limit, knee float64
}

func (l limiter) at(v float64) (i, g float64) {
	i, g = v*openSiemens, openSiemens
	size, sign := v, 1.0
	if v < 0 {
		size, sign = -v, -1.0
	}
	if size >= l.knee {
		return i + sign*l.limit, g
	}
	u := size / l.knee
	return i + sign*l.limit*u*(2-u), g + 2*l.limit*(1-u)/l.knee
}

func (l limiter) rough(float64) (g, inject float64) { return 2 * l.limit / l.knee, 0 }

func (l limiter) begin(v, _ float64) float64 { return max(-l.knee/2, min(v, l.knee/2)) }

// step stops short of the flat part before it lets a step go there: on it the slope says nothing of where to go. A step
// to the other side stops at 0 V, where the law is steepest: from there each step falls short of where the law leads,
// while from brink to brink they would go on for ever.
func (l limiter) step(from, to float64) float64 {
	brink := limiterBrink * l.knee
	switch {
	case from > 0 && to < 0, from < 0 && to > 0:
		return 0
	case from < brink && to > brink:
		return brink
	case from > -brink && to < -brink:
		return -brink
	}
	return to
}

// limiterBrink is the part of the knee at which a step stops first; the slope there is a tenth of that at 0 V.
const limiterBrink = 0.9

func (l limiter) spice(number int, a, b string) string {
	v := across(a, b)
	size := "abs(" + v + ")"
	u := size + "/" + exact(l.knee)
	below := exact(l.limit) + "*" + u + "*(2-" + u + ")"
	return behavioural(number, a, b, exact(openSiemens)+"*"+v+
		"+sgn("+v+")*("+size+" < "+exact(l.knee)+" ? "+below+" : "+exact(l.limit)+")")
}
