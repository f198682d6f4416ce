package situation_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/situation"
)

// causePair is what a cause brings about at a door of the demo (or of the job from), and a change to the job by which
// it does not. Both are what the door tells at the watched steps, one after another. What else ends otherwise by the
// nature of things is listed; anything more is a failure of the test, and so is anything listed in vain.
type causePair struct {
	cause, door string
	tells       tell
	holds       string
	old, new    string
	fails       string
	also        []string
	from        string
}

// tell says in words what a cause is about.
type tell func(is *situation.Island, b *situation.Bench, d *job.Door) string

// effects tells whether the locks of the door hold it.
func effects(_ *situation.Island, b *situation.Bench, d *job.Door) string {
	return b.Door(d).Effect.String()
}

// lines tells the effect, and whether the inputs of the controller read a fault of their lines.
func lines(is *situation.Island, b *situation.Bench, d *job.Door) string {
	if b.Door(d).Memory.Tamper {
		return effects(is, b, d) + " with a line fault"
	}
	return effects(is, b, d)
}

// alarms tells what the controller makes of the leaf.
func alarms(_ *situation.Island, b *situation.Bench, d *job.Door) string {
	switch m := b.Door(d).Memory; {
	case m.Forced:
		return "forced open"
	case m.Held:
		return "held open"
	}
	return "quiet"
}

// sounds tells what the controller makes of the leaf, and whether the sounder of the door is heard.
func sounds(is *situation.Island, b *situation.Bench, d *job.Door) string {
	if d.Sounder != nil && b.Runs(is.Unit(d.Sounder.ID)) {
		return alarms(is, b, d) + ", sounding"
	}
	return alarms(is, b, d)
}

// power tells the effect, and whether the controller works.
func power(is *situation.Island, b *situation.Bench, d *job.Door) string {
	if !b.Door(d).Facts.Runs {
		return effects(is, b, d) + " without controller"
	}
	return effects(is, b, d)
}

