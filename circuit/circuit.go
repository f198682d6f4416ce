// Package circuit is a DC network and its operating point: resistors, contacts, sources with and without a current
// limit, diodes, voltage clamps, loads of constant current and of constant power. Parts whose state follows from the
// solution (relays, under-voltage cut-offs) are senses: booleans that follow a voltage with hysteresis and gate other
// elements.
//
// A Network is built by name. Analyse studies its pattern once; a System solves it for any values and switch settings
// of that pattern, cold or from where it stands. Netlist writes the very same equations as a SPICE deck, with the
// states frozen, so that anyone can check an answer with another simulator.
//
// The method is nodal: every element has two terminals and is a conductance with a current beside it, so the matrix is
// symmetric. It is eliminated as a network, not as a matrix: each node removed leaves a mesh of its neighbours, and the
// conductance to Earth is carried apart from the rest (Grassmann, Taksar, Heyman 1985, doi 10.1287/opre.33.5.1107, from
// memory). No diagonal is ever formed by subtraction, so parts that hang on nothing but their leak keep their digits.
package circuit

// OpenOhms is the resistance of an open contact and of every element that is off. It is finite so that switching never
// changes the pattern; a gigaohm passes 12 nA at 12 V, less than a damp terminal block.
const OpenOhms = 1e9

// LeakSiemens joins every node to Earth, so that a part without any other path to Earth still has a voltage. It is one
// nanosiemens: 12 nA at 12 V. A much smaller leak costs digits (with 1e-12 S the arithmetic of doubles leaves tenths of
// a millivolt), a larger one would be seen by supervised loops.
const LeakSiemens = 1e-9

// LeastOhms is the smallest resistance an element can have; a smaller value, zero included, counts as this one. It is
// that of a short screw joint, and keeps currents through joints free of rounding (1e-11 A at 12 V).
const LeastOhms = 1e-4

// Earth is the reference node, at 0 V. Its name is "0".
const Earth Node = -1

type (
	// Node is a point where elements meet, by index.
	Node int32
	// Element is a two-terminal element, by index.
	Element int32
	// Sense is a boolean that follows a voltage with hysteresis, by index.
	Sense int32
	// Switch is a boolean set by the caller: a contact moved by the world, a source that is present. By index.
	Switch int32
)
