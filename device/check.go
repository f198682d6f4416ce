package device

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"doorwright/document"
)

// Flaw is one thing wrong with a model: where, from the id of the model on, what was found, and what would be right.
type Flaw struct {
	Path, Found, Want string
}

func (f Flaw) String() string {
	if f.Found == "" {
		return f.Path + ": " + f.Want
	}
	return f.Path + ": " + f.Found + " " + f.Want
}

// checker gathers the flaws of one model.
type checker struct {
	model   *Model
	kind    *Kind    // nil when unknown
	signals []string // all that can move something
	flaws   []Flaw
}

func (c *checker) flaw(path, found, want string, args ...any) {
	c.flaws = append(c.flaws, Flaw{path, found, fmt.Sprintf(want, args...)})
}

// Check is all that is wrong with a model, in the order of its document: its kind and what that needs, terminals, ports
// with their figures. Paths start with the id.
func Check(id string, m *Model) []Flaw {
	c := &checker{model: m, kind: KindOf(m.Kind)}
	if c.kind == nil {
		c.flaw(document.Path(id, "kind"), strconv.Quote(m.Kind), "%s", document.Unknown(m.Kind, "kind", kindNames()))
	} else {
		c.signals = m.World()
		c.signals = append(c.signals, c.kind.Signals...)
		for _, s := range m.Senses() {
			c.signals = append(c.signals, s.Signal)
		}
	}
	c.strip(id)
	c.ports(id)
	c.needs(id)
	return c.flaws
}

func kindNames() []string {
	var names []string
	for _, k := range Kinds() {
		names = append(names, k.Name)
	}
	return names
}

// strip checks that each terminal leads to a pin of its own, and that a port is brought out whole or not at all.
func (c *checker) strip(id string) {
	first := map[string]int{}
	for i, t := range c.model.Strip {
		path := document.Path(id, "strip", i)
		port, pin := SplitPin(t.Pin)
		p := c.model.Port(port)
		at, twice := first[t.Pin]
		switch {
		case p == nil:
			c.flaw(path+".pin", strconv.Quote(t.Pin), "names no port of this model; ports are %s",
				strings.Join(c.model.Ports.Keys(), ", "))
		case !slices.Contains(Pins(*p), pin):
			c.flaw(path+".pin", strconv.Quote(t.Pin), "names no pin of %s; its pins are %s", port, strings.Join(Pins(*p), ", "))
		case twice:
			c.flaw(path+".pin", strconv.Quote(t.Pin),
				"is on terminal %d already; a pin has one terminal, which can take several cores", at)
		default:
			first[t.Pin] = i + 1
		}
		c.terminal(path, t)
	}
	for _, e := range c.model.Ports {
		c.broughtOut(document.Path(id, "ports", e.Key), e.Key, e.Value, first)
	}
}

func (c *checker) terminal(path string, t Terminal) {
	if !t.From.IsZero() && !t.To.IsZero() && t.From.Area() > t.To.Area() {
		c.flaw(path+".from", t.From.String(), "is larger than the largest core, %v", t.To)
	}
	if t.Cores < 0 || t.Cores > maxCores {
		c.flaw(path+".cores", fmt.Sprint(t.Cores), "is no number of cores for one terminal; 1 to %d", maxCores)
	}
}

// maxCores is the largest number of cores that any one terminal takes (common practice, no source).
const maxCores = 4

// broughtOut checks the pins of a port that have no terminal. A port without any is internal; a 0 V pin may do with
// that of its neighbour; a changeover may keep one side to itself, and a contact to 0 V its second pin.
func (c *checker) broughtOut(path, name string, p Port, on map[string]int) {
	var out, missing []string
	for _, pin := range Pins(p) {
		full := PinOf(name, pin)
		switch {
		case on[full] > 0:
			out = append(out, full)
		case c.model.onPlane(full) && c.model.Reach(full) != nil, p.Is == Changeover && pin != "common",
			p.Is == Contact && p.From != "" && pin == "b":
		default:
			missing = append(missing, full)
		}
	}
	if len(out) == 0 {
		return
	}
	for _, full := range missing {
		c.flaw(path, full, "has no terminal though %s has one; put it on the strip", out[0])
	}
}