// causePairs has a row for each cause, in their order.
func causePairs() []causePair {
	byFire := []string{"fire", "fire-silence", "fire-reset", "fire-line"}
	byCard := []string{"granted", "opened", "held", "hung-granting"}
	return []causePair{
		{
			cause: "idle", door: "gauge", tells: lines, holds: "held",
			old: "place: stilling-well}\n", new: "place: stilling-well, supervision: none}\n    settings: {expects: double}\n",
			fails: "held with a line fault",
		},
		{
			cause: "granted", door: "visitor", tells: effects, holds: "released, held",
			old: "\nruns:\n", new: "\nruns:\n  W0: {from: visitor.box, to: visitor.out, cable: 4x2x0.22s, length: 140 m}\n",
			fails: "held, held", also: byCard,
		},
		{
			cause: "exit", door: "visitor", tells: effects, holds: "released, held",
			old: "    supervision: double\n", new: "    supervision: double\n    settings: {exit-only-shunts: true}\n",
			fails: "held, held",
		},
		{
			cause: "opened", door: "visitor", tells: alarms, holds: "quiet, quiet",
			old: "    supervision: double\n", new: "    supervision: double\n    settings: {held-after: 0.5 s}\n",
			fails: "held open, quiet",
		},
		{
			cause: "forced", door: "staff", tells: alarms, holds: "forced open",
			from: staffShunts, old: staffExit, new: strings.Replace(staffExit, "exit-button", "exit-sensor-24", 1),
			fails: "quiet", // the sensor gets 12 V, and one that does not work asks to leave for ever
		},
		{
			cause: "held", door: "staff", tells: sounds, holds: "held open, sounding",
			old: "    sounder: sounder-12\n", new: "", fails: "held open",
		},
		{
			cause: "release", door: "tanks", tells: effects, holds: "released, held",
			old: "releases: [release-2, {model: release-2, side: unsecured}]",
			new: "settings: {exit-only-shunts: true}\n" +
				"    releases: [{model: release-2, into: input}, {model: release-2, side: unsecured, into: input}]",
			fails: "held, held",
		},
		{
			cause: "fire", door: "plant", tells: effects, holds: "released",
			old: "released: [1, 2]|latching: [1, 2]", new: "released: [2]|latching: [2]", fails: "held", also: byFire,
		},
		{
			cause: "fire-silence", door: "visitor", tells: effects, holds: "released, released",
			old: "    releases: [release-2]\n    fire: fire-interface\n", new: "    releases: [release-2]\n",
			fails: "held, held", also: byFire,
		},
		{
			cause: "fire-reset", door: "tanks", tells: effects, holds: "released, released, held",
			old: "    reset: key-switch\n", new: "", fails: "released, released, released",
		},
		{
			cause: "fire-line", door: "laboratory", tells: effects, holds: "released",
			old: labFire, new: strings.Replace(labFire, "    fire: fire-interface\n", "", 1), fails: "held", also: byFire,
		},
		{
			cause: "mains", door: "gauge", tells: power, holds: "held",
			old: "    battery: battery-12-7\n|    standby: 8 h\n", new: "|",
			fails: "held without controller", also: []string{"mains-flat"},
		},
		{
			cause: "mains-flat", door: "D", tells: power, holds: "held",
			from: strings.Replace(dryLock, "cable: 4x0.22, length: 9 m", "cable: 4x0.22, length: 200 m", 1),
			old:  "works-to: 12 V", new: "works-to: 10.5 V", fails: "undecided",
		},
		{
			cause: "no-battery", door: "D", tells: power, holds: "released without controller",
			from: dryLock, old: "strike-12-safe", new: "strike-12-secure",
			fails: "held without controller", also: []string{"all-on"}, // which powers what needs power to release
		},
		{
			cause: "unfed", door: "plant", tells: effects, holds: "released",
			old: "    watch: relay-24\n", new: "", fails: "held",
		},
		{
			cause: "hung-holding", door: "visitor", tells: effects, holds: "held",
			old: "exit: [exit-button]", new: "exit: [{model: exit-button-2, breaks-feed: true}]", fails: "released",
		},
		{
			cause: "hung-granting", door: "laboratory", tells: effects, holds: "released",
			old:   "\nruns:\n",
			new:   "\nruns:\n  W0: {from: laboratory.box, to: laboratory.out, cable: 4x2x0.22s, length: 140 m}\n",
			fails: "held", also: byCard,
		},
		{
			cause: "all-on", door: "staff", tells: effects, holds: "released",
			old: "\nplaces:|strike-12-secure|strike-12-secure", new: heavyStrike + "\nplaces:|strike-heavy|strike-heavy",
			fails: "undecided",
		},
	}
}

// labFire is the fire interface of the laboratory and what stands beside it.
const labFire = "    fire: fire-interface\n    watch: relay-12\n    supervision: single\n"

// staffShunts is the demo with an exit request at the staff door that only silences the alarm of the leaf, since the
// handle frees the lock.
var staffShunts = strings.Replace(string(demo.Brackwater), "    title: Staff door\n",
	"    title: Staff door\n    settings: {exit-only-shunts: true}\n", 1)

const staffExit = "handle: frees}]\n    exit: [exit-button]"

// dryLock is a lock on a feed of its own, which the controller only switches: it stays as it is when the controller has
// no supply, whether it needs power to hold or to release.
const dryLock = `job: D
title: Lock on a feed of its own
rules: [uk-b]
places: {riser: {title: Riser}}
supplies:
  PS1: {model: supply-12-5, place: riser, battery: battery-12-17, works-to: 12 V, zero-volt: earthed}
controllers:
  C1: {model: controller-1-12, place: D.box, feed: PS1}
doors:
  D:
    title: Door
    escape: none
    fire-rated: no
    controller: C1
    entry: reader-pulse
    locks: [{model: strike-12-safe, feed: PS1, handle: frees}]
    exit: [exit-button]
    contacts: [contact-surface]
runs:
  W1: {from: riser, to: D.box, cable: 4x1.5, length: 9 m}
  W2: {from: D.box, to: D.head, cable: 4x0.22, length: 9 m}
`

