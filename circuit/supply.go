package circuit

import "math"

// supply is the law of a LimitedSource: the smaller of the current its resistance lets through and the current its
// limit allows, rounded where the two meet, and never below zero.
//
// Without the last, a limiter would take current from a higher source like a shunt regulator; a real supply has a
// rectifier and simply stops. There are no kinks.
type supply struct {
	spec    LimitedSource
	volts   float64
	siemens float64 // of the source resistance
	short   float64
	fold    float64 // slope of the limit, A/V; above zero it folds back
	round   float64 // A: how gently the limit sets in
	idle    float64 // A: how gently the rectifier stops
	reverse float64 // V: how gently the fold ends at 0 V
	steep   float64 // V: where it gives half its limit
}

// The three roundings of a supply, as parts of its own limit or voltage. Figures of our own choice, small against the
// tolerance of any real limiter.
const (
	supplyRound   = 0.01
	supplyIdle    = 0.001
	supplyReverse = 0.01
)

func newSupply(spec LimitedSource) *supply {
	s := &supply{spec: spec, volts: float64(spec.Volts), short: float64(spec.Short)}
	s.siemens = 1 / max(float64(spec.Ohms), LeastOhms)
	limit := float64(spec.Limit)
	s.fold = (limit - s.short) / s.volts
	s.round, s.idle, s.reverse = supplyRound*limit, supplyIdle*limit, supplyReverse*s.volts
	s.steep = s.volts - limit/2/s.siemens
	return s
}

// at writes the rounded lesser of two currents, (x + y - sqrt((x-y)^2 + r^2))/2, as the lesser itself less what the
// corner takes off, so that nothing cancels: deep in its limit a supply is nearly flat, and where two such meet in
// series the digits of their slopes are all that holds the node between them.
func (s *supply) at(v float64) (i, g float64) {
	free := (s.volts - v) * s.siemens
	allowed, dAllowed := ramp(v, s.reverse)
	allowed, dAllowed = s.short+s.fold*allowed, s.fold*dAllowed
	d := free - allowed
	q := math.Sqrt(d*d + s.round*s.round)
	lesser, dLesser, sign := allowed, dAllowed, 1.0
	if d < 0 {
		lesser, dLesser, sign = free, -s.siemens, -1.0
	}
	corner := 0.5 * s.round * s.round / (q + sign*d)
	out, dOut := ramp(lesser-corner, s.idle)
	return -out, -dOut * (dLesser - sign*corner/q*(s.siemens+dAllowed))
}

func (s *supply) rough(float64) (g, inject float64) { return s.siemens, s.siemens * s.volts }

func (s *supply) begin(v, _ float64) float64 { return min(max(v, 0), s.volts) }

// step goes a third of the voltage at most, and from where the supply is flat, blocked or in its limit, not past the
// middle of the steep part between: there alone the slope says where to go.
func (s *supply) step(from, to float64) float64 {
	far := s.volts / 3
	to = min(max(to, from-far), from+far)
	if from > s.volts && to < s.steep || from < 2*s.steep-s.volts && to > s.steep {
		return s.steep
	}
	return to
}

func (s *supply) spice(number int, a, b string) string {
	v := across(a, b)
	free := "(" + exact(s.volts) + "-" + v + ")*" + exact(s.siemens)
	allowed := exact(s.short) + "+" + exact(s.fold) + "*ramp(" + v + "," + exact(s.reverse) + ")"
	return behavioural(number, b, a,
		"ramp(lesser("+free+","+allowed+","+exact(s.round*s.round)+"),"+exact(s.idle)+")")
}
