package circuit

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"doorwright/unit"
)

// Network is a set of named nodes, elements between them, and the switches and senses that gate the elements. It is
// built by its methods, which never fail: what is wrong is kept for Err, so that all mistakes are told at once.
type Network struct {
	names    []string
	byName   map[string]Node
	byFolded map[string]Node // by lower-case name: a SPICE deck does not tell LP from lp
	elements []element
	used     map[string]bool // names of elements, switches and senses
	switches []string
	senses   []SenseSpec
	problems []error
}

// element is one two-terminal part. Linear ones have a resistance and perhaps a voltage in series; the others a law.
type element struct {
	name string
	a, b Node
	gate Gate
	ohms float64 // of a linear element that is on
	emf  float64 // voltage of a linear source, plus at a
	law  law     // nil for a linear element
}

// SenseSpec describes a sense: on at V(A)-V(B) >= On, off again below Off. EitherWay takes the absolute value, as a
// coil without polarity does.
type SenseSpec struct {
	Name      string
	A, B      Node
	On, Off   unit.Volt
	EitherWay bool
}

// New is an empty network.
func New() *Network {
	return &Network{byName: map[string]Node{}, byFolded: map[string]Node{}, used: map[string]bool{}}
}

// Clone is a copy that shares nothing with n; the pattern is the same, so one Analysis serves both.
func (n *Network) Clone() *Network {
	return &Network{
		names:    slices.Clone(n.names),
		byName:   maps.Clone(n.byName),
		byFolded: maps.Clone(n.byFolded),
		elements: slices.Clone(n.elements),
		used:     maps.Clone(n.used),
		switches: slices.Clone(n.switches),
		senses:   slices.Clone(n.senses),
		problems: slices.Clone(n.problems),
	}
}

// Err tells everything that was wrong with what was added, or nil. A network with errors must not be analysed.
func (n *Network) Err() error { return errors.Join(n.problems...) }

func (n *Network) problem(format string, args ...any) {
	n.problems = append(n.problems, fmt.Errorf(format, args...))
}

// Node finds the node of that name or adds it. "0" is Earth. Names consist of letters, digits, '.', '_' and '-', start
// with a letter or digit and are not told apart by case alone.
func (n *Network) Node(name string) Node {
	if name == "0" {
		return Earth
	}
	if i, ok := n.byName[name]; ok {
		return i
	}
	n.checkNodeName(name)
	i := Node(len(n.names))
	n.names = append(n.names, name)
	n.byName[name] = i
	n.byFolded[strings.ToLower(name)] = i
	return i
}

func (n *Network) checkNodeName(name string) {
	folded := strings.ToLower(name)
	if other, ok := n.byFolded[folded]; ok {
		n.problem("the nodes %q and %q differ only in upper and lower case; a SPICE deck cannot tell them apart",
			n.names[other], name)
	}
	if folded == "gnd" {
		n.problem("the node name %q means Earth in a SPICE deck; Earth is called \"0\" here", name)
	}
	if !wellFormed(name) {
		n.problem("%q is not a node name; use letters, digits, '.', '_' and '-', starting with a letter or digit", name)
	}
}

func wellFormed(name string) bool {
	for i := range len(name) {
		c := name[i]
		alphanumeric := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
		if !alphanumeric && (i == 0 || !strings.ContainsRune("._-", rune(c))) {
			return false
		}
	}
	return name != ""
}

// Find is the node of that name, if there is one.
func (n *Network) Find(name string) (Node, bool) {
	if name == "0" {
		return Earth, true
	}
	i, ok := n.byName[name]
	return i, ok
}

// Name is the name of a node.
func (n *Network) Name(i Node) string {
	if i == Earth {
		return "0"
	}
	return n.names[i]
}

// Nodes is the number of nodes, Earth not counted.
func (n *Network) Nodes() int { return len(n.names) }

// Elements is the number of elements.
func (n *Network) Elements() int { return len(n.elements) }

// ElementName is the name of an element.
func (n *Network) ElementName(e Element) string { return n.elements[e].name }

// Ends are the two terminals of an element: the first is plus, the anode or simply the one given first.
func (n *Network) Ends(e Element) (a, b Node) { return n.elements[e].a, n.elements[e].b }

// Switch adds a switch, which is off until a System sets it.
func (n *Network) Switch(name string) Switch {
	n.claim("switch", name)
	n.switches = append(n.switches, name)
	return Switch(len(n.switches) - 1)
}

// SwitchName is the name of a switch.
func (n *Network) SwitchName(s Switch) string { return n.switches[s] }

// Sense adds a sense.
func (n *Network) Sense(spec SenseSpec) Sense {
	n.claim("sense", spec.Name)
	n.checkEnds("sense", spec.Name, spec.A, spec.B)
	n.checkThresholds(spec)
	n.senses = append(n.senses, spec)
	return Sense(len(n.senses) - 1)
}

// SenseName is the name of a sense.
func (n *Network) SenseName(s Sense) string { return n.senses[s].Name }

func (n *Network) checkThresholds(spec SenseSpec) {
	if !finite(float64(spec.On)) || !finite(float64(spec.Off)) || spec.Off > spec.On {
		n.problem("sense %q turns on at %v and off below %v; it has to turn off at or below where it turns on",
			spec.Name, spec.On, spec.Off)
	}
}

// claim notes the name of a switch, sense or element; each is used once.
func (n *Network) claim(what, name string) {
	if name == "" {
		n.problem("a %s has no name", what)
	}
	key := what + " " + name
	if n.used[key] {
		n.problem("the %s name %q is used twice", what, name)
	}
	n.used[key] = true
}

func (n *Network) checkEnds(what, name string, ends ...Node) {
	for _, e := range ends {
		if e < Earth || int(e) >= len(n.names) {
			n.problem("%s %q is joined to node %d, which this network does not have", what, name, e)
		}
	}
}
