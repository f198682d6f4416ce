package web

import (
	"cmp"
	"context"
	"fmt"
	"net/http"
	"net/url"
	"runtime/debug"
	"strings"
	"unicode/utf8"

	"doorwright/journal"
	"doorwright/record"

	"github.com/a-h/templ"
)

// Options are what the pages work on.
type Options struct {
	Journal *journal.Journal
	// Who gives the initials of the person who asks, where whoever serves knows them; nil or empty: who sits at this device.
	Who func(*http.Request) string
	// Now is the date and time of day here.
	Now func() record.Date
	// Background ends what goes on between requests; nil: that ends with the process.
	Background context.Context
	// Failed is told of a mistake in the program that a request has met; nil for nobody.
	Failed func(error)
}

type handler struct {
	Options
	engine  *engine
	waiting waiting
	answers http.Handler // every page

	faultRuns faultRuns
}

// New makes the pages.
func New(o Options) http.Handler {
	h := &handler{Options: o, engine: newEngine()}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /static/{file}", serveAsset)
	for _, p := range h.pages() {
		mux.HandleFunc(p.at, p.answer)
	}
	mux.HandleFunc("/", h.nowhere)
	h.answers = mux
	return guarded(h.caught(mux))
}

// pages is the one list of what is answered.
func (h *handler) pages() []struct {
	at     string
	answer http.HandlerFunc
} {
	return []struct {
		at     string
		answer http.HandlerFunc
	}{
		{"GET /{$}", h.jobs},
		{"GET /people", h.people},
		{"POST /people", h.addPerson},
		{"POST /people/seat", h.seat},
		{"POST /meters", h.addMeter},
		{"GET /bring", h.bring},
		{"POST /bring", h.look},
		{"POST /bring/keep", h.keep},
		{"GET /new", h.start},
		{"POST /new", h.started},
		{"GET /call", h.call},
		{"POST /call", h.called},
		{"GET /j/{job}", h.register},
		{"GET /j/{job}/door", h.addDoor},
		{"POST /j/{job}/door", h.addedDoor},
		{"GET /j/{job}/units", h.units},
		{"POST /j/{job}/units", h.unit},
		{"POST /j/{job}/units/look", h.unitLook},
		{"GET /j/{job}/about", h.about},
		{"POST /j/{job}/about", h.aboutLooked},
		{"GET /j/{job}/plans", h.plans},
		{"POST /j/{job}/plans", h.issue},
		{"GET /j/{job}/supplies", h.supplies},
		{"POST /j/{job}/supplies", h.suppliesMended},
		{"GET /j/{job}/found", h.suppliesFound},
		{"GET /j/{job}/supplies/{supply}", h.supply},
		{"POST /j/{job}/supplies/{supply}", h.supplyLooked},
		{"POST /j/{job}/supplies/{supply}/battery", h.fitted},
		{"POST /j/{job}/supplies/{supply}/accept", h.suppliesAccepted},
		{"GET /j/{job}/schedules", h.schedules},
		{"GET /j/{job}/schedules/{file}", h.scheduleFile},
		{"GET /j/{job}/schedules.xlsx", h.workbook},
		{"GET /j/{job}/faults", h.faults},
		{"GET /j/{job}/rules", h.rules},
		{"GET /j/{job}/record", h.record},
		{"GET /j/{job}/papers", h.papers},
		{"GET /j/{job}/paper", h.paper},
		{"GET /j/{job}/pack", h.pack},
		{"GET /j/{job}/d/{door}", h.door},
		{"POST /j/{job}/like", h.like},
		{"POST /j/{job}/keep", h.keepChange},
		{"POST /j/{job}/undo", h.undo},
		{"POST /j/{job}/d/{door}/accept", h.accept},
		{"GET /j/{job}/d/{door}/found", h.foundPart},
		{"GET /j/{job}/d/{door}/faults", h.faultsPart},
		{"GET /j/{job}/d/{door}/survey", h.survey},
		{"POST /j/{job}/d/{door}/survey", h.surveyed},
		{"POST /j/{job}/d/{door}/photo", h.photographed},
		{"GET /j/{job}/photo/{hash}", h.photo},
		{"GET /j/{job}/d/{door}/plan", h.plan},
		{"POST /j/{job}/d/{door}/plan", h.planned},
		{"POST /j/{job}/d/{door}/plan/look", h.planLook},
		{"GET /j/{job}/d/{door}/try", h.tryout},
		{"GET /j/{job}/d/{door}/do/snags", h.snags},
		{"POST /j/{job}/d/{door}/do/snags", h.snagged},
		{"GET /j/{job}/d/{door}/do", h.work},
		{"GET /j/{job}/d/{door}/do/first", h.firstFix},
		{"GET /j/{job}/d/{door}/do/first/one", h.firstOne},
		{"POST /j/{job}/d/{door}/do/first/one", h.firstMeasured},
		{"GET /j/{job}/d/{door}/do/land", h.land},
		{"POST /j/{job}/d/{door}/do/land", h.tick},
		{"GET /j/{job}/d/{door}/do/read", h.readings},
		{"GET /j/{job}/d/{door}/do/read/one", h.reading},
		{"POST /j/{job}/d/{door}/do/read/one", h.measured},
		{"GET /j/{job}/d/{door}/do/test", h.tests},
		{"POST /j/{job}/d/{door}/do/test", h.tested},
		{"GET /j/{job}/d/{door}/do/test/one", h.test},
		{"GET /j/{job}/d/{door}/do/hand", h.handover},
		{"POST /j/{job}/d/{door}/do/hand", h.handed},
		{"GET /j/{job}/handover", h.jobHandover},
		{"POST /j/{job}/handover", h.jobHanded},
		{"GET /heads.txt", h.headsFile},
		{"GET /workspace", h.workspace},
		{"GET /workspace/pack", h.backup},
		{"POST /workspace/look", h.offered},
		{"POST /workspace/keep", h.merged},
		{"GET /j/{job}/entry/{log}/{seq}", h.entry},
		{"POST /j/{job}/entry/{log}/{seq}", h.withdrawn},
		{"GET /j/{job}/d/{door}/find", h.find},
		{"POST /j/{job}/d/{door}/find", h.found},
	}
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

// caught answers a request that meets a mistake in the program: the others go on, and nothing half was written, since every
// write is one batch.
func (h *handler) caught(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h.faultRuns.begin()
		defer h.faultRuns.end()
		defer func() {
			what := recover()
			if what == nil {
				return
			}
			if h.Failed != nil {
				h.Failed(fmt.Errorf("%s %s: %v\n%s", r.Method, r.URL.Path, what, debug.Stack()))
			}
			h.refuse(w, r, http.StatusInternalServerError, "This page has failed", "It is a mistake in the program, not yours. What was kept before is safe.")
		}()
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
	h.show(w, r, refusalPage(sheet{Title: title, Who: h.who(r)}, refusalOf(r, code, why)))
}

// unfit begins an answer that says on its page what was wrong with the form.
func unfit(w http.ResponseWriter) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(http.StatusUnprocessableEntity)
}

