package browser

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// axeVersion is the release of axe-core, the checker that judges the pages by the Web Content Accessibility Guidelines.
const axeVersion = "4.14.1"

// axe gives the script of axe-core. It comes from npm each time and is no part of this repository.
func axe(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	pack := exec.Command("npm", "pack", "--silent", "axe-core@"+axeVersion)
	pack.Dir = folder
	if said, err := pack.CombinedOutput(); err != nil {
		t.Fatalf("npm gives no axe-core; these tests need npm (apt-get install npm): %v\n%s", err, said)
	}
	data, err := os.ReadFile(filepath.Join(folder, "axe-core-"+axeVersion+".tgz"))
	if err != nil {
		t.Fatal(err)
	}
	return member(t, data, "package/axe.min.js")
}

// member reads one file of a packed folder.
func member(t *testing.T, data []byte, name string) string {
	t.Helper()
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	for r := tar.NewReader(z); ; {
		head, err := r.Next()
		if errors.Is(err, io.EOF) {
			t.Fatalf("there is no %s in it", name)
		}
		if err != nil {
			t.Fatal(err)
		}
		if head.Name == name {
			text, err := io.ReadAll(r)
			if err != nil {
				t.Fatal(err)
			}
			return string(text)
		}
	}
}

// judged is one thing that axe-core finds: the rule, what it asks for, and where on the page.
type judged struct {
	ID, Help string
	Where    []string
}

// judge runs every rule of WCAG 2.2 at levels A and AA. The size of targets is off in axe-core unless it is asked for.
const judge = `axe.run({
	runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
	rules: { "target-size": { enabled: true } },` + judgedAs

// judgeColours runs those of them that a theme can change: themes alter inks and nothing else.
const judgeColours = `axe.run({
	runOnly: { type: "rule", values: ["color-contrast", "link-in-text-block"] },` + judgedAs

const judgedAs = `
	resultTypes: ["violations"],
}).then(r => r.violations.map(v => ({ ID: v.id, Help: v.help, Where: v.nodes.slice(0, 4).map(n => n.html.slice(0, 200) + " " + n.failureSummary) })))`

// walked says that the pages of a path are looked at: of the doors, two that have everything between them.
func walked(path string) bool {
	_, door, ok := strings.Cut(path, "/d/")
	door, _, _ = strings.Cut(door, "/")
	return !ok || door == "visitor" || door == "records"
}

// pages are the paths of all pages that can be reached from the first, each kind of query once, and every reading of
// which only the first.
func (b *tab) pages() []string {
	b.t.Helper()
	seen := map[string]bool{}
	var all []string
	for queue := []string{"/"}; len(queue) > 0; queue = queue[1:] {
		path, _, query := strings.Cut(queue[0], "?")
		if seen[path] || query && strings.HasSuffix(path, "/try") || !walked(path) {
			continue
		}
		seen[path] = true
		b.goTo(queue[0])
		at := ask[string](b, "location.pathname + location.search")
		if slices.Contains(all, at) {
			continue
		}
		all = append(all, at)
		queue = append(queue, ask[[]string](b, `[...document.querySelectorAll("a[href]")].filter(a => a.origin === location.origin && !a.hasAttribute("download"))
			.map(a => a.pathname + a.search).filter(p => !/\.(csv|xlsx)$|\/pack$|\/paper\?/.test(p))`)...)
	}
	return all
}

// themes are the values that the pages keep under "doorwright-theme".
func themes() []string { return []string{"light", "dark", "contrast"} }

func TestEveryPageIsAccessibleInEveryThemeAndFitsAPhone(t *testing.T) {
	p := open(t, brackwater())
	checker := axe(t)
	b := p.tab(t)
	pages := b.pages()
	if len(pages) < 30 {
		t.Errorf("only %d pages", len(pages))
	}
	targets := 0
	for _, at := range pages {
		b.do(chromedp.EmulateViewport(1280, 900))
		b.goTo(at)
		b.unfold()
		b.load(checker)
		for _, theme := range themes() {
			ask[bool](b, fmt.Sprintf(`(localStorage.setItem("doorwright-theme", %q), theme.show(), document.documentElement.dataset.theme === %[1]q)`, theme))
			rules := judge
			if theme != themes()[0] {
				rules = judgeColours
			}
			for _, v := range ask[[]judged](b, rules) {
				t.Errorf("%s, %s: %s: %s\n\t%s", at, theme, v.ID, v.Help, strings.Join(v.Where, "\n\t"))
			}
		}
		targets += b.fits(at)
	}
	t.Logf("%d pages, %d targets at work", len(pages), targets)
	if targets < 200 {
		t.Errorf("only %d targets at work", targets)
	}
}

// unfold opens everything that is folded, so that it is judged too.
func (b *tab) unfold() {
	b.t.Helper()
	ask[bool](b, "(document.querySelectorAll('details').forEach(d => d.open = true), true)")
}

// load puts a script into the page from outside of it, where its content security policy does not reach.
func (b *tab) load(script string) {
	b.t.Helper()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := chromedp.Evaluate[any](script+"; null")(ctx, t)
		return err
	}))
}

func TestWhatIsNotAccessibleIsFoundOut(t *testing.T) {
	b := open(t, nil).tab(t)
	b.goTo("/")
	ask[bool](b, `(document.getElementById("main").insertAdjacentHTML("beforeend",
		"<input><button></button><a href='/a'>a</a><a href='/b'>b</a>"), document.documentElement.removeAttribute("lang"), true)`)
	b.load(axe(t))
	var found []string
	for _, v := range ask[[]judged](b, judge) {
		found = append(found, v.ID)
	}
	for _, rule := range []string{"label", "button-name", "html-has-lang"} {
		if !slices.Contains(found, rule) {
			t.Errorf("%s is not among %q", rule, found)
		}
	}
}
