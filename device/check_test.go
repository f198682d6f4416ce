package device

import (
	"slices"
	"strings"
	"testing"

	"doorwright/document"
)

// read reads one model from YAML.
func read(t *testing.T, text string) *Model {
	t.Helper()
	var m Model
	if _, problems := document.Read("model.yaml", []byte(text), &m); len(problems) > 0 {
		t.Fatal(problems)
	}
	return &m
}

const head = "title: T\nstrip: []\n"

func TestCheckTellsAllFlaws(t *testing.T) {
	cases := []struct {
		name, text string
		want       []string // paths, in order
	}{
		{"unknown kind and type of port", "kind: magnat\n" + head + "ports:\n  a: {is: coyl}\n", []string{"x.kind", "x.ports.a.is"}},
		{
			"strip with pins that are not there, twice, or of no port", `
kind: exit-button
title: T
strip:
  - {label: 1, pin: b.a}
  - {label: 2, pin: b.c}
  - {label: 3, pin: b.a}
  - {label: 4, pin: c.a}
  - {label: 5, pin: loose}
  - {label: 6, pin: b.b, from: 2.5 mm2, to: 1 mm2, cores: 9}
ports:
  b: {is: contact, use: exit, driven: pressed, rest: open, rating: 1 A, rated-volts: 30 V}
`,
			[]string{"x.strip.2.pin", "x.strip.3.pin", "x.strip.4.pin", "x.strip.5.pin", "x.strip.6.from", "x.strip.6.cores"},
		},
		{
			"half a contact on the strip", `
kind: exit-button
title: T
strip:
  - {label: 1, pin: b.a}
ports:
  b: {is: contact, use: exit, driven: pressed, rest: open, rating: 1 A, rated-volts: 30 V}
`,
			[]string{"x.ports.b"},
		},
		{
			"figures missing and without meaning", "kind: magnet\n" + head + "lock: {inside: never}\nports:\n  c: {is: lock, pull-up: 1 kohm}\n",
			[]string{
				"x.ports.c.window", "x.ports.c.nominal", "x.ports.c.ohms", "x.ports.c.action", "x.ports.c.holds",
				"x.ports.c.lets-go", "x.ports.c.duty", "x.ports.c.suppressor", "x.ports.c.pull-up",
			},
		},
		{
			"a lock that cannot work",
			"kind: magnet\n" + head + "ports:\n  c: {is: lock, nominal: 12 V, window: 13 V to 26 V, ohms: 24 ohm, action: fail-safe, " +
				"holds: 0.6 A, lets-go: 0.7 A, duty: continuous, suppressor: clamp, clamp-volts: 22 V}\n",
			[]string{"x.ports.c.window", "x.ports.c.lets-go", "x.ports.c.holds", "x.ports.c.window", "x.lock"},
		},
		{
			"a load of two figures that stops above its window",
			"kind: sounder\n" + head + "ports:\n  f: {is: load, window: 9 V to 15 V, watts: 1 W, amps: 0.1 A, cut-off: 10 V, restart: 9.5 V}\n",
			[]string{"x.ports.f", "x.ports.f.restart", "x.ports.f.cut-off", "x.ports.f.cut-off"},
		},
		{
			"a load of no figure, negative, with lock facts",
			"kind: sounder\nlock: {inside: never}\n" + head + "ports:\n  f: {is: load, window: 9 V to 15 V, peak: -1 A, tolerance: 5}\n",
			[]string{"x.ports.f.peak", "x.ports.f.tolerance", "x.ports.f", "x.lock"},
		},
		{
			"a contact that nothing moves",
			"kind: exit-button\n" + head + "ports:\n  b: {is: contact, use: exit, rest: open, rating: 1 A, rated-volts: 30 V}\n",
			[]string{"x.ports.b.driven"},
		},
		{
			"a coil that never drops out",
			"kind: relay\n" + head + "ports:\n  c: {is: coil, nominal: 12 V, ohms: 270 ohm, pick-up: 13 V, drop-out: 14 V, clamp-volts: 22 V}\n",
			[]string{"x.ports.c.pick-up", "x.ports.c.drop-out", "x.ports.c.clamp-volts"},
		},
		{
			"thresholds out of order", "kind: board\n" + head + `ports:
  feed: {is: load, window: 10 V to 15 V, watts: 1 W}
  o: {is: output, from: nowhere, limit: 1 A, by: contact}
  i: {is: input, reference: 3 V, pull-up: 1 kohm, low: 4 V, high: 3.5 V, channel: 9}
`,
			[]string{"x.ports.o.from", "x.ports.o.driven", "x.ports.i.low", "x.ports.i.high", "x.ports.i.channel"},
		},
		{
			"supply that gives more into a short, battery of no source", "kind: supply\n" + head + `ports:
  out: {is: source, nominal: 12 V, float: 11 V, limit: 2 A, short: 3 A}
  b: {is: battery, from: feed}
  both: {is: battery, from: out, cells: 6, dropped: 13 V}
`,
			[]string{
				"x.ports.out.short", "x.ports.out.float", "x.ports.b.from", "x.ports.b.dropped",
				"x.ports.both", "x.ports.both.ohms", "x.ports.both.capacity", "x.ports.both.dropped",
			},
		},
		{"ways beyond reason", "kind: junction\n" + head + "ports:\n  j: {is: bar, ways: 1000}\n", []string{"x.ports.j.ways"}},
		{"ports that the kind needs", "kind: controller\n" + head + "ports: {}\n", []string{"x.ports", "x.ports"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			flaws := Check("x", read(t, c.text))
			var paths []string
			for _, f := range flaws {
				paths = append(paths, f.Path)
				if f.Want == "" {
					t.Errorf("%v says not what would be right", f)
				}
			}
			if !slices.Equal(paths, c.want) {
				t.Errorf("paths\n got %v\nwant %v\n%v", paths, c.want, flaws)
			}
		})
	}
}

