package proof_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/proof"
	"doorwright/rules"
)

// breaking is a change to the demo job that breaks one requirement, which the demo holds. What else it breaks by the
// nature of things is listed; anything more is a failure of the test.
type breaking struct {
	requirement string
	old, new    string
	also        []string
}

// needsPower are the promises that a lock breaks that needs power to open, on an escape door whose handle is fixed.
var needsPower = []string{"opens-without-power", "out-by-power-loss", "out-by-controller-loss", "out-by-cut", "release-fitted", "fire-signal-fitted"}

// heavy is a magnet of so many ohms under the name magnet-heavy, as a user adds a unit from its data sheet.
func heavy(ohms, figures string) string {
	return `
models:
  magnet-heavy:
    kind: magnet
    title: Heavy magnet
    strip: [{label: "+", pin: coil.plus, to: 4 mm2}, {label: "-", pin: coil.minus, to: 4 mm2}]
    ports:
      coil: {is: lock, use: lock, nominal: 12 V, window: 9 V to 14.4 V, ohms: ` + ohms + `, action: fail-safe, holds: 0.2 A, lets-go: 0.05 A, ` + figures + `}
    lock: {inside: never}
places:`
}

const (
	continuous = "duty: continuous, inductance: 0.5 H, suppressor: diode"
	labLock    = "locks: [{model: magnet-12-bare, handle: none, on-battery: let-go}]"
	staffLock  = "    locks: [{model: strike-12-secure, handle: frees}]\n    exit: [exit-button]\n    contacts: [contact-surface]\n    sounder: sounder-12"
)

// withHeavy puts the heavy magnet into the laboratory.
func withHeavy(requirement, ohms, figures, lock string, also ...string) breaking {
	return breaking{requirement, "\nplaces:|" + labLock, heavy(ohms, figures) + "|" + lock, also}
}

