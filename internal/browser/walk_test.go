package browser

import (
	"testing"

	"doorwright/demo"
)

const (
	staff   = "/j/BTO/d/staff"
	visitor = "/j/BTO/d/visitor"
)

// onCore finds a spot on a core of the drawing where nothing else lies over it.
const onCore = `(() => {
	for (const e of document.querySelectorAll(".drawing path[data-of='W9/1']")) {
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
	for _, w := range []struct {
		name string
		tab  func(*testing.T, *place) *tab
	}{
		{"at a desk", func(t *testing.T, p *place) *tab { return p.tab(t) }},
		{"on a phone", func(t *testing.T, p *place) *tab { return p.tab(t).phone() }},
	} {
		t.Run(w.name, func(t *testing.T) {
			b := w.tab(t, open(t, brackwater()))
			b.goTo(visitor)
			b.pressText("Try-out")
			b.sees("The door is held")
			ask[bool](b, `(document.querySelector(".drawing [data-of='W9/1']").scrollIntoView({ block: "center", inline: "center", behavior: "instant" }), true)`)
			spot := ask[[]float64](b, onCore)
			if len(spot) != 2 {
				t.Fatal("the core cannot be touched")
			}
			b.pressSpot(spot)
			b.sees("Cut this core")
			b.pressText("Cut this core")
			b.sees("The door is released")
		})
	}
}

func TestCoresOfADoorAreLanded(t *testing.T) {
	b := open(t, brackwater()).tab(t).phone()
	b.goTo(staff)
	b.pressText("At work")
	b.arrives("/do/land")
	box := "li:nth-last-of-type(1) > form .tickbox"
	b.press("section:nth-of-type(4) " + box)
	b.sees("1 of ")
}

func TestWrongReadingIsTypedOnTheNumberPad(t *testing.T) {
	b := open(t, brackwater()).tab(t).phone()
	b.goTo(staff + "/do/read")
	b.press("a.button[href*='of=volts']")
	b.arrives("/read/one")
	for _, k := range []string{"0", ".", "0", "2"} {
		b.press("[data-key='" + k + "']")
	}
	b.press(".units [value='V']")
	b.sees("20 mV is not as it should be")
	b.pressText("Find what is wrong")
	b.arrives("/find")
	b.sees("Suspects")
	b.sees("Mended: measure again")
}

func TestJobIsBroughtInAfterALook(t *testing.T) {
	b := open(t, nil).tab(t)
	b.goTo("/bring")
	b.press("textarea[name=text]")
	ask[bool](b, "(document.querySelector('textarea').value = "+quoted(string(demo.Brackwater))+", true)")
	b.pressText("Look at it")
	b.sees("a new job here")
	b.sees("Visitor entrance")
	b.pressText("Keep it")
	b.arrives("/j/BTO")
	b.sees("Visitor entrance")
}
