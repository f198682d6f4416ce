package circuit

// currentLoad takes its current at and above the knee and a parabola's part of it below; in reverse it is open. Its one
// kink is at 0 V.
type currentLoad struct {
	amperes, knee float64
}

func (l currentLoad) at(v float64) (i, g float64) {
	i, g = v*openSiemens, openSiemens
	switch {
	case v < 0:
	case v < l.knee:
		u := v / l.knee
		i += l.amperes * u * (2 - u)
		g += 2 * l.amperes * (1 - u) / l.knee
	default:
		i += l.amperes
	}
	return i, g
}

func (l currentLoad) rough(nominal float64) (g, inject float64) { return l.amperes / nominal, 0 }

func (l currentLoad) begin(v, _ float64) float64 { return v }

func (l currentLoad) step(from, to float64) float64 { return stopAt(0, from, to) }

func (l currentLoad) spice(number int, a, b string) string {
	v := across(a, b)
	u := v + "/" + exact(l.knee)
	below := exact(l.amperes) + "*" + u + "*(2-" + u + ")"
	return behavioural(number, a, b, exact(openSiemens)+"*"+v+
		"+("+v+" < 0 ? 0 : ("+v+" < "+exact(l.knee)+" ? "+below+" : "+exact(l.amperes)+"))")
}

// powerLoad takes its power at and above the knee; below, it is the resistor that joins on there; in reverse it is
// open. Its kinks are at the knee, where the slope turns from positive to negative, and at 0 V.
type powerLoad struct {
	watts, knee float64
}

func (l powerLoad) at(v float64) (i, g float64) {
	switch {
	case v < 0:
		return v * openSiemens, openSiemens
	case v < l.knee:
		g = l.watts / (l.knee * l.knee)
		return g * v, g
	}
	i = l.watts / v
	return i, -i / v
}

func (l powerLoad) rough(nominal float64) (g, inject float64) {
	return l.watts / (nominal * nominal), 0
}

// begin takes the upper side: a load is looked for running before it is looked for collapsed.
func (l powerLoad) begin(v, _ float64) float64 { return max(v, l.knee) }

func (l powerLoad) step(from, to float64) float64 {
	if from > l.knee {
		if to < -unfed*from {
			return l.knee
		}
		return max(stopAt(l.knee, from, to), powerFall*from)
	}
	return stopAt(0, from, to)
}

func (l powerLoad) spice(number int, a, b string) string {
	v := across(a, b)
	running := exact(l.watts) + "/max(" + v + "," + exact(l.knee) + ")"
	collapsed := exact(l.watts/(l.knee*l.knee)) + "*" + v
	return behavioural(number, a, b,
		"("+v+" >= "+exact(l.knee)+" ? "+running+" : ("+v+" >= 0 ? "+collapsed+" : "+exact(openSiemens)+"*"+v+"))")
}

// powerFall is the part of its voltage to which a running load may fall in one step: its current then rises by a third,
// and the parts that feed it can follow.
const powerFall = 0.75

// unfed is how many times its voltage a running load must promise to fall below zero when it has nothing to run on: what
// feeds it has more than that many times its own resistance, and a quarter is the most with which it can run. It then goes
// to the brink at once, where something else may catch it. A figure of our own choice.
const unfed = 10

// stopAt ends a step that falls past a kink at the kink.
func stopAt(kink, from, to float64) float64 {
	if from > kink && to < kink {
		return kink
	}
	return to
}