func breakings() []breaking {
	fixed := strings.Replace(staffLock, "handle: frees", "handle: fixed", 1)
	return []breaking{
		{"out-by-release", "    releases: [release-2]\n    fire: fire-interface\n    watch: relay-12\n    supervision: double", "    releases: [{model: release-2, into: input}]\n    fire: fire-interface\n    watch: relay-12\n    supervision: double", nil},
		{"out-by-fire", staffLock, fixed + "\n    fire: fire-interface\n    releases: [release-2]", append([]string{"out-by-release", "stays-open-in-fire"}, needsPower...)},
		{"stays-open-in-fire", "    title: Visitor entrance\n", "    title: Visitor entrance\n    rules: [uk-b, de]\n", nil},
		{"out-by-power-loss", staffLock, fixed, needsPower},
		{"out-by-controller-loss", "    releases: [release-2]\n    watch: relay-24\n", "    releases: [release-2]\n", nil},
		{"out-by-exit", "    supervision: single\n", "    supervision: single\n    settings: {exit-only-shunts: true}\n", nil},
		{"out-by-cut", staffLock, fixed, needsPower},
		{"out-by-sensor-loss", "    title: Wave laboratory\n|    supervision: single\n", "    title: Wave laboratory\n    rules: [ibc-sensor-release]\n|    supervision: single\n    settings: {exit-only-shunts: true}\n", []string{"out-by-exit"}},
		{"release-fitted", "    exit: [exit-sensor-12]\n    contacts: [contact-surface]\n    releases: [release-2]\n", "    exit: [exit-sensor-12]\n    contacts: [contact-surface]\n", nil},
		{"release-each-way", "releases: [release-2, {model: release-2, side: unsecured}]", "releases: [release-2]", nil},
		{"release-both-poles", "    title: Wave laboratory\n|    releases: [release-2]\n    fire: fire-interface\n    watch: relay-12\n    supervision: single", "    title: Wave laboratory\n    rules: [uk-a]\n|    releases: [release-1]\n    fire: fire-interface\n    watch: relay-12\n    supervision: single", nil},
		{"release-both-poles-advised", "    releases: [release-2]\n    fire: fire-interface\n    watch: relay-12\n    supervision: single", "    releases: [release-1]\n    fire: fire-interface\n    watch: relay-12\n    supervision: single", nil},
		{"fire-signal-fitted", "    fire: fire-interface\n    watch: relay-12\n    supervision: single", "    watch: relay-12\n    supervision: single", nil},
		{"opens-without-power", staffLock, fixed, needsPower},
		{"fire-door-latched", "    locks: [{model: handle-lock-24, handle: frees}]\n    contacts: [contact-surface]\n    loop: door-loop\n", "    locks: [{model: strike-24-safe, handle: frees}]\n    contacts: [contact-surface]\n", nil},
		withHeavy("release-time", "24 ohm", "duty: continuous, inductance: 60 H, suppressor: diode", "locks: [{model: magnet-heavy, handle: none, on-battery: let-go}]"),
		{"keeps-out", "    exit: [exit-button]\n    contacts: [contact-surface]\n    cable-length: 16 m", "    settings: {lock-contact: nc}\n    exit: [exit-button]\n    contacts: [contact-surface]\n    cable-length: 16 m", []string{"lets-through"}},
		{"lets-through", "    exit: [exit-button]\n    contacts: [contact-surface]\n    cable-length: 16 m", "    settings: {lock-contact: nc}\n    exit: [exit-button]\n    contacts: [contact-surface]\n    cable-length: 16 m", []string{"keeps-out"}},
		{"input-reads", "    supervision: single\n", "    supervision: single\n    settings: {expects-resistor: 1 kohm}\n", []string{"no-false-alarm", "lets-through", "keeps-out", "out-by-exit"}},
		{"data-understood", "    sounder: sounder-12\n    cable-length: 9 m", "    sounder: sounder-12\n    cable-length: 160 m", []string{"data-length", "lock-voltage", "lets-through", "settles", "unit-voltage", "alarm-raised", "no-false-alarm"}},
		{"alarm-raised", "    loop: door-loop\n    supervision: double\n", "    loop: door-loop\n    supervision: double\n    settings: {expects: single}\n", []string{"input-reads", "no-false-alarm", "lets-through"}},
		{"no-false-alarm", "    supervision: single\n", "    supervision: single\n    settings: {expects-resistor: 1 kohm}\n", []string{"input-reads", "lets-through", "keeps-out", "out-by-exit"}},
		{"lock-voltage", "W3: {from: riser, to: plant.box, cable: 4x1.5, length: 85 m}", "W3: {from: riser, to: plant.box, cable: 4x0.5, length: 85 m}", nil},
		{"unit-voltage", "    entry: reader-pulse-wide\n    locks: [{model: magnet-24,", "    entry: reader-pulse\n    locks: [{model: magnet-24,", nil},
		{"contact-rating", "\nplaces:|" + labLock + "|W6: {from: riser, to: laboratory.box, cable: 2x2.5", heavy("4 ohm", continuous) + "|locks: [{model: magnet-heavy, feed: PS1, handle: none, on-battery: let-go}]|W6: {from: riser, to: laboratory.box, cable: 4x1.5", []string{"lock-voltage", "cable-current", "output-rating", "unit-voltage", "keeps-out", "settles"}},
		withHeavy("output-rating", "9 ohm", continuous, "locks: [{model: magnet-heavy, handle: none, on-battery: let-go}]", "lock-voltage", "keeps-out", "unit-voltage", "settles"),
		{"supply-reserve", "    model: supply-12-5\n", "    model: supply-12-2\n", []string{"output-rating", "settles", "lock-voltage", "unit-voltage", "keeps-out", "lets-through", "data-understood", "no-false-alarm", "alarm-raised", "input-reads"}},
		{"cable-current", "W7: {from: visitor.box, to: visitor.head, cable: 2x1.5, length: 7 m", "W7: {from: visitor.box, to: visitor.head, cable: 4x0.22, length: 7 m", []string{"lock-voltage"}},
		{"settles", "    entry: {model: reader-serial, speed: 9600 baud}|    cable: 2x2x0.5s\n", "    entry: {model: reader-serial, speed: 9600 baud, place: stilling-well}|    cable: 4x2x0.22s\n", []string{"data-length"}},
		withHeavy("duty", "24 ohm", "duty: intermittent, inductance: 0.5 H, suppressor: diode", "locks: [{model: magnet-heavy, handle: none, on-battery: let-go}]"),
		{"suppressor", "locks: [{model: magnet-24-bare, feed: PS2/2, handle: none}]", "locks: [{model: magnet-24-bare, feed: PS2/2, handle: none, suppressor: none}]", nil},
		{"data-length", "    sounder: sounder-12\n    cable-length: 9 m", "    sounder: sounder-12\n    cable-length: 300 m", []string{"data-understood", "lock-voltage", "lets-through", "settles", "unit-voltage", "alarm-raised", "no-false-alarm"}},
		{"line-ends", "entry: {model: reader-485, address: 1, speed: 9600 baud}", "entry: {model: reader-485, address: 1, speed: 9600 baud, terminator: on}", nil},
		{"between-buildings", "building: hut, side: unsecured", "building: well, side: unsecured", nil},
		{"exit-told", "    exit: [exit-button]\n    contacts: [contact-surface]\n    sounder: sounder-12", "    contacts: [contact-surface]\n    sounder: sounder-12", nil},
		{"wired", "W12: {from: records.box, to: records.in, cable: 4x2x0.22s", "W12: {from: records.box, to: records.in, cable: 1x2x0.34s", []string{"data-understood", "unit-voltage", "lets-through"}},
	}
}

// changed makes the changes of a breaking, which are separated by bars.
func (b breaking) changed(t *testing.T) []byte {
	t.Helper()
	text := string(demo.Brackwater)
	olds, news := strings.Split(b.old, "|"), strings.Split(b.new, "|")
	if len(olds) != len(news) {
		t.Fatal("as many texts to put in as to take out")
	}
	for i, old := range olds {
		if strings.Count(text, old) < 1 {
			t.Fatalf("the demo has no %q", old)
		}
		text = strings.Replace(text, old, news[i], 1)
	}
	return []byte(text)
}

// Every requirement is held by the demo job and broken by one change, which breaks nothing else but what is listed.
func TestEachRequirementHoldsAndFails(t *testing.T) {
	good := map[string]bool{}
	for _, f := range prove(t, demo.Brackwater).Findings {
		good[f.Requirement] = true
	}
	all := breakings()
	for _, r := range proof.Requirements() {
		if good[r.ID] {
			t.Errorf("%s does not hold in the demo", r.ID)
		}
		if !slices.ContainsFunc(all, func(b breaking) bool { return b.requirement == r.ID }) {
			t.Errorf("%s has no change that breaks it", r.ID)
		}
	}
	for _, b := range sample(all, 5) {
		t.Run(b.requirement, func(t *testing.T) {
			found := false
			for _, f := range prove(t, b.changed(t)).Findings {
				switch {
				case f.Requirement == b.requirement:
					found = true
				case f.Severity == rules.Error && !slices.Contains(b.also, f.Requirement):
					t.Errorf("also broken: %s %s at %s: %s", f.Door, f.Requirement, f.Where, f.What)
				}
			}
			if !found {
				t.Error("not found")
			}
		})
	}
}
