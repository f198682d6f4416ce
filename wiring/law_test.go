package wiring_test

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/device"
	"doorwright/job"
	"doorwright/rules"
	"doorwright/wiring"

	"pgregory.net/rapid"
)

// drawnDoor is one door of a job that is made up, without its id.
func drawnDoor(t *rapid.T) string {
	pick := func(what string, of ...string) string { return rapid.SampledFrom(of).Draw(t, what) }
	return strings.Join([]string{
		"leaves: 2",
		"locks: " + pick("lock", "[magnet-12]", "[strike-12-secure]", "[{model: magnet-24-bare, feed: PS2}]", "[handle-lock-12]",
			"[magnet-12, {model: magnet-12-bare, leaf: 2}]"),
		"loop: door-loop",
		pick("entry", "", "entry: reader-pulse", "entry: reader-serial", "entry: reader-485", "entry: {model: reader-pulse-wide, feed: PS2}"),
		pick("exit reader", "", "exit-reader: reader-pulse", "exit-reader: reader-485"),
		pick("exit", "", "exit: [exit-button]", "exit: [exit-button, exit-button]", "exit: [exit-sensor-12]",
			"exit: [{model: exit-button-2, breaks-feed: true}]"),
		pick("contacts", "", "contacts: [contact-surface]", "contacts: [contact-surface, {model: contact-surface, leaf: 2}]"),
		pick("releases", "", "releases: [release-1]", "releases: [release-2]", "releases: [release-2, {model: release-2, side: unsecured}]",
			"releases: [{model: release-2, into: input}]"),
		pick("fire", "", "fire: fire-interface"), pick("watch", "", "watch: relay-12"), pick("interposing", "", "interposing: relay-12"),
		pick("sounder", "", "sounder: sounder-12"), pick("aux", "", "aux: [contact-surface]"),
		pick("supervision", "", "supervision: single", "supervision: double"),
		pick("sense", "", "settings: {lock-output: energise-to-lock}"),
	}, "\n")
}

// drawnJob is a job of up to three such doors, in either make-up; order is that in which they are written.
func drawnJob(doors []string, makeUp, zero string, order []int) string {
	var controllers, written, runs strings.Builder
	for _, i := range order {
		fmt.Fprintf(&controllers, "  C%d: {model: controller-1-12, place: D%d.box, feed: PS1}\n", i, i)
		fmt.Fprintf(&written, "  D%d:\n    title: Door %d\n    escape: none\n    fire-rated: no\n    controller: C%d\n%s", i, i, i, indent(doors[i]))
		fmt.Fprintf(&runs, "  F%d: {from: riser, to: D%d.box, cable: 2x2.5, length: 30 m}\n", i, i)
		fmt.Fprintf(&runs, "  G%d: {from: riser, to: D%d.box, cable: 12x0.22, length: 30 m}\n", i, i)
	}
	return fmt.Sprintf(`job: J
title: Made up
rules: [uk-b]
make-up: %s
places: {riser: {title: Riser}}
supplies:
  PS1: {model: supply-12-5, place: riser, battery: battery-12-17, zero-volt: %s}
  PS2: {model: supply-24-5, place: riser, zero-volt: floating}
controllers:
%sdoors:
%sruns:
%s`, makeUp, zero, controllers.String(), written.String(), runs.String())
}

// drawn reads a job that is made up; nil when it is none, such as one whose exit devices rest differently.
func drawn(t *rapid.T, doors []string, order []int) *job.Job {
	makeUp := rapid.SampledFrom([]string{"iec", "north-american"}).Draw(t, "make-up")
	zero := rapid.SampledFrom([]string{"earthed", "floating", "unknown"}).Draw(t, "0 V")
	j, _ := job.Read("drawn.yaml", []byte(drawnJob(doors, makeUp, zero, order)))
	return j
}

