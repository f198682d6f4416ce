package serve

import (
	"compress/gzip"
	"context"
	"crypto/tls"
	"crypto/x509"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

// world is the gate with pages behind it that say who asks.
type world struct {
	t       *testing.T
	now     time.Time
	members *Members
	handler http.Handler
}

func newWorld(t *testing.T) *world {
	t.Helper()
	w := &world{t: t, now: time.Date(2026, 10, 12, 8, 0, 0, 0, time.UTC)}
	m, err := OpenMembers("", func() time.Time { return w.now })
	if err != nil {
		t.Fatal(err)
	}
	w.members = m
	pages := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		io.WriteString(w, r.Method+" by "+Who(r)) //nolint:errcheck // into memory
	})
	w.handler = Handler(Options{Pages: pages, Members: m, Known: func(who string) bool { return who == "mw" }}, []string{"192.168.1.5:8023"})
	return w
}

// request is one from a device elsewhere over TLS, unless it is changed.
func (w *world) request(method, path, form string) *http.Request {
	r := httptest.NewRequest(method, "https://192.168.1.5:8023"+path, strings.NewReader(form))
	r.RemoteAddr = "192.168.1.77:50000"
	r.TLS = &tls.ConnectionState{}
	if form != "" {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	return r
}

func (w *world) do(r *http.Request) *httptest.ResponseRecorder {
	out := httptest.NewRecorder()
	w.handler.ServeHTTP(out, r)
	return out
}

func (w *world) code(who string) string {
	w.t.Helper()
	c, err := w.members.NewCode(who)
	if err != nil {
		w.t.Fatal(err)
	}
	return c
}

// The attacks that were thought of, after the chapters of OWASP ASVS 5.0 (their numbers from memory), each with what must
// come of it.
func TestAttacks(t *testing.T) {
	joined := func(w *world) *http.Cookie {
		out := w.do(w.request("POST", "/join", url.Values{"code": {w.code("mw")}, "device": {"phone"}}.Encode()))
		return out.Result().Cookies()[0]
	}
	for _, a := range []struct {
		name string
		try  func(*world) int // the status that comes of it
		want int
	}{
		{"V4 a page under another name that leads to this machine (DNS rebinding)", func(w *world) int {
			r := w.request("GET", "/", "")
			r.Host = "evil.example:8023"
			return w.do(r).Code
		}, http.StatusMisdirectedRequest},
		{"V3 a form sent from another site (cross-site request)", func(w *world) int {
			r := w.request("POST", "/j/BTO/undo", "x=1")
			r.AddCookie(joined(w))
			r.Header.Set("Sec-Fetch-Site", "cross-site")
			return w.do(r).Code
		}, http.StatusForbidden},
		{"V3 the same from an old browser that tells only the origin", func(w *world) int {
			r := w.request("POST", "/j/BTO/undo", "x=1")
			r.AddCookie(joined(w))
			r.Header.Set("Origin", "https://evil.example")
			return w.do(r).Code
		}, http.StatusForbidden},
		{"V7 a device that has not joined", func(w *world) int { return w.do(w.request("GET", "/j/BTO", "")).Code }, http.StatusSeeOther},
		{"V7 a secret that is made up", func(w *world) int {
			r := w.request("GET", "/j/BTO", "")
			r.AddCookie(&http.Cookie{Name: cookieName, Value: strings.Repeat("0", 64)})
			return w.do(r).Code
		}, http.StatusSeeOther},
		{"V7 a code used twice", func(w *world) int {
			c := url.Values{"code": {w.code("mw")}, "device": {"a"}}.Encode()
			w.do(w.request("POST", "/join", c))
			return w.do(w.request("POST", "/join", c)).Code
		}, http.StatusForbidden},
		{"V6 a code guessed: after five mistakes even the right one is void", func(w *world) int {
			right := w.code("mw")
			for range codeTries {
				w.do(w.request("POST", "/join", "code=1&device=a"))
			}
			return w.do(w.request("POST", "/join", url.Values{"code": {right}, "device": {"a"}}.Encode())).Code
		}, http.StatusForbidden},
		{"V6 a code found on a note the next day", func(w *world) int {
			c := w.code("mw")
			w.now = w.now.Add(codeLife + time.Second)
			return w.do(w.request("POST", "/join", url.Values{"code": {c}, "device": {"a"}}.Encode())).Code
		}, http.StatusForbidden},
		{"V12 a code sent without TLS", func(w *world) int {
			r := w.request("POST", "/join", url.Values{"code": {w.code("mw")}, "device": {"a"}}.Encode())
			r.TLS = nil
			return w.do(r).Code
		}, http.StatusUpgradeRequired},
		{"V8 codes made from another device, joined or not", func(w *world) int {
			r := w.request("POST", "/devices", "who=evil")
			r.AddCookie(joined(w))
			out := w.do(r)
			if strings.Contains(out.Body.String(), "Good once") {
				return http.StatusTeapot
			}
			return out.Code
		}, http.StatusOK}, // it reaches the pages, which have no such page
		{"V7 a device that was taken out", func(w *world) int {
			c := joined(w)
			if err := w.members.Remove(w.members.All()[0].Hash); err != nil {
				return 0
			}
			r := w.request("GET", "/", "")
			r.AddCookie(c)
			return w.do(r).Code
		}, http.StatusSeeOther},
		{"V7 a phone lost three months ago", func(w *world) int {
			c := joined(w)
			w.now = w.now.Add(memberLife + time.Hour)
			r := w.request("GET", "/", "")
			r.AddCookie(c)
			return w.do(r).Code
		}, http.StatusSeeOther},
		{"V1 a name of a device that is a page of its own", func(w *world) int {
			w.do(w.request("POST", "/join", url.Values{"code": {w.code("mw")}, "device": {"<script>alert(1)</script>"}}.Encode()))
			r := w.request("GET", "/devices", "")
			r.RemoteAddr = "127.0.0.1:4000"
			if strings.Contains(w.do(r).Body.String(), "<script>") {
				return http.StatusTeapot
			}
			return http.StatusOK
		}, http.StatusOK},
		{"V2 a form far too large", func(w *world) int {
			return w.do(w.request("POST", "/join", "code="+strings.Repeat("1", 1<<20))).Code
		}, http.StatusForbidden},
	} {
		if got := a.try(newWorld(t)); got != a.want {
			t.Errorf("%s: %d, not %d", a.name, got, a.want)
		}
	}
}

func TestJoinedDeviceIsItsPerson(t *testing.T) {
	w := newWorld(t)
	out := w.do(w.request("POST", "/join", url.Values{"code": {w.code("mw")}, "device": {"phone"}}.Encode()))
	c := out.Result().Cookies()
	if out.Code != http.StatusOK || len(c) != 1 || !c[0].Secure || !c[0].HttpOnly || c[0].SameSite != http.SameSiteStrictMode || c[0].Domain != "" || c[0].Path != "/" {
		t.Fatalf("%d, %v", out.Code, c)
	}
	r := w.request("GET", "/", "")
	r.AddCookie(c[0])
	if got := w.do(r).Body.String(); got != "GET by mw" {
		t.Errorf("%q", got)
	}
	r = w.request("GET", "/", "")
	r.RemoteAddr = "[::1]:4000"
	if got := w.do(r).Body.String(); got != "GET by " {
		t.Errorf("this machine: %q", got)
	}
}

func TestMembersAreKept(t *testing.T) {
	file := t.TempDir() + "/devices.json"
	m, err := OpenMembers(file, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	c, err := m.NewCode("mw")
	if err != nil {
		t.Fatal(err)
	}
	secret, err := m.Join(c, "phone")
	if err != nil {
		t.Fatal(err)
	}
	again, err := OpenMembers(file, time.Now)
	if err != nil || again.Of(secret) != "mw" || again.Of("x") != "" {
		t.Errorf("%v, %q", err, again.Of(secret))
	}
}

// A browser that trusts our authority reaches the pages over TLS under an address of this machine, and the authority is
// good for no name of the internet.
func TestOwnAuthority(t *testing.T) {
	a, err := OpenAuthority(t.TempDir(), time.Now())
	if err != nil {
		t.Fatal(err)
	}
	members, err := OpenMembers("", time.Now)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	at := make(chan string, 1)
	ended := make(chan error, 1)
	pages := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { io.WriteString(w, "hello "+Who(r)) }) //nolint:errcheck // a test
	go func() {
		ended <- Run(ctx, Options{Listen: "0.0.0.0:0", Pages: pages, Authority: a, Members: members, Ready: func(url, note string) {
			if !strings.Contains(note, a.Fingerprint()) {
				t.Errorf("the note is %q", note)
			}
			at <- url
		}})
	}()
	_, port, _ := net.SplitHostPort(strings.TrimSuffix(strings.TrimPrefix(<-at, "https://"), "/"))
	roots := x509.NewCertPool()
	roots.AddCert(a.certificate)
	jar, _ := cookiejar.New(nil)
	client := &http.Client{Jar: jar, Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots}}}
	answer, err := client.Get("https://127.0.0.1:" + port + "/")
	if err != nil {
		t.Fatal(err)
	}
	body, _ := io.ReadAll(answer.Body)
	answer.Body.Close() //nolint:errcheck // it was read
	if string(body) != "hello " {
		t.Errorf("%q", body)
	}
	if _, err := http.Get("https://127.0.0.1:" + port + "/"); err == nil {
		t.Error("reached without trust")
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	c, err := a.Certificate(time.Now(), []net.IP{net.IPv4(93, 184, 216, 34)})
	if err != nil {
		t.Fatal(err)
	}
	leaf, err := x509.ParseCertificate(c.Certificate[0])
	if err != nil {
		t.Fatal(err)
	}
	if _, err := leaf.Verify(x509.VerifyOptions{Roots: roots, DNSName: "93.184.216.34"}); err == nil {
		t.Error("the authority speaks for an address of the internet")
	}
}

