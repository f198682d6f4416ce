package rules

import (
	"fmt"
	"strings"

	"doorwright/unit"
)

// Demand is one figure of a family with its source. The zero value of T means that the family does not demand it.
type Demand[T any] struct {
	Value  T
	Source Source
}

// Hold is how long a door stays unlocked after its manual release was used.
type Hold struct {
	AtLeast    unit.Second // made in the device itself, not by a controller; 0 for no time
	UntilReset bool        // until a person resets the device on purpose; stricter than any time
}

func (h Hold) String() string {
	switch {
	case h.UntilReset:
		return "until it is reset on purpose"
	case h.AtLeast > 0:
		return "at least " + h.AtLeast.String()
	}
	return "not demanded"
}

// Relock is when a door that a fire signal unlocked may lock again.
type Relock int

// The ways to lock again, from the least to the most strict.
const (
	RelockAny       Relock = iota // not laid down
	RelockFireReset               // not before the fire alarm is reset
	RelockByHand                  // only by hand at the door
)

func (r Relock) String() string {
	return nameOf(int(r), "not laid down", "only after the fire alarm is reset", "only by hand at the door")
}

// Standby says whether a battery may keep an escape door locked.
type Standby int

// The answers, from the least to the most strict.
const (
	StandbyAllowed Standby = iota
	StandbyByApproval
	StandbyForbidden
)

func (s Standby) String() string {
	return nameOf(int(s), "allowed", "only with written approval", "forbidden")
}

// Ways are the means by which a family lets people out. A family may need several of them.
type Ways uint

// The ways out.
const (
	FreeHandle   Ways = 1 << iota // the handle opens the door by hand, whatever the electrics do
	LeafSwitch                    // a switch in the hardware on the leaf breaks the lock feed
	Sensor                        // a sensor sees people come and releases
	ManualDevice                  // a device at the door, worked by hand, breaks the lock feed
)

func (w Ways) String() string {
	var names []string
	for i, name := range [...]string{
		"free handle", "switch in the hardware on the leaf", "release sensor", "manual release device",
	} {
		if w&(1<<i) != 0 {
			names = append(names, name)
		}
	}
	return strings.Join(names, " and ")
}

// Parameters are the figures of a family. They bind an escape door whose handle does not always open it by hand.
type Parameters struct {
	ManualRelease       Demand[bool]                  // a release worked by hand is needed in the lock feed
	ReleasesPerWay      Demand[int]                   // so many for each direction people escape in
	HardBreak           Demand[bool]                  // its contact itself breaks the lock feed
	Hold                Demand[Hold]                  // how long it stays unlocked
	FireSignal          Demand[bool]                  // a fire signal unlocks the door
	FireCable           Demand[bool]                  // a cut or a short in the fire signal cable unlocks it too
	Relock              Demand[Relock]                // when it may lock again after a fire signal
	LockPowerLoss       Demand[bool]                  // loss of the lock supply unlocks
	ControllerPowerLoss Demand[bool]                  // loss of the supply of what controls the lock unlocks
	SensorPowerLoss     Demand[bool]                  // loss of the supply of a release sensor unlocks
	SingleFault         Demand[bool]                  // no single fault prevents release
	Standby             Demand[Standby]               // whether a battery may keep the lock on
	ReleaseTime         Demand[unit.Second]           // from the contact opening to the leaf free, at most
	Height              Demand[unit.Band[unit.Metre]] // of the manual release above the floor; data, not judged yet
	Distance            Demand[unit.Metre]            // of it from the leaf, at most; data, not judged yet
}

// Line is one parameter written out.
type Line struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Text   string `json:"text"`
	Source Source `json:"source"`
}

// parameter is one row of the table below: how to read, write and tighten one field of Parameters.
type parameter struct {
	id, title string
	line      func(Parameters) Line
	tighten   func(into *Parameters, by Parameters) // takes the stricter of the two; of equal ones the better known
	weaker    func(a, b Parameters) bool            // a is less strict than b
}