// lawful lists where a plan breaks what holds for every plan.
func lawful(p *wiring.Plan) []string {
	var broken []string
	say := func(format string, args ...any) { broken = append(broken, fmt.Sprintf(format, args...)) }
	ids, used, landed := map[string]bool{}, map[string]int{}, map[wiring.End][]*wiring.Conductor{}
	for _, c := range p.Conductors {
		if ids[c.ID] {
			say("two conductors are %s", c.ID)
		}
		ids[c.ID] = true
		if r := c.Reason; r.Purpose == "" || r.Why == "" || r.Without == "" || r.Basis == "" || r.Effect == "" {
			say("%s has no full reason: %+v", c.ID, r)
		}
		ends := []wiring.End{c.A, c.B}
		if c.Kind == wiring.Screen && c.B.Device == nil {
			ends = ends[:1]
		}
		for _, e := range ends {
			switch {
			case e.Device == nil || p.Device(e.Device.ID) != e.Device:
				say("%s ends at no device of the plan", c.ID)
			case e.Device.Model.Terminal(e.Pin) == nil:
				say("%s ends at %s, which is no terminal", c.ID, e)
			}
			landed[e] = append(landed[e], c)
		}
		if c.Kind == wiring.Core {
			used[fmt.Sprintf("%s/%d", c.Run.ID, c.Core.Index)]++
			at := []*job.Place{c.A.Device.Place, c.B.Device.Place}
			if !slices.Contains(at, c.Run.From) || !slices.Contains(at, c.Run.To) {
				say("%s goes from %s to %s, and its ends are elsewhere", c.ID, c.Run.From.ID, c.Run.To.ID)
			}
		} else if c.Kind != wiring.Screen && c.A.Device.Place != c.B.Device.Place {
			say("%s is no core but goes from place to place", c.ID)
		}
	}
	return append(append(broken, screwsOf(p, landed)...), coresOf(p, used)...)
}

// screwsOf lists terminals that got more, or other, than they take. Legs of components are spliced.
func screwsOf(p *wiring.Plan, landed map[wiring.End][]*wiring.Conductor) []string {
	var broken []string
	seen := map[string]bool{}
	for _, d := range p.Devices {
		if seen[d.ID] {
			broken = append(broken, "two devices are "+d.ID)
		}
		seen[d.ID] = true
		spliced := d.Added != nil && d.Model.Kind != "junction"
		for _, t := range d.Model.Strip {
			on := landed[wiring.End{Device: d, Pin: t.Pin}]
			if len(on) > t.Takes() && !spliced {
				broken = append(broken, fmt.Sprintf("%s.%s gets %d and takes %d", d.ID, t.Pin, len(on), t.Takes()))
			}
			for _, c := range on {
				if c.Kind == wiring.Core && !spliced && !t.Suits(c.Core.Conductor.Size) {
					broken = append(broken, fmt.Sprintf("%s.%s does not suit %v", d.ID, t.Pin, c.Core.Conductor.Size))
				}
			}
		}
	}
	return broken
}

// coresOf lists cores that are used twice, or neither used nor spare, or both.
func coresOf(p *wiring.Plan, used map[string]int) []string {
	var broken []string
	for _, s := range p.Spares {
		used[fmt.Sprintf("%s/%d", s.Run.ID, s.Core.Index)]++
	}
	for _, r := range p.Job.Runs {
		for _, c := range r.Type.Cores() {
			if n := used[fmt.Sprintf("%s/%d", r.ID, c.Index)]; n != 1 {
				broken = append(broken, fmt.Sprintf("%s/%d is used or spare %d times", r.ID, c.Index, n))
			}
		}
	}
	return broken
}

func everything(string) bool { return true }

func TestPlansKeepTheLaws(t *testing.T) {
	planned := 0
	rapid.Check(t, func(t *rapid.T) {
		j := drawn(t, []string{drawnDoor(t), drawnDoor(t)}, []int{0, 1})
		if j == nil {
			return
		}
		p := wiring.Make(j)
		planned++
		for _, b := range lawful(p) {
			t.Error(b)
		}
		for _, b := range p.Problems {
			// The cables taken by default are chosen by a rough count; all else in these jobs can be wired.
			if !strings.HasSuffix(b.What, " left") {
				t.Errorf("problem: %q", b)
			}
		}
		if again := wiring.Make(j); !bytes.Equal(listing(p, everything), listing(again, everything)) {
			t.Error("the same job gave another plan")
		}
	})
	if planned < 20 {
		t.Errorf("only %d jobs were planned", planned)
	}
}

