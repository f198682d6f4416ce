package browser

import (
	"context"
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"testing"

	"doorwright/serve"

	"github.com/chromedp/chromedp"
)

// seenFrom is the same machine as a device elsewhere on the network has it: over TLS, by what stands between the network and
// the pages.
func (p *place) seenFrom(t *testing.T, address string) *place {
	t.Helper()
	server := httptest.NewUnstartedServer(nil)
	name := server.Listener.Addr().String()
	gate := serve.Handler(p.options, []string{name})
	server.Config.Handler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		// The connection itself is one of this machine.
		r = r.WithContext(context.WithValue(r.Context(), http.LocalAddrContextKey, nil))
		r.RemoteAddr = address
		gate.ServeHTTP(w, r)
	})
	server.Config.ErrorLog = log.New(io.Discard, "", 0) // of connections that end at the warning
	server.StartTLS()
	t.Cleanup(server.Close)
	return &place{journal: p.journal, url: "https://" + name, options: p.options}
}

// trusts takes any certificate, as after the warning of the browser.
func (b *tab) trusts() {
	b.t.Helper()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		return t.Call(ctx, "Security.setIgnoreCertificateErrors", map[string]any{"ignore": true}, &struct{}{})
	}))
}

// A phone joins with a code that the machine shows, works in the name it joined with, and is taken out again.
func TestPhoneJoins(t *testing.T) {
	machine := open(t, brackwater())
	desk := machine.tab(t)
	desk.goTo("/people")
	desk.pressText("Devices that have joined")
	desk.arrives("/devices")
	desk.press("[name=who]")
	desk.keys("zz")
	desk.pressText("Make a code")
	desk.sees("nobody has the initials")
	desk.forget() // the answer has a status of 422
	desk.goTo("/devices?who=kf")
	desk.pressText("Make a code")
	desk.sees("Good once")
	code := ask[string](desk, "document.querySelector('[role=status]').innerText")

	phone := machine.seenFrom(t, "192.168.1.77:50000").tab(t).phone()
	phone.trusts()
	phone.goTo(staff + "/do/snags")
	phone.arrives("/join")
	phone.press("[name=code]")
	phone.keys("00000000")
	phone.press("[name=device]")
	phone.keys("Kari's phone")
	phone.pressText("Join")
	phone.sees("the code does not fit")
	phone.forget() // the answer has a status of 403
	phone.press("[name=code]")
	phone.keys(code[:4] + code[5:])
	phone.press("[name=device]")
	phone.keys("Kari's phone")
	phone.pressText("Join")
	phone.sees("This device has joined.")
	phone.pressText("To the doors")
	phone.sees("Brackwater Tidal Observatory")
	phone.goTo(staff + "/do/snags")
	phone.press("[name=what]")
	phone.keys("closer leaks")
	phone.pressText("Write it down")
	phone.sees("closer leaks")
	snags := machine.journal.State().Job("BTO").History
	if last := snags[len(snags)-1]; last.Who != "kf" {
		t.Errorf("it is written by %q", last.Who)
	}
	phone.goTo("/devices")
	phone.until("!document.body.innerText.includes('Make a code')")
	phone.forget() // there is no such page for it

	desk.goTo("/devices")
	desk.sees("Kari's phone, for kf")
	desk.pressText("Take it out")
	desk.until("!document.getElementById('main').innerText.includes('phone')")
	phone.goTo("/j/BTO")
	phone.arrives("/join")
}