// parameters is the one list of them; papers, joins and tests go through it.
var parameters = []parameter{
	row("manual-release", "Manual release in the lock feed",
		func(p *Parameters) *Demand[bool] { return &p.ManualRelease }, either, needed),
	row("releases-per-way", "Manual releases for each escape direction",
		func(p *Parameters) *Demand[int] { return &p.ReleasesPerWay }, more[int], count),
	row("hard-break", "The release contact itself breaks the lock feed",
		func(p *Parameters) *Demand[bool] { return &p.HardBreak }, either, needed),
	row("hold", "Unlocked after the manual release",
		func(p *Parameters) *Demand[Hold] { return &p.Hold }, longer, Hold.String),
	row("fire-signal", "Fire signal unlocks",
		func(p *Parameters) *Demand[bool] { return &p.FireSignal }, either, needed),
	row("fire-cable", "Cut or short in the fire signal cable unlocks",
		func(p *Parameters) *Demand[bool] { return &p.FireCable }, either, needed),
	row("relock", "Locks again after a fire signal", func(p *Parameters) *Demand[Relock] { return &p.Relock },
		more[Relock], Relock.String),
	row("lock-power-loss", "Loss of lock power unlocks",
		func(p *Parameters) *Demand[bool] { return &p.LockPowerLoss }, either, needed),
	row("controller-power-loss", "Loss of controller power unlocks",
		func(p *Parameters) *Demand[bool] { return &p.ControllerPowerLoss }, either, needed),
	row("sensor-power-loss", "Loss of power to a release sensor unlocks",
		func(p *Parameters) *Demand[bool] { return &p.SensorPowerLoss }, either, needed),
	row("single-fault", "No single fault prevents release",
		func(p *Parameters) *Demand[bool] { return &p.SingleFault }, either, needed),
	row("standby", "Battery that keeps the lock on", func(p *Parameters) *Demand[Standby] { return &p.Standby },
		more[Standby], Standby.String),
	row("release-time", "Time to release, at most", func(p *Parameters) *Demand[unit.Second] { return &p.ReleaseTime },
		lower[unit.Second], figure[unit.Second]),
	row("height", "Height of the manual release or of the hardware",
		func(p *Parameters) *Demand[unit.Band[unit.Metre]] { return &p.Height }, overlap,
		func(b unit.Band[unit.Metre]) string { return figureText(b.IsZero(), b.String()) }),
	row("distance", "Distance of the manual release from the leaf, at most",
		func(p *Parameters) *Demand[unit.Metre] { return &p.Distance }, lower[unit.Metre], figure[unit.Metre]),
}

// row makes a parameter from its field. merge gives a value that meets both a and b; a itself where a already meets b,
// or where nothing meets both.
func row[T comparable](id, title string, field func(*Parameters) *Demand[T], merge func(a, b T) T,
	text func(T) string,
) parameter {
	return parameter{
		id: id, title: title,
		line: func(p Parameters) Line { d := field(&p); return Line{id, title, text(d.Value), d.Source} },
		tighten: func(into *Parameters, by Parameters) {
			a, b := field(into), field(&by)
			switch value := merge(a.Value, b.Value); {
			case value == b.Value && (value != a.Value || b.Source.Mark < a.Source.Mark):
				*a = *b
			case value != a.Value:
				*a = Demand[T]{value, bothSources(a.Source, b.Source)}
			}
		},
		weaker: func(a, b Parameters) bool {
			return merge(field(&a).Value, field(&b).Value) != field(&a).Value
		},
	}
}

func either(a, b bool) bool { return a || b }

func more[T ~int](a, b T) T { return max(a, b) }

// lower compares limits where 0 means none.
func lower[T ~float64](a, b T) T {
	if a == 0 || b == 0 {
		return a + b
	}
	return min(a, b)
}

func longer(a, b Hold) Hold {
	if a.UntilReset || b.UntilReset {
		return Hold{UntilReset: true}
	}
	return Hold{AtLeast: max(a.AtLeast, b.AtLeast)}
}

func overlap(a, b unit.Band[unit.Metre]) unit.Band[unit.Metre] {
	switch {
	case a.IsZero():
		return b
	case b.IsZero() || apart(a, b):
		return a
	}
	return band(max(a.Low, b.Low), min(a.High, b.High))
}

// apart says that two bands were given and have no height in common.
func apart(a, b unit.Band[unit.Metre]) bool {
	return !a.IsZero() && !b.IsZero() && (a.High < b.Low || b.High < a.Low)
}

func band(low, high unit.Metre) unit.Band[unit.Metre] {
	return unit.Band[unit.Metre]{Low: low, High: high}
}

func bothSources(a, b Source) Source { return Source{a.Text + "; " + b.Text, max(a.Mark, b.Mark)} }

func needed(v bool) string {
	if v {
		return "demanded"
	}
	return "not demanded"
}

func count(n int) string { return figureText(n == 0, fmt.Sprint(n)) }

func figure[T interface {
	~float64
	fmt.Stringer
}](v T) string {
	return figureText(v == 0, v.String())
}

func figureText(none bool, text string) string {
	if none {
		return "not demanded"
	}
	return text
}
