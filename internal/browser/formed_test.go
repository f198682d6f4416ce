package browser

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// Pages that only a form leads to are judged as the others are.
func TestPagesBehindFormsAreAccessible(t *testing.T) {
	p := open(t, brackwater())
	checker := axe(t)
	b := p.tab(t)
	b.goTo("/workspace")
	pack, err := os.ReadFile(b.file("/workspace/pack", t.TempDir(), "pack.zip"))
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		name string
		way  func() *tab
	}{
		{"a change before it is kept", func() *tab {
			b.goTo(staff + "/plan")
			b.unfold()
			b.pressAt(cardOf("sounder.model", ""))
			b.pressText("Look what it does")
			b.sees("doors.staff.sounder")
			return b
		}},
		{"an entry that may be withdrawn", func() *tab {
			b.passes(b.lifeSteps()[0])
			b.goTo("/j/BTO/record")
			b.press("a[href*='/entry/']")
			b.sees("Withdraw it in my name")
			return b
		}},
		{"an entry that was withdrawn", func() *tab {
			b.press("[name=why]")
			b.keys("the next door")
			b.pressText("Withdraw it in my name")
			b.sees("withdrawn by Mara Wren")
			return b
		}},
		{"a door that may be handed over", func() *tab {
			for _, s := range b.lifeSteps() {
				b.passes(s)
			}
			b.goTo(store + "/do/hand")
			b.sees("Nothing is in the way")
			return b
		}},
		{"a job of which a door may be handed over", func() *tab {
			b.goTo("/j/BTO/handover")
			b.sees("Hand the ticked doors over")
			return b
		}},
		{"a pack before it is taken in", func() *tab {
			other := open(t, nil).tab(t)
			other.goTo("/workspace")
			other.gives("[name=pack]", "pack.zip", pack)
			other.pressText("Look at it")
			other.sees("a new job here")
			return other
		}},
	} {
		at := x.way()
		at.unfold()
		at.load(checker)
		for _, theme := range themes() {
			ask[bool](at, fmt.Sprintf(`(localStorage.setItem("doorwright-theme", %q), theme.show(), true)`, theme))
			for _, v := range ask[[]judged](at, judge) {
				t.Errorf("%s, %s: %s: %s\n\t%s", x.name, theme, v.ID, v.Help, strings.Join(v.Where, "\n\t"))
			}
		}
		at.width(narrow)
		if too := ask[[]string](at, wide); len(too) > 0 {
			t.Errorf("%s scrolls sideways: %q", x.name, too)
		}
		at.do(chromedp.EmulateViewport(1280, 900))
	}
}
