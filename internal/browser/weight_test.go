package browser

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"doorwright/internal/site"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// weighed is a page and the most it may send to a browser that has nothing of ours yet, in bytes on the wire.
type weighed struct {
	title, at string
	most      float64
}

const kilobyte = 1000

func weighings() []weighed {
	return []weighed{
		{"register of 500 doors", "/j/SITE", 150 * kilobyte},
		{"all supplies of them", "/j/SITE/supplies", 150 * kilobyte},
		{"a supply with its drawing", "/j/SITE/supplies/PS1", 250 * kilobyte},
		{"overview of a door with its drawing", "/j/SITE/d/D250", 250 * kilobyte},
		{"plan of a door with pictures to choose devices from", "/j/SITE/d/D250/plan", 250 * kilobyte},
		{"try-out of a door", "/j/SITE/d/D250/try", 250 * kilobyte},
		{"cores to land at a door", "/j/SITE/d/D250/do/land", 250 * kilobyte},
	}
}

// painted is when the browser has painted the first of the content, in milliseconds after it was asked for the page.
const painted = `new Promise(done => new PerformanceObserver((list, self) => {
	for (const e of list.getEntriesByName("first-contentful-paint")) { self.disconnect(); done(e.startTime); }
}).observe({ type: "paint", buffered: true }))`

func TestPagesAreLight(t *testing.T) {
	p := open(t, map[string][]byte{"SITE": site.Generate(500)})
	b := p.tab(t)
	b.slow()
	_, least := b.weigh("/people")
	figures := figuresHead
	for _, w := range weighings() {
		b.goTo(w.at) // whatever is computed once is computed now
		got, after := b.weigh(w.at)
		t.Logf("%s: %.0f bytes; first contentful paint after %.0f ms, of the least page %.0f ms", w.title, got, after, least)
		if got < kilobyte || got > w.most {
			t.Errorf("%s: %.0f bytes, the most is %.0f", w.title, got, w.most)
		}
		if rows := ask[int](b, "document.querySelectorAll('tbody tr').length"); strings.Contains(w.title, "500") && rows != 500 {
			t.Errorf("%s: %d rows", w.title, rows)
		}
		figures += fmt.Sprintf("| %s | %.0f kB | %.0f kB | %.1f |\n", w.title, got/kilobyte, w.most/kilobyte, after/least)
	}
	if *update {
		keep(t, "pages.md", []byte(figures))
	}
}

// slow makes the browser that of a slow phone on a weak network: a fourth of this machine's speed, 1.6 Mbit/s, 150 ms to the
// first answer (common practice of those who measure pages, no source).
func (b *tab) slow() {
	b.t.Helper()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if _, err := cdp.Call(ctx, t, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4}); err != nil {
			return err
		}
		const perSecond = 1.6e6 / 8
		// The newer command is not known to every browser.
		return t.Call(ctx, "Network.emulateNetworkConditions", map[string]any{
			"offline": false, "latency": 150, "downloadThroughput": perSecond, "uploadThroughput": perSecond / 2,
		}, &struct{}{})
	}))
}

// weigh opens a page with an empty cache and gives the bytes that came, and when the first of its content was painted, in
// milliseconds.
func (b *tab) weigh(at string) (bytes, after float64) {
	b.t.Helper()
	b.do(chromedp.Navigate("about:blank"), chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, network.ClearBrowserCache, cdp.Empty{})
		return err
	}))
	b.mu.Lock()
	b.bytes = 0
	b.mu.Unlock()
	b.goTo(at)
	after = ask[float64](b, painted)
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.bytes, after
}

const figuresHead = `# How heavy the pages are

What a browser receives when it opens a page for the first time: the page, its style and its script, compressed, with the
heads of the answers. Measured by a browser on a made-up site of 500 doors; anew with

    go test ./internal/browser -run Light -update

The last column is when the first of the content is painted on a slow phone with a weak network (a fourth of the machine's
speed, 1.6 Mbit/s, 150 ms), against a page of next to nothing, that of the people who work here. The budget is
three times that.

| page | sent | the most that the tests allow | first painted after, least page 1 |
| --- | --- | --- | --- |
`

// keep writes a file of the documentation.
func keep(t *testing.T, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile("../../docs/"+name, data, 0o644); err != nil {
		t.Fatal(err)
	}
}
