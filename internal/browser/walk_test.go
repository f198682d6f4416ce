package browser

import (
	"math"
	"testing"

	"doorwright/demo"
)

const (
	staff   = "/j/BTO/d/staff"
	visitor = "/j/BTO/d/visitor"
)

// devices are what people have in hand.
func devices() []struct {
	name string
	tab  func(*testing.T, *place) *tab
} {
	return []struct {
		name string
		tab  func(*testing.T, *place) *tab
	}{
		{"at a desk", func(t *testing.T, p *place) *tab { return p.tab(t) }},
		{"on a phone", func(t *testing.T, p *place) *tab { return p.tab(t).phone() }},
	}
}

// onCore finds a spot on a core of the drawing where nothing else lies over it.
const onCore = `(() => {
	const paths = document.querySelectorAll(".drawing path[data-of='W9/1']");
	paths[0].scrollIntoView({ block: "center", inline: "center", behavior: "instant" });
	for (const e of paths) {
		const long = e.getTotalLength(), m = e.getScreenCTM();
		for (let i = 1; i < 40; i++) {
			const p = e.getPointAtLength(long * i / 40).matrixTransform(m);
			const top = document.elementFromPoint(p.x, p.y);
			if (top && top.closest("[data-of='W9/1']")) return [p.x, p.y];
		}
	}
	return [];
})()`

func TestDoorIsTriedOutAndACoreCut(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			b := d.tab(t, open(t, brackwater()))
			b.goTo(visitor)
			b.pressText("Try-out")
			b.sees("The door is held")
			spot := ask[[]float64](b, onCore)
			if len(spot) != 2 {
				t.Fatal("the core cannot be touched")
			}
			b.pressSpot(spot)
			b.sees("Cut this core")
			b.pressText("Cut this core")
			b.sees("The door is released")
			b.pressText("Put right")
			b.sees("The door is held")
			ask[bool](b, "(history.back(), true)")
			b.sees("The door is released")
		})
	}
}

// boxTop is where a box far down the page of landings stands in the window, and how far the page is scrolled.
const boxTop = "[document.querySelectorAll('.tickbox')[20].getBoundingClientRect().y, scrollY]"

// unfoldUnits opens every unit of the page of landings.
const unfoldUnits = "(document.querySelectorAll('.unit').forEach(d => d.open = true), true)"

func TestCoresAreLandedWithoutLosingThePlace(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			b := d.tab(t, open(t, brackwater()))
			b.goTo(staff)
			b.pressText("At work")
			b.arrives("/do/first")
			b.pressText("Land the cores")
			b.arrives("/do/land")
			ask[bool](b, unfoldUnits)
			ask[bool](b, "(document.querySelectorAll('.tickbox')[20].scrollIntoView({ block: 'center', behavior: 'instant' }), true)")
			before := ask[[]float64](b, boxTop)
			if before[1] == 0 {
				t.Fatal("the page is not scrolled, so it can lose no place")
			}
			for _, done := range []string{"1 of ", "0 of "} {
				b.pressAt("document.querySelectorAll('.tickbox')[20]")
				b.until("document.querySelector('.lead').innerText.startsWith(" + quoted(done) + ")")
				if after := ask[[]float64](b, boxTop); math.Abs(after[0]-before[0]) > 1 || math.Abs(after[1]-before[1]) > 1 {
					t.Errorf("after %q the box is at %g, it was at %g", done, after, before)
				}
			}
		})
	}
}

