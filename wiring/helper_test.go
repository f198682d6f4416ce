package wiring_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// readJob reads a job that must be valid.
func readJob(t testing.TB, text string) *job.Job {
	t.Helper()
	j, problems := job.Read("job.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatalf("%v\n%s", problems, text)
	}
	return j
}

// planOf is the plan of a job that can be wired.
func planOf(t testing.TB, text string) *wiring.Plan {
	t.Helper()
	p := wiring.Make(readJob(t, text))
	if len(p.Problems) > 0 {
		t.Fatalf("%v\n%s", p.Problems, text)
	}
	return p
}

// oneDoor is a job of one door D1 on a controller C1, with a supply PS1 for it and PS2 beside it. More replaces its
// supplies, controllers or places, or adds to the document.
func oneDoor(door string, more ...string) string {
	supplies := `  PS1: {model: supply-12-5, place: riser, zero-volt: earthed}
  PS2: {model: supply-24-5, place: riser, zero-volt: floating}`
	controller := `  C1: {model: controller-1-12, place: D1.box, feed: PS1}`
	places, rest := "{riser: {title: Riser}}", ""
	for _, m := range more {
		switch {
		case strings.HasPrefix(m, "controllers:"):
			controller = strings.TrimPrefix(m, "controllers:")
		case strings.HasPrefix(m, "supplies:"):
			supplies = strings.TrimPrefix(m, "supplies:")
		case strings.HasPrefix(m, "places:"):
			places = strings.TrimPrefix(m, "places:")
		default:
			rest += m + "\n"
		}
	}
	return fmt.Sprintf(`job: J
title: One door
rules: [uk-b]
%splaces: %s
supplies:
%s
controllers:
%s
doors:
  D1:
    title: Door
    escape: none
    fire-rated: no
    controller: C1
%s`, rest, places, supplies, controller, indent(door))
}

func indent(s string) string {
	var b strings.Builder
	for _, line := range strings.Split(strings.TrimSpace(s), "\n") {
		b.WriteString("    " + strings.TrimRight(line, "\t ") + "\n")
	}
	return b.String()
}

// nets is which pins conductors and what passes them on join.
type nets map[string]string

func netsOf(p *wiring.Plan) nets {
	n := nets{}
	for _, d := range p.Devices {
		for _, e := range d.Model.Ports {
			pins := device.Pins(e.Value)
			for i := range pins {
				pins[i] = wiring.End{Device: d, Pin: device.PinOf(e.Key, pins[i])}.String()
			}
			switch e.Value.Is {
			case device.Bar:
				for _, q := range pins[1:] {
					n.join(pins[0], q)
				}
			case device.Through:
				for i := 0; i+1 < len(pins); i += 2 {
					n.join(pins[i], pins[i+1])
				}
			}
		}
	}
	for _, c := range p.Conductors {
		if c.B.Device != nil {
			n.join(c.A.String(), c.B.String())
		}
	}
	return n
}

func (n nets) root(pin string) string {
	for n[pin] != "" {
		pin = n[pin]
	}
	return pin
}

func (n nets) join(a, b string) {
	if a, b = n.root(a), n.root(b); a != b {
		n[a] = b
	}
}

// sets are the nets of two pins or more of what is fitted, sorted, in a form to compare.
func (n nets) sets(p *wiring.Plan, rename func(string) string) []string {
	by := map[string][]string{}
	for _, d := range p.Devices {
		for _, t := range d.Model.Strip {
			pin := wiring.End{Device: d, Pin: t.Pin}.String()
			if d.Added == nil {
				by[n.root(pin)] = append(by[n.root(pin)], rename(pin))
			}
		}
	}
	var all []string
	for _, pins := range by {
		if len(pins) > 1 {
			slices.Sort(pins)
			all = append(all, strings.Join(pins, " "))
		}
	}
	slices.Sort(all)
	return all
}

// expect is what a plan must join and hold.
type expect struct {
	joined []string          // each: pins in one net, with blanks between
	apart  []string          // each: pins all in different nets
	added  map[string]string // added component and its model
	absent []string          // ids that must not be there
	why    map[string]string // a device pin and the purpose of a conductor that ends there
}

// check holds a plan against what is expected of it.
func (x expect) check(t *testing.T, p *wiring.Plan) {
	t.Helper()
	n := netsOf(p)
	for _, set := range x.joined {
		pins := existing(t, p, set)
		for _, pin := range pins[1:] {
			if n.root(pin) != n.root(pins[0]) {
				t.Errorf("%s and %s are not joined", pins[0], pin)
			}
		}
	}
	for _, set := range x.apart {
		pins := existing(t, p, set)
		for i, a := range pins {
			for _, b := range pins[i+1:] {
				if n.root(a) == n.root(b) {
					t.Errorf("%s and %s are joined", a, b)
				}
			}
		}
	}
	for id, model := range x.added {
		if d := p.Device(id); d == nil || d.Added == nil || d.ModelID != model || d.Added.Why == "" || d.Added.Without == "" {
			t.Errorf("%s is %+v, want an added %s with its reason", id, d, model)
		}
	}
	for _, id := range x.absent {
		if p.Device(id) != nil {
			t.Errorf("%s is there", id)
		}
	}
	for pin, purpose := range x.why {
		if !slices.Contains(purposes(p, pin), purpose) {
			t.Errorf("%s: conductors for %q, want one for %q", pin, purposes(p, pin), purpose)
		}
	}
	if len(x.joined) == 0 {
		t.Error("nothing is expected to be joined")
	}
}

// existing are the pins of a set, every one of which must be on a terminal.
func existing(t *testing.T, p *wiring.Plan, set string) []string {
	t.Helper()
	pins := strings.Fields(set)
	for _, pin := range pins {
		if !onTerminal(p, pin) {
			t.Fatalf("there is no terminal %s", pin)
		}
	}
	return pins
}

func onTerminal(p *wiring.Plan, pin string) bool {
	for i, r := range pin {
		if r != '.' {
			continue
		}
		if d := p.Device(pin[:i]); d != nil && d.Model.Terminal(pin[i+1:]) != nil {
			return true
		}
	}
	return false
}

func purposes(p *wiring.Plan, pin string) []string {
	var all []string
	for _, c := range p.Conductors {
		if c.A.String() == pin || c.B.String() == pin {
			all = append(all, c.Reason.Purpose)
		}
	}
	return all
}
