package device

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"doorwright/unit"
)

// What the lists of figures in shapes cannot say.

// under checks that one figure lies below another; what is not given is not checked.
func under[T interface {
	~float64
	fmt.Stringer
}](c *checker, path, key string, v, limit T, what string) {
	if v > 0 && limit > 0 && v >= limit {
		c.flaw(path+"."+key, v.String(), "has to be below %s, %v", what, limit)
	}
}

// oneOf checks that exactly one of several figures is given.
func (c *checker) oneOf(path string, keys []string, given ...bool) {
	n := 0
	for _, g := range given {
		if g {
			n++
		}
	}
	if n != 1 {
		c.flaw(path, fmt.Sprintf("%d of %s", n, strings.Join(keys, ", ")), "given; give exactly one")
	}
}

func checkLoad(c *checker, path string, p Port) {
	c.oneOf(path, []string{"watts", "amps", "ohms"}, p.Watts > 0, p.Amps > 0, p.Ohms > 0)
	if p.Restart > p.Window.Low && p.Window.Low > 0 {
		c.flaw(path+".restart", p.Restart.String(), "is above the low end of the window, %v", p.Window.Low)
	}
	if p.CutOff > p.Window.Low && p.Window.Low > 0 {
		c.flaw(path+".cut-off", p.CutOff.String(), "is above the low end of the window, %v", p.Window.Low)
	}
	if p.CutOff > p.Restart && p.Restart > 0 {
		c.flaw(path+".cut-off", p.CutOff.String(), "is above the restart voltage, %v", p.Restart)
	}
}

func checkCoil(c *checker, path string, p Port) {
	under(c, path, "pick-up", p.PickUp, p.Nominal, "the nominal voltage")
	under(c, path, "drop-out", p.DropOut, p.PickUp, "the pick-up voltage")
	checkSuppressor(c, path, p)
}

func checkLock(c *checker, path string, p Port) {
	under(c, path, "lets-go", p.LetsGo, p.Holds, "the current at which it works")
	if p.Ohms > 0 {
		under(c, path, "holds", p.Holds, unit.Ampere(float64(p.Nominal)/float64(p.Ohms)), "the nominal current")
	}
	checkSuppressor(c, path, p)
}

// checkSuppressor also asks that a clamp stands off the highest voltage of the window: a clamp that conducts at the
// supply's voltage burns.
func checkSuppressor(c *checker, path string, p Port) {
	switch {
	case p.Suppressor == "clamp" && p.ClampVolts == 0:
		c.flaw(path+".clamp-volts", "", "is missing; a built-in clamp needs its voltage at 1 mA")
	case p.Suppressor != "clamp" && p.ClampVolts != 0:
		c.flaw(path+".clamp-volts", p.ClampVolts.String(), "has no meaning without suppressor: clamp")
	}
	under(c, path, "window", p.Window.High, p.ClampVolts, "the voltage of the clamp")
}

// checkDriven asks that something moves a contact: the world, a sense or the behaviour of the kind.
func checkDriven(c *checker, path string, p Port) {
	name := path[strings.LastIndexByte(path, '.')+1:]
	signal := c.model.SignalOf(name)
	if c.kind == nil || slices.Contains(c.signals, signal) {
		return
	}
	if signal == name && slices.Contains(c.kind.Drives, p.Is) {
		return
	}
	c.flaw(path+".driven", strconv.Quote(signal), "is no signal of %s; signals are %s",
		c.kind.Title, strings.Join(c.signals, ", "))
}

func checkContact(c *checker, path string, p Port) {
	checkDriven(c, path, p)
	c.powered(path, p)
}

// powered checks the port that an output or a contact names as where its power comes from.
func (c *checker) powered(path string, p Port) {
	from := c.model.Port(p.From)
	if p.From != "" && (from == nil || from.Is != Load && from.Is != Source) {
		c.flaw(path+".from", strconv.Quote(p.From), "is no load or source of this model to take power from")
	}
}

func checkThresholds(c *checker, path string, p Port) {
	under(c, path, "low", p.Low, p.High, "the high threshold")
	under(c, path, "high", p.High, p.Reference, "the reference")
}

func checkOutput(c *checker, path string, p Port) {
	c.powered(path, p)
	switch {
	case p.Driven != "":
		checkDriven(c, path, p)
	case p.By != "" || p.Rest != "":
		c.flaw(path+".driven", "", "is missing; a switched output names the signal that switches it")
	}
}

func checkSource(c *checker, path string, p Port) {
	if p.Short > p.Limit && p.Limit > 0 {
		c.flaw(path+".short", p.Short.String(), "is above the limit, %v", p.Limit)
	}
	if p.Float > 0 && p.Float < p.Nominal {
		c.flaw(path+".float", p.Float.String(), "is below the nominal voltage, %v", p.Nominal)
	}
}

// checkBattery tells the two meanings of the type apart: the battery itself has cells, terminals for one name the
// source that they back up.
func checkBattery(c *checker, path string, p Port) {
	c.oneOf(path, []string{"cells", "from"}, p.Cells != 0, p.From != "")
	switch {
	case p.Cells != 0:
		c.batteryItself(path, p)
	case p.From != "":
		c.batteryTerminals(path, p)
	}
}

func (c *checker) batteryItself(path string, p Port) {
	if p.Cells < 0 || p.Cells > maxCells {
		c.flaw(path+".cells", fmt.Sprint(p.Cells), "is no number of cells; 1 to %d", maxCells)
	}
	if p.Ohms == 0 {
		c.flaw(path+".ohms", "", "is missing; a battery needs its internal resistance")
	}
	if p.Capacity == 0 {
		c.flaw(path+".capacity", "", "is missing; a battery needs its capacity at the 20 h rate")
	}
	for _, f := range []struct {
		key string
		v   fmt.Stringer
		set bool
	}{{"dropped", p.Dropped, p.Dropped != 0}, {"charge", p.Charge, p.Charge != 0}} {
		if f.set {
			c.flaw(path+"."+f.key, f.v.String(), "has no meaning for the battery itself; it belongs to the supply")
		}
	}
}

// maxCells is that of a 48 V battery, the largest extra-low voltage in use (common practice, no source).
const maxCells = 24

func (c *checker) batteryTerminals(path string, p Port) {
	from := c.model.Port(p.From)
	if from == nil || from.Is != Source {
		c.flaw(path+".from", strconv.Quote(p.From), "is no source of this model that a battery can back up")
	} else {
		under(c, path, "dropped", p.Dropped, from.Nominal, "the nominal voltage of "+p.From)
	}
	if p.Dropped == 0 {
		c.flaw(path+".dropped", "", "is missing; say at what voltage the battery is disconnected")
	}
	if p.Capacity != 0 {
		c.flaw(path+".capacity", p.Capacity.String(), "has no meaning for terminals; it belongs to the battery")
	}
}
