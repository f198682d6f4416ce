// Package browser puts the pages before a browser: it walks through them as a person does, has their accessibility
// judged, weighs what they send, and takes the pictures of the documentation.
package browser

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

var update = flag.Bool("update", false, "write the figures and pictures of the documentation anew")

// tabs is where tabs are opened: one browser for all tests.
var tabs context.Context

func TestMain(m *testing.M) { os.Exit(withBrowser(m)) }

func withBrowser(m *testing.M) int {
	flag.Parse()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true), chromedp.WSURLReadTimeout(patience))
	machine, end := chromedp.NewExecAllocator(context.Background(), options...)
	defer end()
	ctx, closed := chromedp.NewContext(machine)
	defer closed()
	if err := chromedp.Do(ctx); err != nil {
		fmt.Fprintln(os.Stderr, "no browser can be started; these tests need chromium (apt-get install chromium):", err)
		return 1
	}
	tabs = ctx
	return m.Run()
}

// patience ends a wait for what never comes. It is no measure of anything.
const patience = time.Minute

// tab is one tab of the browser, with storage of its own.
type tab struct {
	t     *testing.T
	ctx   context.Context
	at    string // of the pages
	touch bool
	high  int64 // of the window of a phone

	mu    sync.Mutex
	wrong []string // errors in the console, and what the content security policy has stopped
	bytes float64  // received on the wire, heads of answers included
}

func (p *place) tab(t *testing.T) *tab {
	t.Helper()
	b := &tab{t: t, at: p.url, high: 844}
	ctx, closed := chromedp.NewContext(tabs, chromedp.WithNewBrowserContext(), chromedp.WithListener(b.hear))
	t.Cleanup(func() {
		closed()
		for _, w := range b.heard() {
			t.Error(w)
		}
	})
	b.ctx = ctx
	b.do(chromedp.EmulateViewport(1280, 900))
	return b
}

// phone makes the tab one of a small device that is touched.
func (b *tab) phone() *tab {
	b.t.Helper()
	b.touch = true
	b.width(390)
	return b
}

// width makes the window of a phone as wide as said, in CSS pixels.
func (b *tab) width(wide int64) {
	b.t.Helper()
	b.do(chromedp.EmulateViewport(wide, b.high, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait))
}

// hear takes down what goes wrong in the page, and what is received.
func (b *tab) hear(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError || e.Entry.Source == log.EntrySourceSecurity {
			b.wrong = append(b.wrong, fmt.Sprintf("%s: %s %s", e.Entry.URL, e.Entry.Source, e.Entry.Text))
		}
	case *runtime.EventExceptionThrown:
		b.wrong = append(b.wrong, fmt.Sprintf("%s: %s %s", e.ExceptionDetails.URL, e.ExceptionDetails.Text, described(e.ExceptionDetails.Exception)))
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeAssert {
			b.wrong = append(b.wrong, fmt.Sprintf("console: %v", e.Args))
		}
	case *network.EventLoadingFinished:
		b.bytes += e.EncodedDataLength
	}
}

func described(o *runtime.RemoteObject) string {
	if o == nil {
		return ""
	}
	return o.Description
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// goTo opens a page by its path.
func (b *tab) goTo(path string) {
	b.t.Helper()
	b.do(chromedp.Navigate(b.at + path))
}

// ask evaluates an expression in the page.
func ask[T any](b *tab, expression string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// until waits for an expression to be true. A page that goes away meanwhile is asked again when the next one is there.
func (b *tab) until(expression string) {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, patience)
	defer stop()
	for {
		if ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("document.readyState === 'complete' && Boolean("+expression+")")); err == nil && ok {
			return
		}
		select {
		case <-ctx.Done():
			b.t.Fatalf("it never came to pass that %s", expression)
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// sees waits for a text in the content of the page.
func (b *tab) sees(text string) {
	b.t.Helper()
	b.until("document.getElementById('main').innerText.includes(" + quoted(text) + ")")
}

// arrives waits for a page whose path ends so.
func (b *tab) arrives(path string) {
	b.t.Helper()
	b.until("location.pathname.endsWith(" + quoted(path) + ")")
}

// press clicks or taps the middle of what a selector finds, and fails when something else lies over it.
func (b *tab) press(selector string) {
	b.t.Helper()
	b.pressAt("document.querySelector(" + quoted(selector) + ")")
}

// pressText presses the first link or button whose words begin so.
func (b *tab) pressText(text string) {
	b.t.Helper()
	b.pressAt(worded(text))
}

func worded(text string) string {
	return "[...document.querySelectorAll('a, button')].find(e => e.innerText.trim().startsWith(" + quoted(text) + "))"
}

func (b *tab) pressAt(element string) {
	b.t.Helper()
	spot := ask[[]float64](b, `(async () => {
		const e = `+element+`;
		if (!e) return [];
		// A browser drops what is pressed before a page is painted.
		await new Promise(painted => requestAnimationFrame(() => requestAnimationFrame(painted)));
		e.scrollIntoView({ block: "center", behavior: "instant" });
		const r = e.getBoundingClientRect(), x = r.x + r.width / 2, y = r.y + r.height / 2;
		const top = document.elementFromPoint(x, y);
		return top && (e.contains(top) || top.contains(e)) ? [x, y] : [];
	})()`)
	if len(spot) != 2 {
		b.t.Fatalf("%s is not there to be pressed", element)
	}
	b.pressSpot(spot)
}

func (b *tab) pressSpot(spot []float64) {
	b.t.Helper()
	if b.touch {
		b.do(chromedp.TapXY(spot[0], spot[1]))
		return
	}
	b.do(chromedp.MouseClickXY(spot[0], spot[1]))
}

// keys types.
func (b *tab) keys(text string) {
	b.t.Helper()
	b.do(chromedp.KeyEvent(text))
}

// mostTabs is how often Tab may be struck to get somewhere: more than any page has places to stop at.
const mostTabs = 600

// uncovered says that what holds the focus is in the window with nothing over its middle (WCAG 2.2, success criterion
// 2.4.11, asks for less: that some of it is seen).
const uncovered = `(e => {
	const r = e.getBoundingClientRect(), top = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2);
	return top && (e.contains(top) || top.contains(e));
})(document.activeElement)`

// tabTo strikes Tab until what holds the focus is as said. The focus must be seen.
func (b *tab) tabTo(says string) {
	b.t.Helper()
	for range mostTabs {
		b.keys("\t")
		if ask[bool](b, "(e => "+says+")(document.activeElement)") {
			if !ask[bool](b, "(e => getComputedStyle(e).outlineStyle !== 'none' && parseFloat(getComputedStyle(e).outlineWidth) >= 2)(document.activeElement)") {
				b.t.Errorf("where %s, the focus is not seen", says)
			}
			b.until(uncovered)
			return
		}
	}
	b.t.Fatalf("no Tab comes to where %s", says)
}

// tabToText strikes Tab until a link or button whose words begin so has the focus.
func (b *tab) tabToText(text string) {
	b.t.Helper()
	b.tabTo("e.matches('a, button') && e.innerText.trim().startsWith(" + quoted(text) + ")")
}

// quoted writes a text as a literal of the page's script.
func quoted(text string) string {
	b, err := json.Marshal(text)
	if err != nil {
		panic(err) // a string can always be written
	}
	return strings.ReplaceAll(string(b), "</", `<\/`)
}