func TestNoAddressIsServedInTheOpen(t *testing.T) {
	for _, address := range []string{"0.0.0.0:0", "[::]:0", "nowhere:80", "127.0.0.1", ""} {
		ctx, stop := context.WithTimeout(context.Background(), 2*time.Second)
		m, _ := OpenMembers("", time.Now)
		if err := Run(ctx, Options{Listen: address, Pages: http.NotFoundHandler(), Members: m}); err == nil || !strings.Contains(err.Error(), "listen") {
			t.Errorf("%q: %v", address, err)
		}
		stop()
	}
}

func TestTextIsCompressed(t *testing.T) {
	w := newWorld(t)
	r := w.request("GET", "/", "")
	r.RemoteAddr = "127.0.0.1:1"
	r.Header.Set("Accept-Encoding", "gzip")
	out := w.do(r)
	z, err := gzip.NewReader(out.Body)
	if err != nil || out.Header().Get("Content-Encoding") != "gzip" {
		t.Fatal(err, out.Header())
	}
	if text, err := io.ReadAll(z); err != nil || string(text) != "GET by " {
		t.Errorf("%q, %v", text, err)
	}
}

func TestCodesAreShownOnceAtThisMachine(t *testing.T) {
	w := newWorld(t)
	r := w.request("POST", "/devices", "who=mw")
	r.RemoteAddr = "127.0.0.1:4000"
	page := w.do(r).Body.String()
	m := regexp.MustCompile(`role="status">(\d{4}) (\d{4})<`).FindStringSubmatch(page)
	if m == nil {
		t.Fatal(page)
	}
	if _, err := w.members.Join(m[1]+m[2], "phone"); err != nil {
		t.Error(err)
	}
	r = w.request("POST", "/devices", "who=zz")
	r.RemoteAddr = "127.0.0.1:4000"
	if out := w.do(r); out.Code != http.StatusUnprocessableEntity || !strings.Contains(out.Body.String(), "nobody has the initials") {
		t.Errorf("a code for nobody: %d %s", out.Code, out.Body)
	}
}

