package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"doorwright/journal"
	"doorwright/record"
)

type snagsView struct {
	Tabs  workTabsView
	At    string
	Typed url.Values // what was typed and not kept
	Wrong string
	Says  string
	Snags []snagView
	Steps []option
}

type snagView struct{ ID, What, About, Level, Closed, Fix, Retest string }

func (h *handler) snags(w http.ResponseWriter, r *http.Request) {
	if at, ok := h.doorOf(w, r); ok {
		h.showSnags(w, r, at, r.URL.Query(), "")
	}
}

// showSnags shows the snags of a door with what was typed, and after a mistake what it is.
func (h *handler) showSnags(w http.ResponseWriter, r *http.Request, at *atDoor, typed url.Values, wrong string) {
	v := snagsView{Tabs: at.workTabs("/do/snags"), At: at.at + "/do/snags", Typed: legible(typed), Wrong: wrong, Steps: []option{{"", "no test"}}}
	for _, s := range record.StepsOf(at.door) {
		v.Steps = append(v.Steps, option{s.ID, fmt.Sprintf("%s %s (%s)", s.ID, s.Do, s.Before)})
	}
	open := 0
	for _, s := range at.shelf.Record.Snags {
		if s.Value.Door != at.door.ID {
			continue
		}
		x := snagView{
			ID: s.Key, What: s.Value.What, Level: "advice", Fix: v.Typed.Get("fix." + s.Key), Retest: s.Value.Retest,
			About: fmt.Sprintf("%s; %s, %s %s", s.Value.Class, at.shelf.Record.Name(s.Value.By), s.Value.On, s.Value.Owner),
		}
		if s.Value.Class == "life" || s.Value.Class == "security" {
			x.Level = "error"
		}
		if c := s.Value.Closed; c != nil {
			x.Closed, x.Level = fmt.Sprintf("%s; %s, %s", s.Value.Fix, at.shelf.Record.Name(c.By), c.On), "good"
		} else {
			open++
			if again := "retest." + s.Key; v.Typed.Has(again) {
				x.Retest = v.Typed.Get(again)
			}
		}
		v.Snags = append(v.Snags, x)
	}
	v.Says = counted(open, "open snag", "open snags") + "."
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, snagsPage(h.doorSheet(r, at, "At work"), v))
}

// snagClasses are what a snag may touch.
func snagClasses() []option {
	return []option{{"life", "getting out"}, {"security", "keeping out"}, {usualClass, "how it works"}, {"looks", "how it looks"}}
}

// usualClass is what a new snag touches until somebody says otherwise.
const usualClass = "function"

// snagged keeps a new snag, or that one was put right.
func (h *handler) snagged(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	f := r.PostForm
	what, id, _ := strings.Cut(f.Get(keepField), ".")
	var body journal.Snagged
	var wrong string
	var kept []string
	if what == "fix" {
		body, wrong = at.fixed(id, f, h.act(r))
		kept = []string{"fix." + id, "retest." + id}
	} else {
		body, wrong = at.newSnag(f, h.act(r))
		kept = []string{"what", "class", "owner", "retest"}
	}
	if _, ok := record.FindStep(body.Retest); body.Retest != "" && !ok {
		wrong = fmt.Sprintf("There is no test %q.", body.Retest)
	}
	if len(body.What)+len(body.Fix)+len(body.Owner) > mostNote {
		wrong = "Write less than 2000 letters."
	}
	if wrong != "" {
		h.showSnags(w, r, at, f, "The snag was not kept. "+wrong)
		return
	}
	if h.write(w, r, append(h.stopped(r, at, "/do/snags"), body)...) {
		h.carryOn(w, r, at.at+"/do/snags", leftOf(f, append(kept, at.untouched(f)...)...), h.showSnags)
	}
}

// newSnag is the new snag of a form, and what is wrong with it.
func (at *atDoor) newSnag(f url.Values, act record.Act) (journal.Snagged, string) {
	line := func(name string) string { return strings.TrimSpace(f.Get(name)) }
	s := journal.Snagged{Job: at.shelf.ID, ID: fmt.Sprintf("S%d", len(at.shelf.Record.Snags)+1)}
	s.Snag = record.Snag{Door: at.door.ID, What: line("what"), Class: line("class"), Owner: line("owner"), Retest: line("retest"), Act: act}
	switch {
	case s.What == "":
		return s, "Write what is wrong."
	case !slices.ContainsFunc(snagClasses(), func(c option) bool { return c.Value == s.Class }):
		return s, "Say what it touches."
	}
	return s, ""
}

// fixed is a snag that was put right, and what stands in the way of that.
func (at *atDoor) fixed(id string, f url.Values, act record.Act) (journal.Snagged, string) {
	s := journal.Snagged{Job: at.shelf.ID, ID: id}
	old, known := at.shelf.Record.Snags.Get(id)
	if !known || old.Door != at.door.ID || !old.Open() {
		return s, "There is no such open snag at this door."
	}
	s.Snag = *old
	s.Fix, s.Retest, s.Closed = strings.TrimSpace(f.Get("fix."+id)), f.Get("retest."+id), &act
	if s.Fix == "" {
		return s, "Write what was done."
	}
	return s, at.untested(s.Snag)
}

// untouched are the fields with something in them that stand as the page has them by itself: they need not be carried along.
func (at *atDoor) untouched(f url.Values) []string {
	var all []string
	if f.Get("class") == usualClass {
		all = append(all, "class")
	}
	for _, s := range at.shelf.Record.Snags {
		if again := "retest." + s.Key; f.Get(again) == s.Value.Retest {
			all = append(all, again)
		}
	}
	return all
}

// untested says what is missing before a snag may be closed: what touches getting out is retested first.
func (at *atDoor) untested(s record.Snag) string {
	if s.Class != "life" {
		return ""
	}
	if s.Retest == "" {
		return "A snag that touches getting out is closed with a test."
	}
	if !at.passedSince(s) {
		return "Make the test " + s.Retest + " again first: it must pass after the snag was found, witnessed where it bears on life."
	}
	return ""
}

// passedSince says that the test of a snag was passed after the snag was written down.
func (at *atDoor) passedSince(s record.Snag) bool {
	step, _ := record.FindStep(s.Retest)
	passed := false
	for _, e := range at.shelf.History {
		if !at.shelf.Counts(e) {
			continue
		}
		switch b := e.Body.(type) {
		case journal.Snagged:
			if b.Act == s.Act && b.Door == s.Door && b.Open() {
				passed = false
			}
		case journal.Tested:
			if b.Door == s.Door && b.Step == s.Retest {
				passed = b.Outcome == "pass" && b.Test.Counts(step)
			}
		}
	}
	return passed
}
