package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
)

// FuzzForms sends anything to every form: none fails, and none answers with what was sent as a page of its own.
func FuzzForms(f *testing.F) {
	d := withDemo(f)
	var forms []string
	for _, p := range (&handler{}).pages() {
		if at, ok := strings.CutPrefix(p.at, "POST "); ok {
			log, _ := d.journal.Device()
			at = strings.NewReplacer("{job}", "BTO", "{door}", "staff", "{log}", log, "{seq}", "4").Replace(at)
			if strings.HasSuffix(at, "/one") {
				at += "?at=staff.lock1.coil.plus&to=staff.lock1.coil.minus&in=idle&of=volts"
			}
			forms = append(forms, at)
		}
	}
	f.Add(uint8(0), "name=<script>alert(1)</script>&initials=x")
	f.Add(uint8(0), "name=\xb8ipt&initials=A") // no text
	f.Add(uint8(5), "core=W2%2F1&end=C2.feed.plus")
	f.Add(uint8(9), "step=T35&outcome=pass")
	f.Add(uint8(12), "base=&text=title: [")
	f.Add(uint8(14), "set.doors.staff.locks.1.model=magnet-12&base=x")
	f.Add(uint8(16), "id=m&text=kind: magnet&do=keep")
	f.Fuzz(func(t *testing.T, which uint8, body string) {
		at := forms[int(which)%len(forms)]
		r := httptest.NewRequest(http.MethodPost, at, strings.NewReader(body))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		w := httptest.NewRecorder()
		d.pages.ServeHTTP(w, r)
		if w.Code >= 500 {
			t.Fatalf("%s with %q: %d\n%s", at, body, w.Code, w.Body)
		}
		if v, err := url.ParseQuery(body); err == nil {
			for _, all := range v {
				for _, one := range all {
					if strings.Contains(one, "<script>") && strings.Contains(w.Body.String(), one) {
						t.Errorf("%s answers with %q as it was sent", at, one)
					}
				}
			}
		}
	})
}

// FuzzPlay opens try-outs at any address.
func FuzzPlay(f *testing.F) {
	d := withDemo(f)
	f.Add("do=card+staff.entry&wrong=cut+W2%2F1&heat=60&cell=1.9&supply=-1&pick=W2%2F1")
	f.Add("from=earth&to=C2.feed.plus")
	f.Add("do=wait+1e9+s")
	f.Fuzz(func(t *testing.T, query string) {
		r := httptest.NewRequest(http.MethodGet, "/j/BTO/d/staff/try", nil)
		r.URL.RawQuery = query
		w := httptest.NewRecorder()
		d.pages.ServeHTTP(w, r)
		if w.Code >= 500 {
			t.Fatalf("%q: %d\n%s", query, w.Code, w.Body)
		}
	})
}