// Who serves at an address of the network alone reaches the pages there, and gives codes; a neighbour does not.
func TestThisMachineIsKnownByItsOwnAddress(t *testing.T) {
	for from, want := range map[string]int{"192.168.1.5:4000": http.StatusOK, "192.168.1.50:4000": http.StatusSeeOther, "[::ffff:192.168.1.5]:4000": http.StatusOK, "": http.StatusSeeOther} {
		w := newWorld(t)
		r := w.request("GET", "/", "")
		r.RemoteAddr = from
		r = r.WithContext(context.WithValue(r.Context(), http.LocalAddrContextKey, net.Addr(&net.TCPAddr{IP: net.IPv4(192, 168, 1, 5), Port: 8023})))
		if out := w.do(r); out.Code != want {
			t.Errorf("from %q: %d, want %d", from, out.Code, want)
		}
	}
}

// The first name that is served is the one that is printed: it must lead there. All that the certificate is for is answered.
func TestNamesOfACertificate(t *testing.T) {
	pair := tls.Certificate{Leaf: &x509.Certificate{
		DNSNames: []string{"localhost", "doors.example"}, IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1), net.IPv4(203, 0, 113, 5), net.ParseIP("2001:db8::5")},
	}}
	outside := []string{"doors.example:443", "doors.example", "203.0.113.5:443", "203.0.113.5", "[2001:db8::5]:443", "[2001:db8::5]"}
	if got := namesOf(pair, net.IPv4(203, 0, 113, 5), "443"); !slices.Equal(got, outside) {
		t.Errorf("%q", got)
	}
	if got := namesOf(pair, net.IPv4zero, "443"); got[0] != "localhost:443" || len(got) != len(outside)+4 {
		t.Errorf("%q", got)
	}
	if got := namesOf(tls.Certificate{}, net.IPv4zero, "443"); got != nil {
		t.Errorf("%q", got)
	}
}
