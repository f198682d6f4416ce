package situation_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
	"doorwright/situation"
)

// Networks with a fault in them, as anyone gets them from the command, against ngspice (the circuit simulator of Debian)
// at the same root: readable nodes within 0.1 mV, the others within their impedance times 1 nA.
func TestFaultyNetworksAgainstNgspice(t *testing.T) {
	s := siteOf(t, string(demo.Brackwater))
	r := rand.New(rand.NewPCG(5, 3))
	var decks, titles []string
	var nodes [][]situation.NodeVolts
	for _, d := range s.Plan.Job.Doors {
		all := append(fault.Of(s.Plan, d.ID), fault.Attacks(s.Plan, d.ID)...)
		for range 12 {
			f := &all[r.IntN(len(all))]
			is := s.IslandOf(f)
			if is == nil {
				continue
			}
			b := is.FaultyBench(situation.Nominal(), f)
			if !b.Outcome().Settled() {
				continue
			}
			decks = append(decks, b.Netlist(d.ID+" "+f.ID))
			titles = append(titles, d.ID+" "+f.ID)
			nodes = append(nodes, b.Nodes())
		}
	}
	answers := simulate(t, decks)
	none, compared := 0, 0
	for i, want := range answers {
		if want == nil {
			none++
			continue
		}
		for _, n := range nodes[i] {
			v, ok := want[strings.ToLower(n.Name)]
			if !ok || n.Floats {
				continue
			}
			compared++
			if off := math.Abs(v - float64(n.Volts)); off > allowedAt(n) {
				t.Errorf("%s: %s is %v here and %g V there", titles[i], n.Name, n.Volts, v)
				break
			}
		}
	}
	t.Logf("%d nodes of %d faulty networks compared; no answer in %d", compared, len(decks), none)
	if compared < 5000 || 20*none > len(decks) {
		t.Error("too little was compared")
	}
}
