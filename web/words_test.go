package web

import (
	"bytes"
	"context"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/journal"
	"doorwright/proof"
)

// What nobody has stated is told so, and leaves no gap in a sentence.
func TestWhatIsNotStatedLeavesNoGap(t *testing.T) {
	d := withDemo(t)
	text := bytes.Replace(demo.Brackwater, []byte("revision: A\n"), nil, 1)
	text = regexp.MustCompile(`    secured: .*\n`).ReplaceAll(text, nil)
	if _, err := d.journal.Write(context.Background(), "mw", journal.Imported{Job: "BTO", Document: string(text)}); err != nil {
		t.Fatal(err)
	}
	d.has(d.get("/j/BTO/d/staff", http.StatusOK), "Secured side: not stated.", "<dt>revision</dt><dd>not stated</dd>")
	d.has(d.get("/j/BTO", http.StatusOK), "of the plan as it is now, revision not stated.")
}

// A finding at no one door has no door before it.
func TestFindingAtNoDoorHasNoDoorBeforeIt(t *testing.T) {
	supply, door := proof.Finding{What: "PS1 lasts 1 h"}, proof.Finding{Door: "staff", What: "the lock stays held"}
	cured, worse := different([]proof.Finding{supply}, []proof.Finding{door})
	if len(cured) != 1 || cured[0] != "PS1 lasts 1 h" || len(worse) != 1 || worse[0].Text != "staff: the lock stays held" {
		t.Errorf("%q, %v", cured, worse)
	}
}

// The way to a page ends with the last place on it.
func TestWayEndsWithAPlace(t *testing.T) {
	way := regexp.MustCompile(`(?s)<nav class="way".*?</nav>`).FindString(withDemo(t).get("/bring", http.StatusOK))
	if !strings.Contains(way, "Jobs") || regexp.MustCompile(`/</span>\s*</nav>`).MatchString(way) {
		t.Errorf("the way is %q", way)
	}
}

// A patch of colour stands beside a core of one colour: what has none, or two, would show the patch of another.
func TestOnlyOneColourHasAPatch(t *testing.T) {
	style := withDemo(t).get(asset("app.css"), http.StatusOK)
	for colour, want := range map[string]string{"BK": "c-bk", "GD": "c-gd", "red": "c-red", "GNYE": "", "": "", "no": ""} {
		is := swatch(colour)
		if is != want || is != "" && !regexp.MustCompile(`\.`+is+`\b[^{}]*\{ --core: #`).MatchString(style) {
			t.Errorf("%q has the patch %q, not %q, or the style does not know it", colour, is, want)
		}
	}
}
