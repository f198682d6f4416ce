package find

import (
	"slices"
	"testing"

	"doorwright/meter"
	"doorwright/signal"
)

// What was read of a card whose number is known leads to the fault at once. The numbers of crossed lines are the published
// examples of the 26-bit open format (90/324 and 170/31527) and others worked out from its layout; what the other faults
// leave follows from SIA AC-01, where each bit is a pulse on one of two lines.
func TestNumbersReadLeadToTheFault(t *testing.T) {
	f := finderOf(t, "plant")
	const crossed, zeroOpen, oneOpen = "swap:plant.out.s/5+6", "open:plant.out.s/5", "open:plant.out.s/6"
	for _, c := range []struct {
		expected, received, fault string
		most                      int // place in the list, from 0
	}{
		{"0/0", "255/65535", crossed, 0},
		{"0/1", "255/65534", crossed, 0},
		{"1/1", "254/65534", crossed, 0},
		{"1/2", "254/65533", crossed, 0},
		{"12/34567", "243/30968", crossed, 0},
		{"90/324", "165/65211", crossed, 0},
		{"100/12345", "155/53190", crossed, 0},
		{"123/45678", "132/19857", crossed, 0},
		{"128/32768", "127/32767", crossed, 0},
		{"170/31527", "85/34008", crossed, 0},
		{"255/65535", "0/0", crossed, 0},
		{"90/324", "11010010111111110101110111", crossed, 0},
		{"324", "165/65211", crossed, 0},
		{"90/324", "0b1111111", zeroOpen, 2},
		{"90/324", "0000000000000000000", oneOpen, 2},
		{"90/324", "0101101000000001010001000", "use:noise", 0},   // the first pulse lost
		{"90/324", "001011010000100001010001000", "use:noise", 0}, // one added
		{"90/324", "00010001010000000010110100", "setting:order", 0},
		{"1234/5678", "210/5678", "setting:format", 0},
		{"90/324", "1440/324", "setting:format", 0},
		{"90/324", "91/324", "setting:format", 1},
		{"90/324", "90/325", "use:other-card", 0},
	} {
		f.reset()
		before := chanceOfGroup(f, c.fault)
		o := meter.Observation{What: meter.NumberRead, Is: c.received + " expected " + c.expected, In: meter.Undisturbed()}
		o.In.Act = meter.Card
		if err := f.See(o); err != nil {
			t.Fatal(err)
		}
		place := placeOf(f, []string{c.fault})
		if place < 0 || place > c.most || chanceOfGroup(f, c.fault) < 5*before {
			t.Errorf("%s: %s at place %d with %.3f", o.Is, c.fault, place+1, chanceOfGroup(f, c.fault))
			for _, g := range f.Suspects()[:4] {
				t.Logf("%.3f %s", g.Probability, g.Suspects[0].ID)
			}
		}
	}
}

// A number that is right speaks against every fault of the data lines, and one that nothing explains for none of them.
func TestNumbersThatExplainNothing(t *testing.T) {
	f := finderOf(t, "plant")
	crossed := "swap:plant.out.s/5+6"
	before := chanceOfGroup(f, crossed)
	for is, most := range map[string]float64{"90/324 expected 90/324": before / 10, "17/40961 expected 90/324": before * 3} {
		f.reset()
		in := meter.Undisturbed()
		in.Act = meter.Card
		if err := f.See(meter.Observation{What: meter.NumberRead, Is: is, In: in}); err != nil {
			t.Fatal(err)
		}
		if p := chanceOfGroup(f, crossed); p > most {
			t.Errorf("%s: crossed lines have %.5f, and %.5f before", is, p, before)
		}
	}
}

func chanceOfGroup(f *Finder, id string) float64 {
	for _, g := range f.Suspects() {
		if slices.ContainsFunc(g.Suspects, func(s Suspect) bool { return s.ID == id }) {
			return g.Probability
		}
	}
	return 0
}

// Every cause that is given a share is one that package signal knows, and no shares come to more than there is.
func TestCausesOfNumbersAreKnown(t *testing.T) {
	var known []string
	for _, c := range signal.Causes() {
		known = append(known, c.ID)
	}
	all := []often{comesRight, comesUnknown, comesWeak, comesNoisy, comesTwice, comesCut, comesTurned, comesOther}
	for _, o := range byNumber {
		all = append(all, o)
	}
	for _, o := range all {
		sum := 0.0
		for id, share := range o {
			sum += share
			if !slices.Contains(known, id) {
				t.Errorf("no cause %q", id)
			}
		}
		if sum > 1 {
			t.Errorf("%v comes to %v", o, sum)
		}
	}
}
