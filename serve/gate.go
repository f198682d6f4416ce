package serve

import (
	"context"
	"fmt"
	"html"
	"net"
	"net/http"
	"strings"
)

// cookieName is that of the secret of a device. Its prefix makes browsers take it over TLS only, for this host only.
const cookieName = "__Host-doorwright"

type whoKey struct{}

// Who is the person of a request that came through the gate from another device; empty for one from this machine.
func Who(r *http.Request) string {
	who, _ := r.Context().Value(whoKey{}).(string)
	return who
}

// gate lets requests of this machine through, and those of devices that have joined; all others may only join.
func gate(m *Members, authority []byte, known func(who string) bool, next http.Handler) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /join", func(w http.ResponseWriter, _ *http.Request) { joinPage(w, http.StatusOK, "") })
	mux.HandleFunc("POST /join", func(w http.ResponseWriter, r *http.Request) { join(w, r, m) })
	mux.HandleFunc("GET /trust/authority.crt", func(w http.ResponseWriter, r *http.Request) {
		if authority == nil {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", "application/x-x509-ca-cert")
		w.Header().Set("Content-Disposition", `attachment; filename="doorwright.crt"`)
		w.Write(authority) //nolint:errcheck // whoever asked is gone
	})
	mux.HandleFunc("GET /trust", trustPage)
	mux.HandleFunc("GET /devices", func(w http.ResponseWriter, r *http.Request) { devices(w, r, m, "") })
	mux.HandleFunc("POST /devices", func(w http.ResponseWriter, r *http.Request) { change(w, r, m, known) })
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		here := isHere(r)
		open := r.URL.Path == "/join" || strings.HasPrefix(r.URL.Path, "/trust")
		switch {
		case open || r.URL.Path == "/devices" && here:
			safe(w)
			mux.ServeHTTP(w, r)
		case here || strings.HasPrefix(r.URL.Path, "/static/"):
			next.ServeHTTP(w, r)
		default:
			who := ""
			if c, err := r.Cookie(cookieName); err == nil {
				who = m.Of(c.Value)
			}
			if who == "" {
				http.Redirect(w, r, "/join", http.StatusSeeOther)
				return
			}
			next.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), whoKey{}, who)))
		}
	})
}

// isHere says that a request comes from this machine: from a loopback address, or from the very address it came to. From
// elsewhere nobody has a connection with the latter, since the answers would never leave this machine.
func isHere(r *http.Request) bool {
	from := addressOf(r.RemoteAddr)
	if to, ok := r.Context().Value(http.LocalAddrContextKey).(net.Addr); ok && from != nil && from.Equal(addressOf(to.String())) {
		return true
	}
	return from.IsLoopback()
}

// addressOf is the address of a host and port; nil when there is none.
func addressOf(text string) net.IP {
	host, _, err := net.SplitHostPort(text)
	if err != nil {
		return nil
	}
	return net.ParseIP(host)
}

// safe sets what every page of the gate has.
func safe(w http.ResponseWriter) {
	head := w.Header()
	head.Set("Content-Security-Policy", "default-src 'none'; style-src 'self'; script-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'")
	head.Set("X-Content-Type-Options", "nosniff")
	head.Set("Cache-Control", "no-store")
}

func pageOf(w http.ResponseWriter, code int, title, body string) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(code)
	fmt.Fprintf(w, `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">`+
		`<title>%[1]s – Doorwright</title><link rel="stylesheet" href="/static/app.css"><script src="/static/app.js" defer></script></head><body><header class="head"><a class="mark" href="/">Doorwright</a></header>`+
		`<main id="main"><h1>%[1]s</h1>%[2]s</main></body></html>`, html.EscapeString(title), body)
}

func joinPage(w http.ResponseWriter, status int, wrong string) {
	body := ""
	if wrong != "" {
		body = `<p class="mistake" role="alert">` + html.EscapeString(wrong) + `</p>`
	}
	body += `<p>On the machine that keeps the record, open People, then Devices, and ask for a code. It is good once, for ten minutes.</p>` +
		`<form method="post" action="/join"><p><label>Code <input name="code" inputmode="numeric" autocomplete="one-time-code" required maxlength="8" size="9"></label></p>` +
		`<p><label>What this device is called <input name="device" maxlength="40" required placeholder="Mara's phone"></label></p>` +
		`<p><button class="main big">Join</button></p></form><p><a href="/trust">Does the browser warn you? How to trust this machine</a></p>`
	pageOf(w, status, "Join", body)
}

