package proof

import "testing"

func TestReleasesCounted(t *testing.T) {
	for n, want := range []string{"no manual release", "1 manual release", "2 manual releases"} {
		if got := releasesCounted(n); got != want {
			t.Errorf("%d: %q", n, got)
		}
	}
}