// Two inputs may share one common terminal, and an internal port needs none.
func TestCheckAllowsSharedCommonsAndInternalPorts(t *testing.T) {
	m := read(t, `
kind: board
title: T
strip:
  - {label: "+", pin: feed.plus}
  - {label: "-", pin: feed.minus}
  - {label: F, pin: fire.in}
  - {label: C, pin: fire.common, cores: 2}
  - {label: R, pin: reset.in}
  - {label: "1", pin: o.plus}
ports:
  feed: {is: load, window: 10 V to 15 V, watts: 1 W}
  fire: {is: input, use: fire, reference: 5 V, pull-up: 1 kohm, low: 1 V, high: 3 V}
  reset: {is: input, use: reset, reference: 5 V, pull-up: 1 kohm, low: 1 V, high: 3 V}
  inside: {is: input, use: tamper, reference: 5 V, pull-up: 1 kohm, low: 1 V, high: 3 V}
  o: {is: output, from: feed, limit: 1 A}
`)
	for _, f := range Check("x", m) {
		t.Error(f)
	}
	if r := m.Reach("reset.common"); r == nil || r.Pin != "fire.common" {
		t.Errorf("reset.common is reached at %+v", r)
	}
	if r := m.Reach("reset.in"); r == nil || r.Pin != "reset.in" {
		t.Errorf("reset.in is reached at %+v", r)
	}
	if r := m.Reach("inside.in"); r != nil {
		t.Errorf("inside.in is reached at %+v", r)
	}
}

// Whatever the model, the check answers and does not panic.
func FuzzCheck(f *testing.F) {
	f.Add("kind: magnet\ntitle: T\nstrip: [{label: a, pin: .}]\nports: {c: {is: lock, ways: -1}}\n")
	f.Add("kind: junction\ntitle: T\nstrip: []\nports: {j: {is: bar, ways: -5}, k: {is: through, ways: -5}}\n")
	f.Add("kind: board\ntitle: T\nstrip: []\nports: {o: {is: output, from: o, limit: 1 A, driven: o}}\n")
	f.Fuzz(func(t *testing.T, text string) {
		if strings.Count(text, "") > 4096 {
			return
		}
		var m Model
		document.Read("fuzz.yaml", []byte(text), &m)
		if len(Check("x", &m)) > 0 {
			return
		}
		m.Parts(&Settings{Terminator: true})
		m.Senses()
		m.World()
	})
}