// ports checks each port by its type.
func (c *checker) ports(id string) {
	outputs := 0
	for _, e := range c.model.Ports {
		path, p := document.Path(id, "ports", e.Key), e.Value
		s, ok := shapeOf(p.Is)
		if !ok {
			unknown := document.Unknown(string(p.Is), "type of port", portTypeNames())
			c.flaw(path+".is", strconv.Quote(string(p.Is)), "%s", unknown)
			continue
		}
		c.figures(path, p, s)
		if s.extra != nil {
			s.extra(c, path, p)
		}
		if p.Channel < 0 || p.Channel > MaxChannels {
			c.flaw(path+".channel", fmt.Sprint(p.Channel), "is no door channel; 1 to %d", MaxChannels)
		}
		if p.Is == Output {
			outputs++
		}
	}
	if outputs > MaxOutputs {
		c.flaw(document.Path(id, "ports"), fmt.Sprintf("%d outputs", outputs), "are too many; at most %d", MaxOutputs)
	}
}

func portTypeNames() []string {
	var names []string
	for _, t := range PortTypes() {
		names = append(names, string(t))
	}
	return names
}

// everywhere are the figures with a meaning for every type of port.
var everywhere = []string{"is", "channel", "use"}

// figures checks which figures are given, and that no number is negative or not a number. Figures are known by the keys
// of the document.
func (c *checker) figures(path string, p Port, s shape) {
	v := reflect.ValueOf(p)
	for i := range v.NumField() {
		key, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("yaml"), ",")
		given := !v.Field(i).IsZero()
		needed := slices.Contains(s.need, key)
		switch {
		case needed && !given:
			c.flaw(path+"."+key, "", "is missing; a port of type %s needs it: %s", s.is, v.Type().Field(i).Tag.Get("doc"))
		case given && !needed && !slices.Contains(s.may, key) && !slices.Contains(everywhere, key):
			c.flaw(path+"."+key, fmt.Sprint(v.Field(i)), "has no meaning for a port of type %s; leave it out", s.is)
		case given && v.Field(i).CanFloat() && !(v.Field(i).Float() > 0):
			c.flaw(path+"."+key, fmt.Sprint(v.Field(i)), "has to be above zero")
		}
	}
	if p.Tolerance > maxTolerance {
		c.flaw(path+".tolerance", fmt.Sprint(p.Tolerance), "is more than %v; write 5 %% as 0.05", maxTolerance)
	}
	if p.Spread > maxTolerance {
		c.flaw(path+".spread", fmt.Sprint(p.Spread), "is more than %v; write 1 %% as 0.01", maxTolerance)
	}
	if p.Ways > maxWays || p.Ways < 0 {
		c.flaw(path+".ways", fmt.Sprint(p.Ways), "is no number of ways; 1 to %d", maxWays)
	}
	c.window(path, p)
}

const (
	// maxTolerance is the widest of the preferred series, E3 (IEC 60063, from memory: 40 %), and some room; above it
	// stands a percentage written as a number.
	maxTolerance = 0.5
	// maxWays bounds junctions and door loops (common practice, no source).
	maxWays = 100
)

func (c *checker) window(path string, p Port) {
	if p.Window.IsZero() {
		return
	}
	if !(p.Window.Low > 0) || p.Window.Low > p.Window.High {
		c.flaw(path+".window", p.Window.String(), "is no window; write it like \"10.8 V to 14.4 V\"")
		return
	}
	if p.Nominal > 0 && !p.Window.Holds(p.Nominal) {
		c.flaw(path+".window", p.Window.String(), "does not hold the nominal %v", p.Nominal)
	}
}

// needs checks what the kind asks for.
func (c *checker) needs(id string) {
	if c.kind == nil {
		return
	}
	for _, n := range c.kind.Needs {
		if !c.model.has(n) {
			c.flaw(document.Path(id, "ports"), "", "%s needs %s; add a port%s%s", c.kind.Title, n.Why,
				when(n.Is != "", " of type "+string(n.Is)), when(n.Use != "", " for use "+n.Use))
		}
	}
	if lock := len(c.model.PortsOf(LockCoil)) > 0; lock != (c.model.Lock.Inside != "") {
		if lock {
			c.flaw(document.Path(id, "lock"), "", "is missing; say inside: %s, %s or %s",
				InsideNever, InsideAlways, InsideWithLever)
		} else {
			c.flaw(document.Path(id, "lock"), "", "has no meaning without a port of type lock; leave it out")
		}
	}
}

func (m *Model) has(n PortNeed) bool {
	return slices.ContainsFunc(m.Ports, func(e document.Entry[Port]) bool {
		return (n.Is == "" || e.Value.Is == n.Is) && (n.Use == "" || e.Value.Use == n.Use)
	})
}

func when(so bool, text string) string {
	if so {
		return text
	}
	return ""
}
