package browser

import (
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// cardOf is the card of a model in the chooser of a field.
func cardOf(field, model string) string {
	return "document.querySelector('.card:has([name=\"" + field + "\"][value=\"" + model + "\"])')"
}

// pictureShown says that the picture of a card has something in it, wherever its lines are kept.
func pictureShown(card string) string {
	return "(() => { const b = " + card + ".querySelector('svg use').getBBox(); return b.width > 20 && b.height > 15; })()"
}

func TestDeviceIsChosenFromPictures(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			b := d.tab(t, open(t, brackwater()))
			b.goTo(staff + "/plan")
			b.pressAt("document.querySelector('.chooser summary')")
			card := cardOf("locks.1.model", "strike-12-safe")
			b.until(card + ".offsetHeight > 40")
			if !ask[bool](b, pictureShown(card)) {
				t.Error("there is no picture")
			}
			b.pressAt(card)
			b.until("document.querySelector('[data-chosen]').innerText === 'Strike, power to hold, 12 V'")
			b.pressText("Look what it does")
			b.sees("doors.staff.locks")
			if b.touch {
				b.width(narrow)
				if too := ask[[]string](b, wide); len(too) > 0 {
					t.Errorf("the look at the change scrolls sideways: %q", too)
				}
				b.width(390)
			}
			b.pressText("Keep it")
			b.until("document.querySelector('.chooser')")
			b.goTo(staff)
			b.sees("Strike, power to hold, 12 V")
		})
	}
}

func TestDeviceIsChosenByKeyboardAlone(t *testing.T) {
	b := open(t, brackwater()).tab(t)
	b.goTo(staff + "/plan")
	b.tabTo("e.matches('summary') && e.closest('.chooser').querySelector('legend').innerText === 'Lock'")
	b.keys("\r")
	b.tabTo("e.matches('[type=radio]')")
	// An arrow chooses the next model; the group is left by Tab.
	before := ask[string](b, "document.activeElement.value")
	b.keys(kb.ArrowDown)
	after := ask[string](b, "document.activeElement.value")
	if before != "strike-12-secure" || after == before {
		t.Fatalf("from %s the arrow leads to %s", before, after)
	}
	if !ask[bool](b, "document.activeElement.checked") {
		t.Errorf("%s is not chosen", after)
	}
	b.tabToText("Look what it does")
	b.keys("\r")
	b.sees("doors.staff.locks")
	b.tabToText("Keep it")
	b.keys("\r")
	b.until("document.querySelector('.chooser')")
	if now := ask[string](b, "document.querySelector('[name=\"locks.1.model\"]:checked').value"); now != after {
		t.Errorf("%s is fitted, %s was chosen", now, after)
	}
}
