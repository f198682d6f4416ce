package proof_test

import (
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
	"doorwright/proof"
	"doorwright/rules"
	"doorwright/situation"
	"doorwright/wiring"
)

// lobby is two doors alike on one supply, with a release, a place of the first door's controller and a rule family to
// choose.
func lobby(release, controllerPlace, family string) string {
	door := func(n string) string {
		return `
  D` + n + `:
    title: Lobby ` + n + `
    escape: out
    fire-rated: no
    controller: C` + n + `
    entry: reader-pulse
    locks: [{model: magnet-12-bare, handle: none, on-battery: let-go}]
    exit: [exit-button]
    contacts: [contact-surface]
    releases: [` + release + `]
    fire: fire-interface
    watch: relay-12
    supervision: double
`
	}
	return `
job: LOBBY
title: Two doors
rules: [` + family + `]
places: {riser: {title: Riser}}
supplies:
  PS1: {model: supply-12-5, battery: battery-12-38, place: riser, zero-volt: earthed, works-to: 12 V}
controllers:
  C1: {model: controller-1-12, place: D1.` + controllerPlace + `, feed: PS1}
  C2: {model: controller-1-12, place: D2.box, feed: PS1}
doors:` + door("1") + door("2")
}

// tried is what faults come to at a door of a job. What was tried for one test is not tried again for the next: a report
// is only read.
func tried(t *testing.T, text, door string) *proof.FaultReport {
	t.Helper()
	r, ok := triedBefore[text+door]
	if !ok {
		r = triedAnew(t, text, door)
		triedBefore[text+door] = r
	}
	return r
}

var triedBefore = map[string]*proof.FaultReport{}

func triedAnew(t *testing.T, text, door string) *proof.FaultReport {
	t.Helper()
	r := proof.Prove(planned(t, text))
	for i := range r.Doors {
		if d := r.Doors[i].Door; d.ID == door {
			return proof.TryFaults(r, proof.SingleFaults, d, nil)
		}
	}
	t.Fatalf("no door %s", door)
	return nil
}

// takes lists the faults that take a way out and are neither the failure of what that way acts by nor found at once.
func takes(r *proof.FaultReport, way string) []proof.FaultSeen {
	var all []proof.FaultSeen
	for _, d := range r.Doors {
		for _, s := range d.Seen {
			if slices.Contains(s.Lost, way) && s.Fault.Class != fault.Part {
				all = append(all, s)
			}
		}
	}
	return all
}

func breaks(r *proof.FaultReport, requirement string) *proof.Finding {
	for i := range r.Findings {
		if r.Findings[i].Requirement == requirement {
			return &r.Findings[i]
		}
	}
	return nil
}

// R-04 (BS 7273-4 asks for it at critical doors, from memory): a release with one pole is bridged by one fault in its
// cable, and the explanation names both conductors; with two poles no single fault keeps it.
func TestTwoDoorsThatLookAlike(t *testing.T) {
	one := takes(tried(t, lobby("release-1", "box", "uk-a"), "D1"), "release")
	if len(one) == 0 {
		t.Fatal("no single fault takes a release with one pole")
	}
	cable := false
	for _, s := range one {
		cable = cable || s.Fault.Class == fault.Bridge && strings.Count(s.Fault.Name, "core ") == 2 && len(s.Fault.At) == 2
		if s.Broken == "" {
			t.Errorf("%s takes the release and breaks nothing", s.Fault.ID)
		}
	}
	if !cable {
		t.Error("no bridge in the cable of the release is named by its two cores")
	}
	for _, s := range takes(tried(t, lobby("release-2", "box", "uk-a"), "D1"), "release") {
		t.Errorf("with two poles, %s takes the release", s.Fault.ID)
	}
}

// What a family demands decides: the same bridge is an error where no single fault may prevent release, else advice.
func TestTheFamilyDecidesWhatAShortMeans(t *testing.T) {
	for _, c := range []struct {
		family, requirement string
		severity            rules.Level
	}{
		{"uk-a", "ways-out-with-fault", rules.Error},
		{"uk-b", "ways-out-with-short", rules.Advice},
	} {
		f := breaks(tried(t, lobby("release-1", "box", c.family), "D1"), c.requirement)
		if f == nil || f.Severity != c.severity {
			t.Errorf("%s: %+v", c.family, f)
		}
	}
}

// Each rule by one arrangement that keeps it with any single fault and one that breaks it by the faults in question.
func TestFaultsBreakRules(t *testing.T) {
	told := "{model: release-2, into: input}" // the release only tells the controller
	for _, c := range []struct {
		rule, keeps, breaks string
	}{
		{"R-02", lobby("release-2", "box", "uk-a"), lobby(told, "box", "uk-a")},                                                              // a cut conductor
		{"R-04", strings.ReplaceAll(lobby("release-2", "box", "uk-a"), "    fire: fire-interface\n", ""), lobby("release-2", "box", "uk-a")}, // a short of the one pole that the fire signal breaks
		{"R-06", lobby("release-2", "box", "uk-a"), lobby(told, "box", "uk-a")},                                                              // an output that is stuck
		{"R-25", lobby("release-2", "box", "uk-a"), lobby("release-2", "out", "uk-a")},
	} {
		has := func(text string) bool {
			return slices.ContainsFunc(tried(t, text, "D1").Findings, func(f proof.Finding) bool { return f.Rule == c.rule })
		}
		if has(c.keeps) {
			t.Errorf("%s is broken where it should be kept", c.rule)
		}
		if !has(c.breaks) {
			t.Errorf("%s is kept where it should be broken", c.rule)
		}
	}
}

