package browser

import "testing"

// The main job from a document to a door handed over, in one go, with a thumb on a phone: bring the job in, fit another
// lock from its picture, land a core, take a reading, make the tests, hand over.
func TestWholeJobOnAPhone(t *testing.T) {
	b := open(t, nil).tab(t).phone()
	b.goTo("/bring")
	b.pressText("Look at the demo")
	b.sees("a new job here")
	b.pressText("Keep it")
	b.arrives("/j/BTO")
	b.pressText("Instrument store")
	b.arrives("/store")
	b.sees("With every single fault")

	b.pressText("Plan")
	b.arrives("/plan")
	b.pressAt("document.querySelector('.chooser summary')")
	b.pressAt(cardOf("locks.1.model", "strike-12-safe"))
	b.pressText("Look what it does")
	b.sees("doors.store.locks")
	b.pressText("Leave it")
	b.until("document.querySelector('.chooser')")

	b.pressText("At work")
	b.arrives("/do/first")
	b.press("a.button[href*='/do/first/one?n=1']")
	b.arrives("/first/one")
	b.typeReading("0.4")
	b.press(".units [value='ohm']")
	b.until("document.querySelector('.verdict')")
	b.pressText("All measurements")
	b.arrives("/do/first")
	b.pressText("Land the cores")
	b.arrives("/do/land")
	b.pressAt("document.querySelector('.tickbox')")
	b.sees("1 of ")
	b.pressText("Readings")
	b.arrives("/do/read")
	b.press("a.button[href*='of=ohms']")
	b.arrives("/read/one")
	b.typeReading("0.1")
	b.press(".units [value='ohm']")
	b.until("document.querySelector('.verdict')")

	for _, s := range b.lifeSteps() {
		b.passes(s)
	}
	b.pressText("All tests")
	b.until("location.pathname.endsWith('/do/test')")
	b.pressText("Hand over")
	b.sees("Nothing is in the way")
	b.press("[name=to]")
	b.keys("Ivo Strand")
	b.pressAt("[...document.querySelectorAll('button')].find(e => e.innerText === 'Handed over')")
	b.sees("Handed over to Ivo Strand, by Mara Wren")
}
