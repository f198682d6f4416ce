package cable

import (
	"strings"

	"doorwright/unit"
)

// Arrangement is how the cores of an element lie: side by side, or twisted in groups.
type Arrangement string

// The arrangements.
const (
	Cores  Arrangement = "cores"
	Pair   Arrangement = "pair"
	Triple Arrangement = "triple"
	Quad   Arrangement = "quad"
)

// GroupSize is how many cores are twisted together; 1 for cores that lie side by side and for unknown text.
func (a Arrangement) GroupSize() int {
	switch a {
	case Pair:
		return 2
	case Triple:
		return 3
	case Quad:
		return 4
	}
	return 1
}

// Make-up families: where a cable is at home, for choosing one that the technician can buy.
const (
	IEC           = "iec"
	NorthAmerican = "north-american"
)

// Element is one bundle of equal cores in a sheath. A composite cable has several, each with a label. LimitPerKM is the
// figure of the data sheet; without it the limit follows from the standards.
type Element struct {
	Label       string      `yaml:"label,omitempty" doc:"what tells the bundle from others in the sheath"`
	Cores       int         `yaml:"cores" need:"say how many cores the bundle has" doc:"number of cores"`
	Arrangement Arrangement `yaml:"arrangement,omitempty" one:"cores|pair|triple|quad" doc:"how the cores lie; cores (side by side) when left out"`
	Size        unit.Size   `yaml:"size" need:"give the conductor size" doc:"of each conductor, in mm2 or AWG"`
	Strand      Strand      `yaml:"strand,omitempty" one:"solid|stranded|flexible" doc:"stranded when left out"`
	Material    Material    `yaml:"material,omitempty" one:"copper|tinned-copper|copper-clad-aluminium" doc:"copper when left out"`
	LimitPerKM  unit.Ohm    `yaml:"limit-per-km,omitempty" doc:"highest resistance of 1 km of one conductor at 20 C"`
	Colours     []string    `yaml:"colours" need:"give the colour of every core" doc:"in order, in IEC 60757 letters or your own words"`
	Screened    bool        `yaml:"screened,omitempty" doc:"whether the bundle has a screen of its own"`
}

// Type is a make of cable as data: what is under the sheath, not how long it is.
type Type struct {
	ID          string        `yaml:"-"`
	Title       string        `yaml:"title" need:"say what people call it" doc:"what people call it"`
	MakeUp      string        `yaml:"make-up,omitempty" one:"iec|north-american" doc:"where it is at home; iec when left out"`
	Elements    []Element     `yaml:"elements" need:"list the bundles of cores" doc:"bundles of cores in the sheath"`
	Screen      bool          `yaml:"screen,omitempty" doc:"whether a screen lies around everything"`
	Capacitance FaradPerMetre `yaml:"capacitance,omitempty" doc:"between the cores of a pair, for each metre"`
	Impedance   unit.Ohm      `yaml:"impedance,omitempty" doc:"characteristic impedance of a pair"`
	Diameter    unit.Metre    `yaml:"diameter,omitempty" doc:"over the sheath"`
}

// Core is one conductor of a cable type.
type Core struct {
	Element   int // which bundle, from 1
	Index     int // place in the cable, from 1
	Colour    string
	Conductor Conductor
	Pair      int // twisted group it belongs to, numbered through the cable from 1; 0 for none
	Screened  bool
}

// Screen is one screen of a cable type.
type Screen struct {
	Element int // the bundle it lies around, from 1; 0 for the one around everything
	Label   string
}

// Cores lists every core, bundle by bundle in the order of the data. A colour that is missing is empty.
func (t Type) Cores() []Core {
	var all []Core
	group := 0
	for i, e := range t.Elements {
		for k := range e.count() {
			if e.Arrangement.GroupSize() > 1 && k%e.Arrangement.GroupSize() == 0 {
				group++
			}
			c := Core{Element: i + 1, Index: len(all) + 1, Conductor: e.Conductor(), Screened: e.Screened || t.Screen}
			if k < len(e.Colours) {
				c.Colour = e.Colours[k]
			}
			if e.Arrangement.GroupSize() > 1 {
				c.Pair = group
			}
			all = append(all, c)
		}
	}
	return all
}

// Screens lists the screens: the overall one first, then bundle by bundle.
func (t Type) Screens() []Screen {
	var all []Screen
	if t.Screen {
		all = append(all, Screen{0, "overall screen"})
	}
	for i, e := range t.Elements {
		if e.Screened {
			all = append(all, Screen{i + 1, strings.TrimSpace("screen " + e.Label)})
		}
	}
	return all
}

// Conductor is that of each core of the bundle.
func (e Element) Conductor() Conductor {
	return Conductor{Size: e.Size, Strand: e.Strand, Material: e.Material, LimitPerKM: e.LimitPerKM}
}

// maxCores bounds what a slip of the keyboard can ask for; control cable is not made with more.
const maxCores = 100

// count is the number of cores, bounded so that a wrong figure stays harmless until Check has named it.
func (e Element) count() int { return max(0, min(e.Cores, maxCores)) }