// A fault that the job accepts with a reason is no finding, and stays in the table; one that is no fault is told.
func TestAcceptedFaults(t *testing.T) {
	text := lobby("release-1", "box", "uk-b")
	first := tried(t, text, "D1")
	f := breaks(first, "ways-out-with-short")
	if f == nil || f.Figure < 2 {
		t.Fatalf("%+v", f)
	}
	accepting := strings.Replace(text, "    supervision: double\n",
		"    supervision: double\n    accepts: [{fault: \""+f.Where+"\", reason: checked every month}, {fault: open:nowhere, reason: none}]\n", 1)
	then := tried(t, accepting, "D1")
	if now := breaks(then, "ways-out-with-short"); now == nil || now.Figure != f.Figure-1 || now.Where == f.Where {
		t.Errorf("was %+v, is %+v", f, now)
	}
	if !slices.ContainsFunc(then.Doors[0].Seen, func(s proof.FaultSeen) bool {
		return s.Fault.ID == f.Where && s.Accepted == "checked every month" && s.Broken != ""
	}) {
		t.Error("it is not in the table")
	}
	if breaks(first, "accepted-fault-known") != nil || breaks(then, "accepted-fault-known") == nil {
		t.Error("what is accepted and no fault is not told, or told without cause")
	}
}

// With one pole and no fire signal, one bridge leaves no hard way at the door; with two poles one is left.
func TestAWayOutIsLeft(t *testing.T) {
	for release, found := range map[string]bool{"release-1": true, "release-2": false} {
		text := strings.ReplaceAll(lobby(release, "box", "uk-b"), "    fire: fire-interface\n", "")
		if f := breaks(tried(t, text, "D1"), "out-with-fault"); (f != nil) != found {
			t.Errorf("%s: %+v", release, f)
		}
	}
}

// With two poles a bridge past one of them shows by nothing, and takes the release together with a bridge past the other.
// Without any silent bridge there is nothing for a second one to build on.
func TestASilentFaultIsDangerousWithASecond(t *testing.T) {
	r := proof.Prove(planned(t, lobby("release-2", "box", "uk-b")))
	d := r.Doors[0].Door
	if f := breaks(proof.TryFaults(r, proof.FaultPairs, d, nil), "out-with-second-fault"); f == nil || f.Severity != rules.Advice {
		t.Errorf("%+v", f)
	}
	if f := breaks(proof.TryFaults(r, proof.SingleFaults, d, nil), "out-with-second-fault"); f != nil {
		t.Errorf("without pairs: %s", f.What)
	}
	free := strings.Replace(string(lobby("release-2", "box", "uk-b")), "model: magnet-12-bare, handle: none, on-battery: let-go", "model: strike-12-secure, handle: frees", 1)
	r = proof.Prove(planned(t, free))
	if f := breaks(proof.TryFaults(r, proof.FaultPairs, r.Doors[0].Door, nil), "out-with-second-fault"); f != nil {
		t.Errorf("with a handle that frees the door: %s", f.What)
	}
}

func planned(t *testing.T, text string) *wiring.Plan {
	t.Helper()
	return wiring.Make(readSite(t, []byte(text)))
}

// R-25 (common practice, no source): a controller that hangs beside the reader outside can be opened and bridged; above
// the ceiling inside it cannot.
func TestALockRelayOutsideIsFound(t *testing.T) {
	if f := breaks(tried(t, lobby("release-2", "out", "uk-b"), "D1"), "keeps-out-at-hand"); f == nil || f.Severity != rules.Error || f.Rule != "R-25" {
		t.Errorf("with the lock relay outside: %+v", f)
	}
	inside := tried(t, lobby("release-2", "box", "uk-b"), "D1")
	if f := breaks(inside, "keeps-out-at-hand"); f != nil {
		t.Errorf("with the lock relay inside: %s", f.What)
	}
	if inside.Doors[0].Tried < 100 {
		t.Errorf("only %d attempts", inside.Doors[0].Tried)
	}
}

// A release that people need on the unsecured side opens the door to whoever stands there: accepted, and shown.
func TestARequiredReleaseOutsideIsAccepted(t *testing.T) {
	r := tried(t, string(demo.Brackwater), "tanks")
	if len(r.Doors[0].Attacks) == 0 {
		t.Error("cutting the cable of the release outside does nothing")
	}
	for _, a := range r.Doors[0].Attacks {
		if a.Accepted == "" {
			t.Errorf("%s is not accepted", a.Faults[0].ID)
		}
	}
}

