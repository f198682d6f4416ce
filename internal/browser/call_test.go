package browser

import "testing"

// choose opens the pictures of a field and takes a model.
func (b *tab) choose(field, model string) {
	b.t.Helper()
	b.pressAt("document.querySelector('.chooser:has([name=\"" + field + "\"]) summary')")
	b.until(cardOf(field, model) + ".offsetHeight > 40")
	b.pressAt(cardOf(field, model))
}

// reads takes a reading of the list by its address and keeps what the meter shows.
func (b *tab) reads(at, figure, unit string) {
	b.t.Helper()
	b.pressText("Readings")
	b.arrives("/do/read")
	b.press("a.button[href*='" + at + "'][href*='of=volts']")
	b.arrives("/read/one")
	b.typeReading(figure)
	b.press(".units [value='" + unit + "']")
	b.until("document.querySelector('.verdict')")
}

// A door that nobody planned here is described and searched. Planted is a contact of its manual release that stays open: the
// lock is dead, and the whole supply stands across that contact, while the other has nothing across it.
func TestDoorFoundOnACallIsDescribedAndItsFaultFound(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			b := d.tab(t, open(t, nil))
			b.goTo("/call")
			b.press("[name=title]")
			b.keys("Boat store")
			b.choose("lock", "magnet-12")
			b.choose("release", "release-2")
			b.pressText("Search this door")
			b.arrives("/find")
			b.sees("Boat store")
			b.pressText("the door does not lock")
			b.sees("lock holds: no (powered, nothing operated)")
			b.reads("at=door.lock1.coil.plus", "0.01", "V")
			b.reads("at=door.release1.pole1.a", "12.6", "V")
			b.reads("at=door.release1.pole2.a", "0.01", "V")
			b.pressText("Find a fault")
			b.arrives("/find")
			b.until("/release1/.test(document.querySelector('.suspects li').innerText)")
			b.sees("Mended: measure again")
		})
	}
}
