package mend_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/mend"
	"doorwright/proof"
)

// slip is one realistic slip in the demo job, the finding it leads to, and what the best mend must change.
type slip struct {
	name, old, new string
	requirement    string
	path, value    string // of a change that must be among the mends
	two            bool   // with another change, which it does not do without
}

func slips() []slip {
	return []slip{
		{
			"thin_cable_to_the_plant_room", "W3: {from: riser, to: plant.box, cable: 4x1.5", "W3: {from: riser, to: plant.box, cable: 4x0.5",
			"lock-voltage", "doors.plant.locks.1.on-battery", "let-go", false,
		},
		{
			"no_fire_signal", "    fire: fire-interface\n    watch: relay-12\n    supervision: single", "    watch: relay-12\n    supervision: single",
			"fire-signal-fitted", "doors.laboratory.fire", "fire-interface", false,
		},
		{
			"one_release_for_two_ways", "releases: [release-2, {model: release-2, side: unsecured}]", "releases: [release-2]",
			"release-each-way", "doors.tanks.releases", "{model: release-2, side: unsecured}", false,
		},
		{
			"small_battery", "battery: battery-12-24", "battery: battery-12-7",
			mend.RequirementStandby, "supplies.PS1.battery", "battery-12-24", false,
		},
		{
			"large_battery_on_a_small_charger", "battery: battery-12-24", "battery: battery-12-38",
			mend.RequirementRecharge, "supplies.PS1.battery", "battery-12-24", false,
		},
		{
			"small_battery_in_the_hut", "    standby: 8 h", "    standby: 12 h",
			mend.RequirementStandby, "supplies.PS3.model", "supply-12-5", true,
		},
		{
			"reader_for_12_V_on_24_V", "    entry: reader-pulse-wide\n    locks: [{model: magnet-24,", "    entry: reader-pulse\n    locks: [{model: magnet-24,",
			"unit-voltage", "doors.plant.entry.model", "reader-pulse-wide", false,
		},
		{
			"no_relay_held_in_by_the_controller_supply", "    releases: [release-2]\n    watch: relay-24\n", "    releases: [release-2]\n",
			"out-by-controller-loss", "doors.plant.watch", "relay-24", false,
		},
		{
			"lock_feed_on_the_wrong_contact", "    locks: [{model: magnet-24, feed", "    settings: {lock-contact: \"no\"}\n    locks: [{model: magnet-24, feed",
			"keeps-out", "doors.plant.settings.lock-contact", "", false,
		},
		{
			"inputs_set_to_other_resistors", "    supervision: single\n", "    supervision: single\n    settings: {expects-resistor: 1 kohm}\n",
			"input-reads", "doors.laboratory.settings.expects-resistor", "", false,
		},
	}
}

