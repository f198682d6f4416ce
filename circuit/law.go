package circuit

import "strconv"

// law is how the current of a nonlinear element depends on the voltage across it. One file holds each law with the
// same equation written for a SPICE deck.
type law interface {
	// at is the current from the first terminal to the second at the voltage v, and its slope. Both are continuous
	// in v but for the slope at the kinks the law names in its comment.
	at(v float64) (i, g float64)
	// rough is a conductance and a current into the first terminal that stand in for the law in the very first linear
	// solve, before any voltage is known. nominal is the highest source voltage of the network.
	rough(nominal float64) (g, inject float64)
	// begin is the voltage to linearise at, given the one the first linear solve came to.
	begin(v, nominal float64) float64
	// step limits the move of a Newton step, so that exponentials do not run away and kinks are not jumped over.
	step(from, to float64) float64
	// spice is the element as a line of a SPICE deck between the nodes a and b; number makes its name unique.
	spice(number int, a, b string) string
}

const openSiemens = 1 / OpenOhms

// ramp is x where positive and 0 elsewhere, rounded by a parabola within w of the corner so that the slope is
// continuous.
func ramp(x, w float64) (y, slope float64) {
	switch {
	case x <= -w:
		return 0, 0
	case x >= w:
		return x, 1
	}
	return (x + w) * (x + w) / (4 * w), (x + w) / (2 * w)
}

// deckFunctions are the shapes the laws are written with in a SPICE deck: ramp as above, and the lesser of two currents
// with the corner rounded (e is the square of the rounding).
const deckFunctions = `.func ramp(x,w) {x <= -w ? 0 : (x >= w ? x : (x+w)*(x+w)/(4*w))}
.func lesser(x,y,e) {0.5*(x+y-sqrt((x-y)*(x-y)+e))}
`

// exact writes a figure with every digit it has.
func exact(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// behavioural is a current source from a to b with the given expression.
func behavioural(number int, a, b, expression string) string {
	return "B" + strconv.Itoa(number) + " " + a + " " + b + " I = " + expression
}

// across is the voltage between two nodes as an expression.
func across(a, b string) string { return "V(" + a + "," + b + ")" }
