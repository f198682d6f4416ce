package wiring_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorwright/wiring"
)

// cores lists what the cores of a run are used for: "index colour purpose".
func cores(p *wiring.Plan, run string) []string {
	var all []string
	for _, c := range p.Conductors {
		if c.Kind == wiring.Core && c.Run.ID == run {
			all = append(all, fmt.Sprintf("%02d %s %s", c.Core.Index, c.Core.Colour, c.Reason.Purpose))
		}
	}
	slices.Sort(all)
	return all
}

// composite is a sheath with a bundle for each purpose, as North American door cable has.
const composite = `cables:
  door-4:
    title: lock, reader, exit and contact bundles in one sheath
    make-up: north-american
    elements:
      - {label: lock, cores: 4, size: 18 AWG, colours: [BK, RD, WH, GN]}
      - {label: reader, cores: 6, size: 22 AWG, screened: true, colours: [BK, RD, WH, GN, BN, BU]}
      - {label: exit, cores: 4, size: 22 AWG, colours: [BK, RD, WH, GN]}
      - {label: contact, cores: 2, size: 22 AWG, colours: [BK, RD]}
  pe:
    title: with a protective conductor
    elements: [{cores: 3, size: 1.5 mm2, colours: [GNYE, BN, BU]}]
`

func TestChoiceOfCores(t *testing.T) {
	const lock = "locks: [strike-12-secure]\n"
	for _, c := range []struct {
		name, job, run string
		want           []string
	}{
		{
			"composite sheath: the lock takes the thick bundle, the reader the screened one, the contact the rest",
			oneDoor(lock+"entry: {model: reader-pulse, place: D1.head}\ncontacts: [contact-surface]",
				composite+"make-up: north-american", "runs: {W: {from: D1.box, to: D1.head, cable: door-4, length: 9 m}}"), "W",
			[]string{
				"01 BK lock feed -", "02 RD lock feed +", "05 BK reader supply -", "06 RD reader supply +", "07 WH data line d1",
				"08 GN data line d0", "09 BN reader lamp", "13 WH door contact", "14 GN door contact",
			},
		},
		{
			"green-yellow is left alone", oneDoor(lock, composite+"runs: {W: {from: D1.box, to: D1.head, cable: pe, length: 9 m}}"), "W",
			[]string{"02 BN lock feed +", "03 BU lock feed -"},
		},
		{
			"of two runs the power takes the thick one, the contact the thin one, whichever is shorter",
			oneDoor(lock+"contacts: [contact-surface]", `runs:
  W: {from: D1.box, to: D1.head, cable: 4x1.5, length: 12 m}
  V: {from: D1.box, to: D1.head, cable: 4x0.22, length: 9 m}`), "W",
			[]string{"01 black 1 lock feed +", "02 black 2 lock feed -"},
		},
		{
			"red to plus, black to minus", oneDoor(lock, "runs: {W: {from: D1.box, to: D1.head, cable: 22-4, length: 9 m}}"), "W",
			[]string{"01 BK lock feed -", "02 RD lock feed +"},
		},
		{
			"a pair for data, another for the supply",
			oneDoor(lock+"entry: reader-485", "runs: {W: {from: D1.box, to: D1.out, cable: 4x2x0.22s, length: 9 m}}"), "W",
			[]string{"01 WH RS-485 line a", "02 BN RS-485 line b", "07 BU reader supply -", "08 RD reader supply +"},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := cores(planOf(t, c.job), c.run); !slices.Equal(got, c.want) {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
		})
	}
}

// A core that a screw does not suit ends at a junction beside it, whose terminals do suit it.
func TestThickCoreEndsAtAJunction(t *testing.T) {
	p := planOf(t, oneDoor("locks: [strike-12-secure]", "runs: {W: {from: riser, to: D1.box, cable: 2x4, length: 90 m}}"))
	expect{
		joined: []string{"PS1.out.plus C1.feed.plus"},
		added:  map[string]string{"C1.feed-plus": "junction 2 for 4 mm2", "C1.feed-minus": "junction 2 for 4 mm2"},
		absent: []string{"PS1.out-plus"},
	}.check(t, p)
	if why := p.Device("C1.feed-plus").Added.Why; !strings.Contains(why, "size") {
		t.Errorf("added because: %s", why)
	}
	// The lead brings the controller's supply alone, so taking that away opens it.
	n := 0
	for _, c := range p.Conductors {
		if c.Kind == wiring.Lead && c.Feeds == p.Device("C1") {
			n++
		}
	}
	if n != 1 {
		t.Errorf("%d leads bring the controller its plus", n)
	}
}

// A run between buildings: the joins are the same, and its screen is earthed in one of them only.
func TestBetweenBuildings(t *testing.T) {
	p := planOf(t, oneDoor("locks: [strike-12-secure]\naux: [{model: contact-surface, title: Gate, place: gate}]",
		"places:{riser: {title: Riser}, gate: {title: Gate house, building: gate}}",
		"runs: {W: {from: gate, to: D1.box, cable: 2x2x0.5s, length: 300 m}}"))
	expect{joined: []string{"C1.aux1.in D1.aux1.reed.a", "C1.aux1.common D1.aux1.reed.b"}}.check(t, p)
	var ends []string
	for _, c := range p.Conductors {
		if c.Kind == wiring.Screen {
			ends = append(ends, c.A.String()+" "+c.B.String())
		}
	}
	if want := []string{"C1.earth.earth insulated"}; !slices.Equal(ends, want) {
		t.Errorf("screens end at %q, want %q", ends, want)
	}
}

// A screen ends where the controller is, not where some other unit with an earth stands first in the job.
func TestScreensEndAtTheController(t *testing.T) {
	n := 0
	for _, c := range demoPlan(t).Conductors {
		if c.Kind != wiring.Screen {
			continue
		}
		n++
		if c.B.Device != nil {
			t.Errorf("%s is landed at both ends", c.ID)
		}
		if at := c.A.Device; at.Role != "controller" && at.Door == "" && at.Model.Kind != "junction" {
			t.Errorf("%s ends at %s", c.ID, c.A)
		}
	}
	if n < 8 {
		t.Errorf("only %d screens", n)
	}
}
