package browser

import (
	"context"
	"testing"

	"github.com/chromedp/chromedp"
)

// folded counts the tables that are folded away, and those of them that are to be seen all the same.
const folded = `(all => [all.length, all.filter(e => e.checkVisibility({ contentVisibilityAuto: true }) && e.getBoundingClientRect().height > 0).length])
	([...document.querySelectorAll("details.group:not([open]) table")])`

// What is folded away on a phone opens by keyboard, and is on paper with the rest.
func TestFoldedGroupsOpenAndArePrinted(t *testing.T) {
	b := open(t, brackwater()).tab(t)
	b.goTo("/j/BTO/rules")
	n := ask[[]int](b, folded)
	if n[0] < 8 || n[1] != 0 {
		t.Fatalf("of %d tables that are folded away, %d are seen", n[0], n[1])
	}
	b.tabTo("e.matches('.group > summary')")
	b.keys("\r")
	b.until("document.querySelector('.group').open")
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		return t.Call(ctx, "Emulation.setEmulatedMedia", map[string]any{"media": "print"}, &struct{}{})
	}))
	b.until("(([all, seen]) => all > 0 && seen === all)(" + folded + ")")
}
