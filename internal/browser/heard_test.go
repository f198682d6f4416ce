package browser

import (
	"strings"
	"testing"
)

func TestWhatGoesWrongInAPageIsHeard(t *testing.T) {
	for _, x := range []struct{ name, act, says string }{
		{"an error in a script", "setTimeout(() => { throw new Error('lost') })", "lost"},
		{"an error in the console", "console.error('odd')", "console: "},
		{"a picture from elsewhere", "document.body.append(Object.assign(new Image(), { src: 'http://127.0.0.1:9/a.png' }))", "Content Security Policy"},
		{"a style in the page", "document.body.setAttribute('style', 'color: red')", "Content Security Policy"},
		{"a page that is not there", "fetch('/nowhere')", "404"},
	} {
		t.Run(x.name, func(t *testing.T) {
			b := open(t, nil).tab(t)
			b.goTo("/")
			ask[bool](b, "("+x.act+", true)")
			for range 500 {
				ask[bool](b, "new Promise(done => setTimeout(() => done(true), 10))")
				if len(b.heard()) > 0 {
					break
				}
			}
			if said := strings.Join(b.heard(), "; "); !strings.Contains(said, x.says) {
				t.Errorf("heard %q", said)
			}
			b.forget()
		})
	}
}

func (b *tab) heard() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return append([]string(nil), b.wrong...)
}

func (b *tab) forget() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.wrong = nil
}