// mostForm bounds the forms of the gate.
const mostForm = 4 << 10

func join(w http.ResponseWriter, r *http.Request, m *Members) {
	r.Body = http.MaxBytesReader(w, r.Body, mostForm)
	if r.TLS == nil {
		joinPage(w, http.StatusUpgradeRequired, "Devices join over TLS only.")
		return
	}
	secret, err := m.Join(strings.TrimSpace(r.PostFormValue("code")), cut(r.PostFormValue("device"), 40))
	if err != nil {
		joinPage(w, http.StatusForbidden, err.Error())
		return
	}
	http.SetCookie(w, &http.Cookie{Name: cookieName, Value: secret, Path: "/", Secure: true, HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: int(memberLife.Seconds())})
	// A strict cookie is not sent along a redirect that began elsewhere: the way on is a link.
	pageOf(w, http.StatusOK, "Joined", `<p class="lead">This device has joined.</p><p><a class="button main" href="/">To the doors</a></p>`)
}

func cut(text string, most int) string {
	letters := []rune(strings.TrimSpace(text))
	return string(letters[:min(len(letters), most)])
}

func trustPage(w http.ResponseWriter, _ *http.Request) {
	pageOf(w, http.StatusOK, "Trust this machine", `<p>This machine has an authority of its own. It can speak only for addresses of private networks and for names that end in .local or .home.arpa, nothing on the internet.</p>`+
		`<ol><li><a href="/trust/authority.crt">Take its certificate</a>.</li>`+
		`<li>Open it with the settings of the phone: under security, certificates, choose to install an authority; some phones ask a second time, under trust settings, to switch it on.</li>`+
		`<li>Compare its fingerprint with the one that the machine printed when it started. If they differ, stop: somebody stands between.</li></ol>`+
		`<p>Without it the pages work after the browser's warning, but not offline and without the camera.</p>`)
}

// devices lists the devices that have joined; only this machine sees it.
func devices(w http.ResponseWriter, r *http.Request, m *Members, made string) {
	body := `<p class="lead">Devices that have joined, each for one person.</p>`
	if made != "" {
		body += `<p class="state" role="status">` + html.EscapeString(made[:4]+" "+made[4:]) + `</p><p>Good once, for ten minutes. Type it at /join on the other device.</p>`
	}
	body += `<ul class="acts">`
	for _, x := range m.All() {
		body += fmt.Sprintf(`<li><form method="post" action="/devices"><input type="hidden" name="out" value="%s">%s, for %s, since %s <button>Take it out</button></form></li>`,
			html.EscapeString(x.Hash), html.EscapeString(x.Device), html.EscapeString(x.Who), x.Since.Format("2006-01-02"))
	}
	body += fmt.Sprintf(`</ul><form method="post" action="/devices"><label>A code for the initials <input name="who" required maxlength="8" size="6" value="%s"></label> <button class="main">Make a code</button></form>`+
		`<p><a href="/people">Back to people</a></p>`, html.EscapeString(cut(r.URL.Query().Get("who"), 8)))
	pageOf(w, http.StatusOK, "Devices", body)
}

func change(w http.ResponseWriter, r *http.Request, m *Members, known func(who string) bool) {
	r.Body = http.MaxBytesReader(w, r.Body, mostForm)
	if hash := r.PostFormValue("out"); hash != "" {
		if err := m.Remove(hash); err != nil {
			pageOf(w, http.StatusInternalServerError, "Nothing was changed", html.EscapeString(err.Error()))
			return
		}
		http.Redirect(w, r, "/devices", http.StatusSeeOther)
		return
	}
	who := strings.TrimSpace(r.PostFormValue("who"))
	made, err := "", fmt.Errorf("nobody has the initials %q: enter the person on the page People first", who)
	if known(who) {
		made, err = m.NewCode(who)
	}
	if err != nil {
		pageOf(w, http.StatusUnprocessableEntity, "No code was made", "<p>"+html.EscapeString(err.Error())+`</p><p><a href="/people">People</a> <a href="/devices">Devices</a></p>`)
		return
	}
	devices(w, r, m, made)
}