// heavyStrike draws more than half of what the lock output of its controller gives.
const heavyStrike = `
models:
  strike-heavy:
    kind: strike
    title: Heavy strike
    strip: [{label: "+", pin: coil.plus}, {label: "-", pin: coil.minus}]
    ports:
      coil:
        {is: lock, use: lock, nominal: 12 V, window: 10.2 V to 14.4 V, ohms: 8 ohm, action: fail-secure, holds: 1.1 A,
        lets-go: 0.05 A, duty: continuous, inductance: 0.2 H, suppressor: diode}
    lock: {inside: with-lever, latches: true, fire: true}`

// changed is a job in which texts are replaced; several are separated by bars.
func changed(t *testing.T, text, old, new string) string {
	t.Helper()
	olds, news := strings.Split(old, "|"), strings.Split(new, "|")
	if len(olds) != len(news) {
		t.Fatal("as many texts to put in as to take out")
	}
	for i, o := range olds {
		if !strings.Contains(text, o) {
			t.Fatalf("the job has no %q", o)
		}
		text = strings.Replace(text, o, news[i], 1)
	}
	return text
}

// told takes a door through the cause of every row and gives what it tells at the watched steps, by cause; empty for a
// cause that cannot happen there.
func told(t *testing.T, site *situation.Site, door string, rows []causePair) map[string]string {
	t.Helper()
	i := slices.IndexFunc(site.Plan.Job.Doors, func(d *job.Door) bool { return d.ID == door })
	d := site.Plan.Job.Doors[i]
	is := site.Island(d.Controller.ID)
	b := is.Bench(situation.Nominal())
	idle, all := b.Save(), map[string]string{}
	for k, cause := range situation.Causes() {
		b.Back(idle)
		var seen []string
		for _, step := range cause.Steps(is, d) {
			b.Take(step)
			if step.Watched {
				if !b.Outcome().Settled() {
					t.Errorf("%s at %s: %v %v", cause.ID, door, b.Outcome().Circuit.Outcome, b.Outcome().Unsteady)
				}
				seen = append(seen, rows[k].tells(is, b, d))
			}
		}
		all[cause.ID] = strings.Join(seen, ", ")
	}
	return all
}

// Every cause brings about what it is for at a door, and with one change to the job it does not, while every other
// cause ends at that door as before, but for what is listed.
func TestEachCauseBringsAboutAndFails(t *testing.T) {
	rows := causePairs()
	if len(rows) == 0 || len(rows) != len(situation.Causes()) {
		t.Fatalf("%d rows for %d causes", len(rows), len(situation.Causes()))
	}
	for i, cause := range situation.Causes() {
		r := rows[i]
		if r.cause != cause.ID {
			t.Fatalf("row %d is of %s, want one of %s", i, r.cause, cause.ID)
		}
		t.Run(r.cause, func(t *testing.T) { r.check(t, rows) })
	}
}

// check holds the job and the changed one against the row.
func (r causePair) check(t *testing.T, rows []causePair) {
	t.Helper()
	text := r.from
	if text == "" {
		text = string(demo.Brackwater)
	}
	before := told(t, siteOf(t, text), r.door, rows)
	after := told(t, siteOf(t, changed(t, text, r.old, r.new)), r.door, rows)
	if before[r.cause] != r.holds {
		t.Errorf("at %s: %q, want %q", r.door, before[r.cause], r.holds)
	}
	if after[r.cause] != r.fails || r.fails == r.holds {
		t.Errorf("at %s, changed: %q, want %q and not %q", r.door, after[r.cause], r.fails, r.holds)
	}
	for _, other := range rows {
		differs, listed := before[other.cause] != after[other.cause], slices.Contains(r.also, other.cause)
		if other.cause != r.cause && differs != listed {
			t.Errorf("%s at %s: %q before, %q after the change; listed: %v",
				other.cause, r.door, before[other.cause], after[other.cause], listed)
		}
	}
}