// who is the person who asks, by initials; empty when nobody has said so.
func (h *handler) who(r *http.Request) string {
	if h.Who != nil {
		if who := h.Who(r); who != "" {
			return who
		}
	}
	log, _ := h.Journal.Device()
	return h.Journal.State().Seats[log]
}

// write adds entries in the name of who asks; false when an answer was given already: nobody has said yet who they are, or
// nothing was kept.
func (h *handler) write(w http.ResponseWriter, r *http.Request, bodies ...journal.Body) bool {
	who := h.who(r)
	if who == "" {
		h.askWho(w, r)
		return false
	}
	if _, err := h.Journal.Write(r.Context(), who, bodies...); err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "Nothing was kept", err.Error())
		return false
	}
	return true
}

// act is who does something now.
func (h *handler) act(r *http.Request) record.Act { return record.Act{By: h.who(r), On: h.Now()} }

// mostForm bounds a form without files.
const mostForm = 1 << 20

// form reads a form; false when an answer was given already.
func (h *handler) form(w http.ResponseWriter, r *http.Request) bool {
	return h.formUpTo(w, r, mostForm)
}

func (h *handler) formUpTo(w http.ResponseWriter, r *http.Request, most int64) bool {
	r.Body = http.MaxBytesReader(w, r.Body, most)
	if err := cmp.Or(r.ParseForm(), isText(r.Form)); err != nil {
		h.refuse(w, r, http.StatusBadRequest, "The form cannot be read", err.Error())
		return false
	}
	return true
}

// isText errs on fields that are no UTF-8: a browser sends none, and no document could hold them.
func isText(form url.Values) error {
	for name, all := range form {
		if !utf8.ValidString(name + "\n" + strings.Join(all, "\n")) {
			return fmt.Errorf("the field %q is no UTF-8 text", name)
		}
	}
	return nil
}

// shelf is one job as it is kept.
type shelf struct {
	*journal.Job
	Record *record.Record
	stale  []journal.Ticked
}

// atJob is one request about a job.
type atJob struct {
	shelf  shelf
	desk   *desk
	home   string
	faults *faultRuns
}

// job finds the job of a request and has it computed; false when an answer was given already.
func (h *handler) job(w http.ResponseWriter, r *http.Request) (*atJob, bool) {
	state := h.Journal.State()
	j := state.Job(r.PathValue("job"))
	if j == nil {
		h.nowhere(w, r)
		return nil, false
	}
	at := &atJob{shelf{Job: j}, h.engine.on(j.ID, j.Document), "/j/" + j.ID, &h.faultRuns}
	if at.desk.job == nil {
		h.refuse(w, r, http.StatusUnprocessableEntity, "The job document has mistakes", at.desk.problems.Error())
		return nil, false
	}
	at.shelf.Record, at.shelf.stale = state.Record(j, at.desk.plan)
	return at, true
}

// sheet is the frame of a page about a job.
func (h *handler) sheet(r *http.Request, at *atJob, title string, where ...step) sheet {
	j := at.desk.job
	return sheet{
		Title: title, Job: j.Title, Home: at.home, Where: where, Who: h.who(r),
		Footer: []field{{"job", j.ID}, {"revision", cmp.Or(j.Revision, "not stated")}, {"sheet", title}},
	}
}
