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

func TestSiteGolden(t *testing.T) { golden(t, "site", Site(planOf(t, demo.Brackwater))) }
