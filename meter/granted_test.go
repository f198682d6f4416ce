package meter

import (
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/wiring"
)

// Readings say what they take for granted only where nobody stated it.
func TestGrantedIsWhatNobodyStated(t *testing.T) {
	const stated = "zero-volt: earthed"
	for _, c := range []struct {
		zero string
		want string
	}{{stated, ""}, {"zero-volt: floating", ""}, {"zero-volt: unknown", "PS1 is tied to earth is not stated"}} {
		text := strings.ReplaceAll(string(demo.Brackwater), stated, c.zero)
		j, wrong := job.Read("demo", []byte(text))
		if len(wrong) > 0 {
			t.Fatal(wrong)
		}
		plan := wiring.Make(j)
		for _, d := range j.Doors {
			if d.ID != "visitor" {
				continue
			}
			if says := strings.Join(Granted(plan, d), "\n"); c.want == "" && says != "" || !strings.Contains(says, c.want) {
				t.Errorf("%s: %q, want %q", c.zero, says, c.want)
			}
		}
	}
}
