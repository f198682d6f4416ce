package browser

import (
	"context"
	"testing"

	"github.com/chromedp/chromedp"
)

// offline takes the network from the browser, or gives it back.
func (b *tab) offline(is bool) {
	b.t.Helper()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		// The newer command is not known to every browser.
		return t.Call(ctx, "Network.emulateNetworkConditions", map[string]any{
			"offline": is, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1,
		}, &struct{}{})
	}))
}

// In a cellar a tick may not get through: it is said that nothing was kept, where the thumb is, until it does.
func TestTickThatIsNotKeptSaysSo(t *testing.T) {
	b := open(t, brackwater()).tab(t).phone()
	b.goTo(staff + "/do/land")
	ask[bool](b, unfoldUnits)
	const tick = "document.querySelectorAll('.tickbox')[20]"
	b.offline(true)
	b.pressAt(tick)
	b.sees("There is no answer. Nothing was kept.")
	b.until("(r => r.top >= 0 && r.bottom <= innerHeight)(document.querySelector('.unanswered').getBoundingClientRect())")
	if ask[bool](b, "document.querySelectorAll('.ticked').length > 0") {
		t.Error("it is shown as ticked")
	}
	b.offline(false)
	b.forget()
	b.pressAt(tick)
	b.sees("1 of ")
	b.until("!document.querySelector('.unanswered')")
}
