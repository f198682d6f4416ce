package browser

import (
	"strings"
	"testing"
)

// thumb is the least height of what is touched at work, in CSS pixels of 1/96 inch: 15 mm (common practice for gloved
// hands, no source).
const thumb = 15 / 25.4 * 96

// pressed lists the buttons and links in the content, but for the tabs that lead to other pages.
const pressed = `[...document.querySelectorAll("main :is(button:not([hidden]), a)")].filter(e => !e.closest(".tabs:not(.stages)"))
	.map(e => ({ Text: e.innerText.trim() || e.outerHTML, High: e.getBoundingClientRect().height}))`

type target struct {
	Text string
	High float64
}

// narrow is the width at which nothing may have to be scrolled sideways but tables and drawings in a frame of their own
// (WCAG 2.2, success criterion 1.4.10).
const narrow = 320

// wide lists what reaches beyond the right edge of the window outside of such frames.
const wide = `document.documentElement.scrollWidth <= innerWidth && visualViewport.scale === 1 && innerWidth === 320 ? [] :
	[innerWidth + " px", ...[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > 321 && !e.closest(".drawing, .wide-table"))
		.map(e => e.outerHTML.slice(0, 120))].slice(0, 5)`

// fits checks the page at the widths of phones, and gives how many targets of the work it has.
func (b *tab) fits(at string) int {
	b.t.Helper()
	b.width(narrow)
	if too := ask[[]string](b, wide); len(too) > 0 {
		b.t.Errorf("%s scrolls sideways: %s", at, strings.Join(too, "\n\t"))
	}
	if !strings.Contains(at, "/do/") && !strings.HasSuffix(at, "/find") {
		return 0
	}
	b.width(390)
	all := ask[[]target](b, pressed)
	for _, x := range all {
		if x.High < thumb-0.1 {
			b.t.Errorf("%s: %q is %.1f px high", at, x.Text, x.High)
		}
	}
	return len(all)
}

func TestWhatFitsNoPhoneIsFoundOut(t *testing.T) {
	b := open(t, nil).tab(t).phone()
	b.goTo("/")
	b.width(narrow)
	if too := ask[[]string](b, wide); len(too) > 0 {
		t.Errorf("as it is, it says %q", too)
	}
	ask[bool](b, `(document.getElementById("main").insertAdjacentHTML("beforeend", "<pre>"+"x".repeat(200)+"</pre><table><tr><td>"+"x".repeat(200)+"</table>"), true)`)
	if too := ask[[]string](b, wide); len(too) == 0 {
		t.Error("a page that is too wide is not found out")
	}
	ask[bool](b, `(document.getElementById("main").innerHTML = "<a href='/'>low</a>", true)`)
	if all := ask[[]target](b, pressed); len(all) != 1 || all[0].High >= thumb {
		t.Errorf("a low target is %v", all)
	}
}

// window is the height of a phone's window with the bars of its browser on it, in CSS pixels: 700 of the 844 of a usual one
// (common practice, no source).
const window = 700

// below lists what of a reading is not in the window at once: what is measured, what it should show, the figure, its keys and
// the units that send it.
const below = `[...document.querySelectorAll(".meter :is(.terminal, .expected, input, button), .meter > p:not(.why, :has(a)), .caution")]
	.filter(e => e.getBoundingClientRect().top < 0 || e.getBoundingClientRect().bottom > innerHeight).map(e => e.outerHTML.slice(0, 120))`

// A reading is taken without scrolling: nobody has a finger left for that.
func TestReadingFitsThePhone(t *testing.T) {
	b := open(t, brackwater()).tab(t).phone()
	b.high = window
	b.width(390)
	b.goTo(visitor + "/do/read")
	all := ask[[]string](b, "[...document.querySelectorAll('a[href*=\"/read/one\"]')].map(e => e.getAttribute('href'))")
	b.goTo(visitor + "/do/first")
	all = append(all, ask[[]string](b, "[...document.querySelectorAll('a[href*=\"/first/one\"]')].map(e => e.getAttribute('href'))")...)
	if len(all) < 20 {
		t.Fatalf("only %d readings", len(all))
	}
	for _, at := range all {
		b.goTo(at)
		if x := ask[[]string](b, "[innerHeight + ' px', ...("+below+")]"); len(x) > 1 || x[0] != "700 px" {
			t.Errorf("%s: not to be seen: %s", at, strings.Join(x, "\n\t"))
		}
	}
	b.goTo(all[0])
	if is := ask[string](b, "document.querySelector('[name=value]').inputMode"); is != "none" {
		t.Errorf("the keyboard of the phone comes too: %q", is)
	}
	b.high = 400
	b.width(390)
	if x := ask[[]string](b, below); len(x) == 0 {
		t.Error("what is below a low window is not found out")
	}
}
