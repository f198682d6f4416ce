package fault_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/wiring"
)

// site is a plan to take the catalogue of.
type site struct {
	name string
	plan *wiring.Plan
}

// readPlan is the plan of a job that must be valid.
func readPlan(t testing.TB, name string, text []byte) *wiring.Plan {
	t.Helper()
	j, problems := job.Read(name, text)
	if len(problems) > 0 {
		t.Fatalf("%v\n%s", problems, text)
	}
	return wiring.Make(j)
}

// sites are the demo job and its flawed twin, the doors drawn by hand, and doors of every arrangement.
func sites(t testing.TB) []site {
	t.Helper()
	all := []site{
		{"brackwater", readPlan(t, "brackwater.yaml", demo.Brackwater)},
		{"brackwater, flawed", readPlan(t, "brackwater-flawed.yaml", demo.Flawed)},
	}
	files, err := filepath.Glob("../situation/testdata/handmade/*.yaml")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d doors drawn by hand, %v", len(files), err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, site{filepath.Base(file), readPlan(t, file, text)})
	}
	for _, door := range arrangements {
		all = append(all, site{door, oneDoor(t, door)})
	}
	return all
}

// arrangements are doors of many kinds, as written under their id.
var arrangements = []string{
	"locks: [magnet-12]",
	"locks: [magnet-12-bare]\nreleases: [release-2, {model: release-2, side: unsecured}]",
	"locks: [magnet-12-diode]\nreleases: [release-1]\nexit: [exit-sensor-12]\nsupervision: single",
	"locks: [magnet-12]\nfire: fire-interface\nwatch: relay-12\nexit: [{model: exit-button-2, breaks-feed: true}]",
	"locks: [strike-12-secure]\ninterposing: relay-12\nentry: reader-serial\nsounder: sounder-12",
	"locks: [handle-lock-12]\nloop: door-loop\nentry: reader-485\nexit-reader: reader-485\nsupervision: double",
	"locks: [{model: magnet-24-bare, feed: PS2}]\nentry: {model: reader-pulse-wide, feed: PS2}\ncontacts: [contact-surface]",
	"locks: [magnet-12]\nsettings: {lock-output: energise-to-lock}\naux: [contact-surface]\ncontacts: [contact-surface]",
}

// oneDoor is the plan of a job of one door D1 on a controller C1, with a supply PS1 for it and PS2 beside it.
func oneDoor(t testing.TB, door string) *wiring.Plan {
	t.Helper()
	indented := "    " + strings.ReplaceAll(door, "\n", "\n    ")
	return readPlan(t, "one-door.yaml", fmt.Appendf(nil, `job: J
title: One door
rules: [uk-b]
places: {riser: {title: Riser}}
supplies:
  PS1: {model: supply-12-5, place: riser, battery: battery-12-17, zero-volt: earthed}
  PS2: {model: supply-24-5, place: riser, zero-volt: floating}
controllers:
  C1: {model: controller-1-12, place: D1.box, feed: PS1}
doors:
  D1:
    title: Door
    escape: none
    fire-rated: no
    controller: C1
%s
`, indented))
}

// doorsOf are the ids to ask for: every door, and what is shared.
func doorsOf(plan *wiring.Plan) []string {
	doors := []string{""}
	for _, d := range plan.Job.Doors {
		doors = append(doors, d.ID)
	}
	return doors
}

// everything is the catalogue of all doors and of what is shared.
func everything(plan *wiring.Plan) []fault.Fault {
	var all []fault.Fault
	for _, door := range doorsOf(plan) {
		all = append(all, fault.Of(plan, door)...)
	}
	return all
}

// find is the fault with an id, which must be there.
func find(t testing.TB, all []fault.Fault, id string) fault.Fault {
	t.Helper()
	i := slices.IndexFunc(all, func(f fault.Fault) bool { return f.ID == id })
	if i < 0 {
		t.Fatalf("no fault %s among\n%s", id, strings.Join(ids(all), "\n"))
	}
	return all[i]
}

func ids(all []fault.Fault) []string {
	var list []string
	for i := range all {
		list = append(list, all[i].ID)
	}
	return list
}

// copper is which terminals conductors, junctions, door loops, bonds and 0 V areas join, found by colouring one terminal
// after the other.
func copper(plan *wiring.Plan) map[string]int {
	next := map[string][]string{}
	link := func(a, b string) { next[a], next[b] = append(next[a], b), append(next[b], a) }
	for _, d := range plan.Devices {
		for _, p := range d.Model.Parts(&d.Settings) {
			port, what := device.SplitPin(p.Name)
			is := d.Model.Port(port).Is
			if is == device.Bar || is == device.Through || is == device.Earth || p.Name == p.A && what != "" {
				link(at(d, p.A), at(d, p.B))
			}
		}
	}
	for _, w := range plan.Conductors {
		if w.B.Device != nil && !w.Unsure {
			link(w.A.String(), w.B.String())
		}
	}
	colour, colours := map[string]int{}, 0
	for node := range next {
		if colour[node] != 0 {
			continue
		}
		colours++
		for todo := []string{node}; len(todo) > 0; {
			here := todo[0]
			todo = todo[1:]
			if colour[here] == 0 {
				colour[here] = colours
				todo = append(todo, next[here]...)
			}
		}
	}
	return colour
}

// at is the node of a pin.
func at(d *wiring.Device, pin string) string {
	if pin == device.Ground {
		return pin
	}
	return d.ID + "." + pin
}
