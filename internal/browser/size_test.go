package browser

import (
	"strings"
	"testing"
)

// thumb is the least height of what is touched at work, in CSS pixels of 1/96 inch: 15 mm (common practice for gloved
// hands, no source).
const thumb = 15 / 25.4 * 96

// small lists the buttons and links in the content that are lower than a thumb, but for the tabs that lead to other pages.
const small = `[...document.querySelectorAll("main :is(button, a, summary.act)")].filter(e => !e.closest(".tabs:not(.stages)"))
	.map(e => ({ Text: e.innerText.trim() || e.outerHTML, High: e.getBoundingClientRect().height, Wide: e.getBoundingClientRect().width }))`

type target struct {
	Text       string
	High, Wide float64
}

func TestWhatIsPressedAtWorkIsAThumbHigh(t *testing.T) {
	b := open(t, brackwater()).tab(t).phone()
	n := 0
	for _, at := range b.pages() {
		if !strings.Contains(at, "/do/") && !strings.HasSuffix(at, "/find") {
			continue
		}
		b.goTo(at)
		for _, x := range ask[[]target](b, small) {
			n++
			if x.High < thumb-0.1 {
				t.Errorf("%s: %q is %.1f px high", at, x.Text, x.High)
			}
		}
	}
	if n < 200 {
		t.Errorf("only %d targets", n)
	}
}

// narrow is the width at which nothing may have to be scrolled sideways but tables and drawings in a frame of their own
// (WCAG 2.2, success criterion 1.4.10).
const narrow = 320

// wide lists what reaches beyond the right edge of the window outside of such frames.
const wide = `document.documentElement.scrollWidth <= innerWidth && visualViewport.scale === 1 && innerWidth === 320 ? [] :
	[innerWidth + " px", ...[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > 321 && !e.closest(".drawing, .wide-table"))
		.map(e => e.outerHTML.slice(0, 120))].slice(0, 5)`

func TestNoPageScrollsSideways(t *testing.T) {
	b := open(t, brackwater()).tab(t).phone()
	b.width(narrow)
	pages := b.pages()
	if len(pages) < 40 {
		t.Errorf("only %d pages", len(pages))
	}
	for _, at := range pages {
		b.goTo(at)
		if too := ask[[]string](b, wide); len(too) > 0 {
			t.Errorf("%s: %s", at, strings.Join(too, "\n\t"))
		}
	}
}
