package browser

import "testing"

// What single faults come to is shown as soon as it is known, without the page being loaded again, and never while somebody
// writes in that part of it.
func TestVerdictOnSingleFaultsComesByItself(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			b := d.tab(t, open(t, brackwater()))
			b.goTo("/j/BTO/d/plant")
			ask[bool](b, "(window.loadedOnce = true)")
			b.sees("Of the plan as it is now, revision A.")
			if !ask[bool](b, "Boolean(window.loadedOnce)") {
				t.Error("the page was loaded again")
			}
			b.press("#faults details > summary")
			b.press("#faults [name=reason]")
			b.keys("guarded by day")
			b.pressText("Accept it in my name")
			b.sees("Accepted by Mara Wren")
			b.sees("guarded by day")
			b.pressText("Brackwater Tidal Observatory")
			b.sees("of 8 doors, of the plan as it is now, revision A")
		})
	}
}
