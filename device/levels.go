package device

import (
	"math"
	"slices"

	"doorwright/unit"
)

// LevelBand is the voltage between in and common at which an input reads a level, ends included.
type LevelBand struct {
	Level Level
	Volts unit.Band[unit.Volt]
}

// String is the level in words.
func (l Level) String() string {
	switch l {
	case ShortCircuit:
		return "short circuit"
	case Closed:
		return "closed"
	case Open:
		return "open"
	case Cut:
		return "cut"
	}
	return "between states"
}

// state is one state of a supervised line and its nominal resistance, +Inf for none.
type state struct {
	level Level
	ohms  float64
}

// lineStates are the states of a line by scheme, from low to high resistance; nil for an unsupervised input. The
// resistors stand as in SchemeSingle and SchemeDouble; a contact across its resistor, with another in series.
func lineStates(p Port, s InputSettings) []state {
	series, parallel := float64(s.Series), float64(s.Parallel)
	switch {
	case !p.Supervise:
		return nil
	case s.Scheme == SchemeDouble:
		return []state{{ShortCircuit, 0}, {Closed, series}, {Open, series + parallel}, {Cut, math.Inf(1)}}
	case s.Scheme == SchemeSingle && s.Rest == RestOpen:
		return []state{{Closed, 0}, {Open, parallel}, {Cut, math.Inf(1)}}
	case s.Scheme == SchemeSingle:
		return []state{{ShortCircuit, 0}, {Closed, series}, {Open, math.Inf(1)}}
	}
	return nil
}

// NominalVolts is the voltage at an input whose line has the resistance r, +Inf for a cut one: the divider of pull-up
// and line.
func NominalVolts(p Port, r unit.Ohm) unit.Volt {
	if math.IsInf(float64(r), 1) {
		return p.Reference
	}
	if r+p.PullUp <= 0 {
		return 0
	}
	return unit.Volt(float64(p.Reference) * float64(r) / float64(r+p.PullUp))
}

// Levels are the voltage bands of an input for the scheme set on it, from low to high. What lies outside all of them
// reads Between: the gap around each threshold, and voltages that come from somewhere else.
//
// A supervised input measures against the reference behind its pull-up, so that the tolerance of the reference drops
// out; its thresholds lie midway between the nominal voltages of neighbouring states. An unsupervised input has the Low
// and High of its data sheet, and a supervised one that is set to no scheme works with these too.
func Levels(p Port, s InputSettings) []LevelBand {
	foreign := foreignShare * p.Reference
	bottom, top := -foreign, p.Reference+foreign
	states := lineStates(p, s)
	if states == nil {
		return []LevelBand{
			{Closed, unit.Band[unit.Volt]{Low: bottom, High: p.Low}},
			{Open, unit.Band[unit.Volt]{Low: p.High, High: top}},
		}
	}
	gap := hysteresisShare * p.Reference
	bands := make([]LevelBand, len(states))
	for i, st := range states {
		bands[i] = LevelBand{st.level, unit.Band[unit.Volt]{Low: bottom, High: top}}
		if i > 0 {
			middle := (NominalVolts(p, unit.Ohm(states[i-1].ohms)) + NominalVolts(p, unit.Ohm(st.ohms))) / 2
			bands[i-1].Volts.High = middle - gap
			bands[i].Volts.Low = middle + gap
		}
	}
	return bands
}

// Read is what an input reads at the voltage v between in and common.
func Read(p Port, s InputSettings, v unit.Volt) Reading { return Classify(Levels(p, s), v) }

// Classify is what an input with these bands reads at the voltage v. The margin is to the nearest threshold; the outer
// ends of the lowest and the highest band only tell foreign voltages and are no threshold. A voltage that is no number
// reads Between with margin 0.
func Classify(bands []LevelBand, v unit.Volt) Reading {
	if math.IsNaN(float64(v)) || len(bands) == 0 {
		return Reading{Level: Between, Volts: v}
	}
	outside := unit.Volt(math.Inf(1))
	for i, b := range bands {
		if !b.Volts.Holds(v) {
			outside = min(outside, max(b.Volts.Low-v, v-b.Volts.High))
			continue
		}
		margin := unit.Volt(math.Inf(1))
		if i > 0 {
			margin = v - b.Volts.Low
		}
		if i < len(bands)-1 {
			margin = min(margin, b.Volts.High-v)
		}
		return Reading{Level: b.Level, Volts: v, Margin: margin}
	}
	return Reading{Level: Between, Volts: v, Margin: -outside}
}

// Active says whether an input that reads l sees its contact away from its rest position. An input that is not used is
// never active, and neither is one that reads a fault of its line.
func Active(s InputSettings, l Level) bool {
	if !s.Used {
		return false
	}
	if s.Rest == RestClosed {
		return l == Open
	}
	return l == Closed
}

// Faulty says whether a used and supervised input that reads l reports a fault of its line.
func Faulty(s InputSettings, l Level) bool {
	if !s.Used || s.Scheme == SchemeNone || s.Scheme == "" {
		return false
	}
	return slices.Contains([]Level{ShortCircuit, Cut, Between}, l)
}
