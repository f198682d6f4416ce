package draw

import (
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/internal/site"
)

func TestSiteBlocksAreReadableAndComplete(t *testing.T) {
	network := strings.Replace(string(demo.Brackwater), "place: visitor.box, feed: PS1}",
		"place: visitor.box, feed: PS1, network: {address: 192.0.2.11, switch: SW1/3}}", 1)
	for _, data := range [][]byte{demo.Brackwater, []byte(network), thirtyTwo(), site.Generate(60)} {
		p := planOf(t, data)
		s := Site(p)
		checkTexts(t, s)
		text := dump(s)
		for _, d := range p.Job.Doors {
			if !strings.Contains(text, "rect "+d.ID+" ") {
				t.Errorf("%s: door %s is not there", s.Title, d.ID)
			}
		}
		for _, r := range p.Job.Runs {
			if blockOf(r.From) != blockOf(r.To) && !strings.Contains(text, `"`+r.ID+": ") {
				t.Errorf("%s: run %s is not there", s.Title, r.ID)
			}
		}
		if strings.Contains(string(data), "192.0.2.11") && !strings.Contains(text, "C1 192.0.2.11 SW1/3") {
			t.Error("the network connection is not there")
		}
	}
}

// On the narrowest drawing, that it is calculated stands there in full.
func TestANarrowDrawingKeepsItsCaution(t *testing.T) {
	const one = "job: X\ntitle: A title that is a good deal longer than the drawing of the one door is wide\nsupplies: {PS1: {model: supply-12-5, place: D1.box}}\n" +
		"controllers: {C1: {model: controller-1-12, place: D1.box, feed: PS1}}\n" +
		"doors: {D1: {title: Shed, controller: C1, locks: [magnet-12]}}\n"
	s := Site(planOf(t, []byte(one)))
	checkTexts(t, s)
	if text := dump(s); !strings.Contains(text, ". Made from the plan; calculated, not measured.") {
		t.Error(text)
	}
}

func TestSiteGolden(t *testing.T) { golden(t, "site", Site(planOf(t, demo.Brackwater))) }
