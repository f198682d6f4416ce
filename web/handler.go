package web

import (
	"context"
	"net/http"

	"doorwright/record"

	"github.com/a-h/templ"
)

// Shelf is one job as it is kept.
type Shelf struct {
	ID       string
	Document []byte
	Record   *record.Record // nil: nothing was recorded
}

// Options are what the pages work on.
type Options struct {
	// Jobs lists the jobs that are kept.
	Jobs func(context.Context) ([]Shelf, error)
	// Who names the person who asks; empty when nobody has said so.
	Who func(*http.Request) string
}

type handler struct {
	Options
	engine *engine
}

// New makes the pages.
func New(o Options) http.Handler {
	h := &handler{Options: o, engine: newEngine()}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /static/{file}", serveAsset)
	mux.HandleFunc("GET /{$}", h.jobs)
	mux.HandleFunc("GET /j/{job}", h.register)
	mux.HandleFunc("GET /j/{job}/d/{door}", h.door)
	mux.HandleFunc("GET /j/{job}/d/{door}/try", h.tryout)
	mux.HandleFunc("/", h.nowhere)
	return guarded(mux)
}

// guarded sets what every answer has: nothing but our own style, script and pictures, no frame around us, no guessing of
// types.
func guarded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Content-Security-Policy", "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' blob:; "+
			"connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'")
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Referrer-Policy", "same-origin")
		head.Set("Cross-Origin-Opener-Policy", "same-origin")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		next.ServeHTTP(w, r)
	})
}

// show writes a page.
func (h *handler) show(w http.ResponseWriter, r *http.Request, c templ.Component) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	if err := c.Render(r.Context(), w); err != nil {
		http.Error(w, "the page could not be written: "+err.Error(), http.StatusInternalServerError)
	}
}

func (h *handler) nowhere(w http.ResponseWriter, r *http.Request) {
	h.refuse(w, r, http.StatusNotFound, "There is no such page", "Nothing is kept at "+r.URL.Path+".")
}

// refuse says why a page is not shown.
func (h *handler) refuse(w http.ResponseWriter, r *http.Request, code int, title, why string) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(code)
	h.show(w, r, refusalPage(sheet{Title: title, Who: h.who(r)}, why))
}

func (h *handler) who(r *http.Request) string {
	if h.Who == nil {
		return ""
	}
	return h.Who(r)
}

// atJob is one request about a job.
type atJob struct {
	shelf Shelf
	desk  *desk
	home  string
}

// job finds the job of a request and has it computed; false when an answer was given already.
func (h *handler) job(w http.ResponseWriter, r *http.Request) (*atJob, bool) {
	all, err := h.Jobs(r.Context())
	if err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The jobs cannot be read", err.Error())
		return nil, false
	}
	for _, s := range all {
		if s.ID != r.PathValue("job") {
			continue
		}
		at := &atJob{s, h.engine.on(s.ID, s.Document), "/j/" + s.ID}
		if at.desk.job == nil {
			h.refuse(w, r, http.StatusUnprocessableEntity, "The job document has mistakes", at.desk.problems.Error())
			return nil, false
		}
		return at, true
	}
	h.nowhere(w, r)
	return nil, false
}

// sheet is the frame of a page about a job.
func (h *handler) sheet(r *http.Request, at *atJob, title string, where ...step) sheet {
	j := at.desk.job
	return sheet{
		Title: title, Job: j.Title, Home: at.home, Where: where, Who: h.who(r),
		Footer: []field{{"job", j.ID}, {"revision", j.Revision}, {"sheet", title}},
	}
}