// A unit that is done is folded and stands last, and the head of the next one that is open is in sight.
func TestUnitThatIsDoneGivesWayToTheNext(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			b := d.tab(t, open(t, brackwater()))
			b.goTo(staff + "/do/land")
			const unit = "document.getElementById('d-staff.exit1')"
			b.pressAt(unit + ".querySelector('summary')")
			b.until(unit + ".open")
			for _, done := range []string{"1 of ", "2 of "} {
				b.pressAt(unit + ".querySelector('li:not(.ticked) .tickbox')")
				b.until("document.querySelector('.lead').innerText.startsWith(" + quoted(done) + ")")
			}
			b.until("!" + unit + ".open && !" + unit + ".nextElementSibling && " + unit + ".querySelectorAll('.ticked').length === 2")
			b.until("document.activeElement.matches('[id=\"d-staff.contact1\"] > summary')")
			b.until("(r => r.top >= 0 && r.bottom <= innerHeight)(document.activeElement.getBoundingClientRect())")
		})
	}
}

// typeReading types a figure on the pad of the page of a reading.
func (b *tab) typeReading(figure string) {
	b.t.Helper()
	for _, k := range figure {
		b.press("[data-key='" + string(k) + "']")
	}
}

func TestWrongReadingIsTypedOnTheNumberPad(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			b := d.tab(t, open(t, brackwater()))
			b.goTo(staff + "/do/read")
			b.press("a.button[href*='of=volts']")
			b.arrives("/read/one")
			b.typeReading("0.02")
			b.press(".units [value='V']")
			b.sees("20 mV is not as it should be")
			b.pressText("Find what is wrong")
			b.arrives("/find")
			b.sees("Mended: measure again")
		})
	}
}

func TestWhatAChangeDoesIsToldWhileItIsTyped(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			b := d.tab(t, open(t, brackwater()))
			b.goTo(visitor + "/plan")
			b.press("[name='cable-length']")
			ask[bool](b, "(document.activeElement.select(), true)")
			b.keys("250 m")
			b.sees("made worse, by what happens at this door")
			b.until("document.querySelectorAll('#looked .found').length > 0")
		})
	}
}

func TestJobIsBroughtInAfterALook(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			b := d.tab(t, open(t, nil))
			b.goTo("/bring")
			ask[bool](b, "(document.querySelector('textarea').value = "+quoted(string(demo.Brackwater))+", true)")
			b.pressText("Look at it")
			b.sees("a new job here")
			b.sees("Visitor entrance")
			b.pressText("Keep it")
			b.arrives("/j/BTO")
			b.sees("Visitor entrance")
		})
	}
}

func TestEverythingGoesByKeyboardAlone(t *testing.T) {
	b := open(t, nil).tab(t)
	b.goTo("/bring")
	b.tabToText("Look at the demo")
	b.keys("\r")
	b.sees("a new job here")
	b.tabToText("Keep it")
	b.keys("\r")
	b.arrives("/j/BTO")

	b.tabToText("Visitor entrance")
	b.keys("\r")
	b.arrives("/visitor")
	b.tabToText("Try-out")
	b.keys("\r")
	b.sees("The door is held")
	b.tabTo("e.matches('a') && e.innerText === 'Bridge' && e.closest('tr').innerText.startsWith('W9/1')")
	b.keys("\r")
	b.tabToText("Cut this core")
	b.keys("\r")
	b.sees("The door is released")

	b.tabToText("At work")
	b.keys("\r")
	b.arrives("/do/first")
	b.tabToText("Land the cores")
	b.keys("\r")
	b.arrives("/do/land")
	b.tabTo("e.matches('.tickbox')")
	b.keys("\r")
	b.sees("1 of ")
	b.until("document.activeElement.matches('.tickbox')")

	b.tabToText("Readings")
	b.keys("\r")
	b.arrives("/do/read")
	b.tabTo("e.matches('a[href*=\"of=volts\"]')")
	b.keys("\r")
	b.arrives("/read/one")
	b.until("document.activeElement.name === 'value'")
	b.keys("0.02")
	b.tabTo("e.matches('.units button') && e.value === 'V'")
	b.keys("\r")
	b.sees("is not as it should be")
	b.tabToText("Find what is wrong")
	b.keys("\r")
	b.arrives("/find")
	b.sees("Mended: measure again")
}