// Every fault of the minimum set that an escape door is tried with comes to light or leaves every way out: a cut
// conductor of the lock feed releases, each source off releases or changes nothing, and what is dead on the
// unsecured side opens nothing.
func TestCutsAndLostSourcesLetPeopleOut(t *testing.T) {
	r := tried(t, string(demo.Brackwater), "laboratory")
	cuts, sources := 0, 0
	for _, s := range r.Doors[0].Seen {
		switch s.Fault.Class {
		case fault.Open:
			cuts++
		case fault.Source:
			sources++
		default:
			continue
		}
		for _, way := range s.Lost {
			if way == "release" || way == "fire" || way == "no-battery" {
				t.Errorf("%s takes %s", s.Fault.ID, way)
			}
		}
	}
	if cuts < 40 || sources < 3 {
		t.Errorf("%d cuts, %d sources", cuts, sources)
	}
}

// A supervised line tells a cut and a short from a healthy contact, one without supervision does not.
func TestSupervisionNotices(t *testing.T) {
	silent := func(supervision string) int {
		text := strings.Replace(lobby("release-2", "box", "uk-b"), "supervision: double", "supervision: "+supervision, 1)
		n := 0
		for _, s := range tried(t, text, "D1").Doors[0].Seen {
			if strings.HasPrefix(s.Fault.ID, "open:D1.in.s/") && s.Notice != proof.AtOnce {
				n++
			}
		}
		return n
	}
	double, none := silent("double"), silent("none")
	if double != 0 || none == 0 {
		t.Errorf("%d cut cores of the exit line go unnoticed with supervision, %d without", double, none)
	}
}

// A lock that lets go by itself is found by whoever comes to the door, not by the system.
func TestALockThatLetsGoIsNoticedInUse(t *testing.T) {
	n := 0
	for _, s := range tried(t, lobby("release-2", "box", "uk-b"), "D1").Doors[0].Seen {
		if s.Idle == situation.Released && s.Shows == "lock released" {
			n++
			if s.Notice != proof.InUse {
				t.Errorf("%s is noticed %s", s.Fault.ID, s.Notice)
			}
		}
	}
	if n < 5 {
		t.Errorf("only %d faults let the lock go", n)
	}
}

// The same input gives the same answer, whatever the number of processors.
func TestFaultsComeOutTheSame(t *testing.T) {
	ids := func() []string {
		var all []string
		for _, d := range triedAnew(t, lobby("release-1", "box", "uk-a"), "D2").Doors {
			for _, s := range d.Seen {
				all = append(all, s.Fault.ID+string(s.Notice)+s.Shows+strings.Join(s.Lost, ","))
			}
		}
		return all
	}
	many := ids()
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if !reflect.DeepEqual(many, ids()) {
		t.Error("another answer on one processor")
	}
}

// multicore is two doors on two supplies whose locks and releases are at places of which each has a cable to the riser.
func multicore(first, second string) string {
	door := func(n, place string) string {
		return `
  D` + n + `:
    title: Door ` + n + `
    escape: out
    fire-rated: no
    controller: C` + n + `
    entry: reader-pulse
    locks: [{model: magnet-12-bare, handle: none, on-battery: let-go, place: ` + place + `}]
    exit: [exit-button]
    contacts: [contact-surface]
    releases: [{model: release-1, place: ` + place + `}]
    fire: fire-interface
    watch: relay-12
    supervision: double
`
	}
	return `
job: MULTI
title: Two doors on two supplies
rules: [uk-b]
places: {riser: {title: Riser}, lobby: {title: Lobby}, yard: {title: Yard}}
supplies:
  PS1: {model: supply-12-5, battery: battery-12-38, place: riser, zero-volt: earthed, works-to: 12 V}
  PS2: {model: supply-12-5, battery: battery-12-38, place: riser, zero-volt: earthed, works-to: 12 V}
controllers:
  C1: {model: controller-1-12, place: riser, feed: PS1}
  C2: {model: controller-1-12, place: riser, feed: PS2}
runs:
  W1: {from: riser, to: lobby, cable: 12x0.22, length: 4 m}
  W2: {from: riser, to: yard, cable: 12x0.22, length: 4 m}
doors:` + door("1", first) + door("2", second)
}

// R-05 (IEC 60204-1 for emergency stops, from memory): one bridge in a cable that two doors share lets the supply of the
// other feed a lock past its fire contact. In cables of their own there is nothing to bridge.
func TestTwoDoorsFeedEachOther(t *testing.T) {
	across := func(second string) (ids []string) {
		for _, s := range takes(tried(t, multicore("lobby", second), "D1"), "fire") {
			doors := map[string]bool{}
			for _, w := range s.Fault.At {
				doors[w.Door] = true
			}
			if s.Fault.Class == fault.Bridge && doors["D1"] && doors["D2"] {
				ids = append(ids, s.Fault.ID)
			}
		}
		return ids
	}
	if ids := across("lobby"); len(ids) == 0 {
		t.Error("in one cable, no bridge between the two doors keeps the lock of the first on")
	}
	if ids := across("yard"); len(ids) > 0 {
		t.Errorf("in cables of their own: %v", ids)
	}
}