func TestDemosKeepTheLaws(t *testing.T) {
	for name, text := range map[string][]byte{"brackwater": demo.Brackwater, "flawed": demo.Flawed} {
		j, problems := job.Read(name, text)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		for _, b := range lawful(wiring.Make(j)) {
			t.Errorf("%s: %s", name, b)
		}
	}
}

// Which terminals are joined does not depend on the order in which doors are written, nor on what they are called.
func TestMirroredJobsAreWiredAlike(t *testing.T) {
	planned := 0
	rapid.Check(t, func(t *rapid.T) {
		left, right := drawnDoor(t), drawnDoor(t)
		sets := func(doors []string, order []int, rename func(string) string) []string {
			j, problems := job.Read("drawn.yaml", []byte(drawnJob(doors, "iec", "earthed", order)))
			if len(problems) > 0 {
				return nil
			}
			p := wiring.Make(j)
			return netsOf(p).sets(p, rename)
		}
		want := sets([]string{left, right}, []int{0, 1}, asWritten)
		if want == nil {
			return
		}
		planned++
		if got := sets([]string{left, right}, []int{1, 0}, asWritten); !joinedAlike(got, want) {
			t.Errorf("written in another order:\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
		swap := strings.NewReplacer("D0.", "D1.", "D1.", "D0.", "C0.", "C1.", "C1.", "C0.").Replace
		if got := sets([]string{right, left}, []int{1, 0}, swap); !joinedAlike(got, want) {
			t.Errorf("left and right swapped:\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	})
	if planned < 20 {
		t.Errorf("only %d jobs were planned", planned)
	}
}

func asWritten(pin string) string { return pin }

// The demo with its doors written the other way round is joined in the same way.
func TestDemoTheOtherWayRound(t *testing.T) {
	there := demoPlan(t)
	d := there.Job.Document.Clone()
	slices.Reverse(d.Doors)
	j, problems := job.Resolve(d, nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	back := wiring.Make(j)
	one, other := netsOf(there).sets(there, asWritten), netsOf(back).sets(back, asWritten)
	if len(one) < 50 {
		t.Fatalf("only %d nets", len(one))
	}
	if !slices.Equal(one, other) {
		t.Errorf("the doors in another order are joined otherwise:\n%v\n%v", one, other)
	}
}

// joinedAlike compares nets but for the common 0 V between two supplies: the first reader that needs one brings it.
func joinedAlike(got, want []string) bool {
	drop := func(sets []string) []string {
		return slices.DeleteFunc(slices.Clone(sets), func(s string) bool { return strings.Contains(s, ".common") && strings.Contains(s, "data") })
	}
	return slices.Equal(drop(got), drop(want))
}

// Every rule that a reason names is one of the published list.
func TestReasonsNameRulesThatExist(t *testing.T) {
	rule, n := regexp.MustCompile(`R-\d+`), 0
	for _, c := range demoPlan(t).Conductors {
		for _, id := range rule.FindAllString(c.Reason.Basis, -1) {
			n++
			if _, ok := rules.Find(id); !ok {
				t.Errorf("%s: there is no rule %s", c.ID, id)
			}
		}
	}
	if n < 20 {
		t.Errorf("only %d rules are named", n)
	}
}

// A contact that is given for a use rests as the input that reads it is set to expect.
func TestInputsRestAsTheyAreSet(t *testing.T) {
	n := 0
	for _, d := range demoPlan(t).Job.Doors {
		s := d.Controller.Settings.Channels[d.Channel-1]
		for _, in := range []device.InputSettings{s.Exit, s.Contact, s.Aux} {
			if in.Used {
				n++
				if in.Rest != device.RestOpen && in.Rest != device.RestClosed {
					t.Errorf("%s: an input rests %q", d.ID, in.Rest)
				}
			}
		}
	}
	if n < 10 {
		t.Errorf("only %d inputs are used", n)
	}
}
