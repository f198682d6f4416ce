package proof_test

import (
	"bytes"
	"strings"
	"testing"

	"doorwright/demo"
)

// A card that is not understood is told with what of it does not arrive, and where that is seen.
func TestACardNotUnderstoodSaysWhatDoesNotArrive(t *testing.T) {
	far := bytes.Replace(demo.Brackwater, []byte("cable-length: 10 m"), []byte("cable-length: 900 m"), 1) // of door plant
	for _, f := range prove(t, far).Findings {
		if f.Requirement != "data-understood" {
			continue
		}
		if want := "the controller does not see D0 low and D1 high"; !strings.Contains(f.What, want) {
			t.Errorf("%s: %q does not say %q", f.Where, f.What, want)
		}
		return
	}
	t.Error("a reader at 900 m is understood")
}
