package fault_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
	"doorwright/unit"
	"doorwright/wiring"
)

func reachOf(t *testing.T, plan *wiring.Plan, door string) map[string]fault.Reach {
	t.Helper()
	at := map[string]fault.Reach{}
	for _, r := range fault.Reached(plan, door) {
		at[r.Where] = r
	}
	return at
}

// Who stands outside gets at the reader, and at nothing that lies inside.
func TestReachedIsWhatIsOutside(t *testing.T) {
	plan := readPlan(t, "brackwater.yaml", demo.Brackwater)
	for _, c := range []struct {
		door   string
		where  []string
		within []string // nodes that can be touched
	}{
		{"visitor", []string{"visitor.out"}, []string{"visitor.entry.feed.plus", "visitor.entry.data.d0", "visitor.entry.led.in"}},
		{"tanks", []string{"tanks.out"}, []string{"tanks.entry.data.d1", "tanks.release2.pole1.a", "tanks.release2.pole2.b"}},
		{"gauge", []string{"gauge.out", "stilling-well", "W20"}, []string{"gauge.aux1.reed.a", "gauge.aux1.across.resistor.a"}},
		{"", nil, nil},
	} {
		var where []string
		var nodes []string
		for _, r := range fault.Reached(plan, c.door) {
			where = append(where, r.Where)
			nodes = append(nodes, r.Nodes...)
			if r.Monitored {
				t.Errorf("%s counts as monitored, and nothing in the demo is", r.Where)
			}
		}
		slices.Sort(where)
		want := slices.Sorted(slices.Values(c.where))
		if !slices.Equal(where, want) {
			t.Errorf("door %q is reached at %v, want %v", c.door, where, want)
		}
		for _, n := range c.within {
			if !slices.Contains(nodes, n) {
				t.Errorf("door %q: %s cannot be touched, only %v", c.door, n, nodes)
			}
		}
		for _, n := range nodes {
			if strings.Contains(n, "lock1") || strings.HasPrefix(n, "C") {
				t.Errorf("door %q: %s can be touched, which lies inside", c.door, n)
			}
		}
	}
}

// A run on the unsecured side is reached unless it is concealed or buried.
func TestReachOfARunOutside(t *testing.T) {
	for _, c := range []struct {
		passes string
		want   bool
	}{
		{"{side: unsecured, reach: surface, length: 10 m}", true},
		{"{side: unsecured, reach: conduit, length: 10 m}", true},
		{"{side: unsecured, reach: concealed, length: 10 m}", false},
		{"{side: unsecured, reach: buried, length: 10 m}", false},
		{"{side: secured, reach: surface, length: 10 m}", false},
	} {
		text := strings.Replace(string(manyDoors([]string{"locks: [magnet-12]"})),
			"length: 30 m", "length: 30 m, passes: ["+c.passes+"]", 1)
		r, ok := reachOf(t, readPlan(t, "passes.yaml", []byte(text)), "D0")["F0"]
		if ok != c.want || ok && (len(r.Nodes) != 2 || len(r.Conductors) != 2) {
			t.Errorf("%s: reached %v, %+v; want %v", c.passes, ok, r, c.want)
		}
	}
}

// A housing with a tamper contact that a controller listens to is monitored; one whose tamper contact goes nowhere is not.
func TestTamperContactMonitors(t *testing.T) {
	for _, c := range []struct {
		name, use string
		want      bool
	}{{"tamper contact on an input", "tamper", true}, {"another contact on an input", "contact", false}} {
		text := strings.Replace(string(manyDoors([]string{"locks: [magnet-12]\naux: [{model: hatch, place: D0.out}]"})),
			"places:", `models:
  hatch:
    kind: door-contact
    title: Hatch
    strip: [{label: "1", pin: reed.a, cores: 2}, {label: "2", pin: reed.b, cores: 2}, {label: "3", pin: other.a}, {label: "4", pin: other.b}]
    ports:
      reed: {is: contact, use: `+c.use+`, driven: door-closed, rest: open, rating: 0.2 A, rated-volts: 30 V}
      other: {is: contact, use: contact, driven: door-closed, rest: open, rating: 0.2 A, rated-volts: 30 V}
places:`, 1)
		r, ok := reachOf(t, readPlan(t, "hatch.yaml", []byte(text)), "D0")["D0.out"]
		if !ok || r.Monitored != c.want {
			t.Errorf("%s: monitored %v, want %v: %+v", c.name, r.Monitored, c.want, r.Nodes)
		}
	}
}

// From n points that can be touched, none of them on earth, there are n cuts or more, n(n-1)/2 bridges, n joints to
// earth, and six foreign supplies for each of those.
func TestAttacksAreCounted(t *testing.T) {
	plan := oneDoor(t, "locks: [magnet-12]\nentry: reader-pulse")
	r := reachOf(t, plan, "D1")["D1.out"]
	colour, nets := copper(plan), map[int]bool{}
	for _, n := range r.Nodes {
		nets[colour[n]] = true
	}
	n, earthed := len(nets), 0
	if nets[colour["earth"]] {
		earthed = 1
	}
	want := []fault.Count{
		{Class: fault.Open, Faults: len(r.Conductors)},
		{Class: fault.Bridge, Faults: n * (n - 1) / 2},
		{Class: fault.Earthed, Faults: n - earthed},
		{Class: fault.Foreign, Faults: 6 * (n*(n-1)/2 + n - earthed)},
	}
	all := fault.Attacks(plan, "D1")
	if got := fault.Counts(all); n < 5 || !slices.Equal(got, want) {
		t.Errorf("%d points: %v, want %v", n, got, want)
	}
	for _, f := range all {
		if e := f.Edits[0]; f.Class == fault.Foreign && (e.Ohms != 1 || e.Limit != 2 || !slices.Contains([]unit.Volt{5, 12, 24}, e.Volts)) {
			t.Errorf("%s is %+v", f.ID, e)
		}
	}
}