func read(t *testing.T, text string) *job.Job {
	t.Helper()
	j, problems := job.Read("slip.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return j
}

// Each slip is found, and among its mends stands the change that undoes it or comes to the same.
func TestSlipsAreMended(t *testing.T) {
	x := mend.NewExaminer()
	for i, s := range slips() {
		if testing.Short() && i%4 != 0 { // as the race detector runs
			continue
		}
		t.Run(s.name, func(t *testing.T) {
			text := strings.Replace(string(demo.Brackwater), s.old, s.new, 1)
			if text == string(demo.Brackwater) {
				t.Fatalf("the demo has no %q", s.old)
			}
			j := read(t, text)
			e := x.Examine(j)
			x.All(j, e)
			f := find(e.Findings, s.requirement)
			if f == nil {
				t.Fatalf("no finding of %s among %d", s.requirement, len(e.Findings))
			}
			if !offers(f.Mends, s.path, s.value) {
				t.Errorf("%s: no mend sets %s to %q: %+v", f.What, s.path, s.value, f.Mends)
			}
			if !slices.IsSortedFunc(f.Mends, func(a, b proof.Mend) int { return a.Cost - b.Cost }) {
				t.Errorf("mends are not ranked: %+v", f.Mends)
			}
			if slices.ContainsFunc(f.Mends, func(m proof.Mend) bool { return (m.Steps != nil) != s.two }) {
				t.Errorf("two changes are offered where one mends, or one where it takes two: %+v", f.Mends)
			}
		})
	}
}

// outside is a door whose controller hangs beside the reader, on the unsecured side.
const outside = `
job: SHED
title: A shed
rules: [uk-b]
places: {riser: {title: Riser}}
supplies:
  PS1: {model: supply-12-5, battery: battery-12-38, place: riser, zero-volt: earthed, works-to: 12 V}
controllers:
  C1: {model: controller-1-12, place: D1.out, feed: PS1}
doors:
  D1:
    title: Shed
    escape: out
    fire-rated: no
    controller: C1
    entry: reader-pulse
    locks: [{model: strike-12-secure, handle: frees}]
    exit: [exit-button]
    contacts: [contact-surface]
    supervision: double
`

// passing is a shed whose exit button hangs on a cable that somebody outside can cut open.
var passing = strings.NewReplacer("D1.out, feed", "D1.box, feed", "    supervision: double\n", "    supervision: none\n", "doors:\n", `runs:
  W1: {from: D1.box, to: D1.in, cable: 4x0.22, length: 9 m, passes: [{side: unsecured, reach: surface, length: 2 m}]}
doors:
`).Replace(outside)

// What single faults break is mended by what keeps it with any of them, each change proved with every fault again.
func TestFaultsAreMended(t *testing.T) {
	for _, c := range []struct{ name, text, requirement, path, value string }{
		{
			"release_that_only_tells_the_controller",
			strings.Replace(string(demo.Brackwater), "    releases: [release-2]\n    fire: fire-interface\n    watch: relay-12\n    supervision: double",
				"    releases: [{model: release-2, into: input}]\n    fire: fire-interface\n    watch: relay-12\n    supervision: double", 1),
			"ways-out-with-fault", "doors.visitor.releases.1.into", "feed",
		},
		{"controller_beside_the_reader_outside", outside, "keeps-out-at-hand", "controllers.C1.place", "D1.box"},
		{"exit_button_on_a_cable_that_passes_outside", passing, "keeps-out-at-hand", "doors.D1.supervision", "double"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := read(t, c.text)
			x := mend.NewExaminer()
			e := x.Examine(j)
			for i := range e.Doors {
				if d := e.Doors[i].Door; strings.HasPrefix(c.path, "doors."+d.ID) || "controllers."+d.Controller.ID+".place" == c.path {
					e.Add(proof.TryFaults(e.Result, proof.SingleFaults, d, nil))
				}
			}
			x.Faults(j, e, nil)
			f := find(e.Findings, c.requirement)
			if f == nil {
				t.Fatalf("no finding %s", c.requirement)
			}
			if !offers(f.Mends, c.path, c.value) {
				t.Errorf("%s is not among %+v", c.path, f.Mends)
			}
		})
	}
}

func find(findings []proof.Finding, requirement string) *proof.Finding {
	for i := range findings {
		if findings[i].Requirement == requirement {
			return &findings[i]
		}
	}
	return nil
}

func offers(mends []proof.Mend, path, value string) bool {
	for _, m := range mends {
		for _, c := range m.Set {
			if c.Path == path && c.Value == value {
				return true
			}
		}
	}
	return false
}

// A finding that nothing in the job document can mend keeps an empty list, which prints as none found.
func TestNothingFoundIsAnEmptyList(t *testing.T) {
	x := mend.NewExaminer()
	j := read(t, strings.Replace(string(demo.Brackwater), "building: hut, side: unsecured", "building: well, side: unsecured", 1))
	e := x.Examine(j)
	x.All(j, e)
	f := find(e.Findings, "between-buildings")
	if f == nil {
		t.Fatal("a run between buildings is not found")
	}
	if f.Mends == nil || len(f.Mends) != 0 {
		t.Errorf("mends: %+v", f.Mends)
	}
}
