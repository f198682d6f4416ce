package web

import (
	"net/http"
	"strings"

	"doorwright/document"
	"doorwright/job"
	"doorwright/rules"
)

// jobForm are the fields that are about a whole job, filled with what its document says.
func jobForm(d *job.Document) []planGroup {
	var warm string
	if d.Temperature.Low != 0 || d.Temperature.High != 0 {
		warm = d.Temperature.String()
	}
	groups := []planGroup{{"The job", []planField{
		needed("Title", "title", d.Title, "Brackwater Tidal Observatory"),
		text("Revision", "revision", d.Revision, "A"),
		text("Judged by the rules of, with commas between", "rules", strings.Join(d.Rules, ", "), "not stated: the strictest is judged"),
		text("Warm and cold around cables and devices", "temperature", warm, "0 C to 40 C"),
	}}}
	return append(groups, customs(d.MakeUp, d.Measures))
}

// customs are the fields of what is customary in a country.
func customs(makeUp, measures string) planGroup {
	return planGroup{"Cables and measures", []planField{
		chosen("Cables taken where none is said", "make-up", makeUp, "", "not stated: metric", "iec", "metric, in mm2", "north-american", "American, in AWG"),
		chosen("Lengths are told", "measures", measures, "", "as goes with the cables", "metric", "in metres and millimetres", "feet", "in feet and inches"),
	}}
}

// about shows what is about a whole job.
func (h *handler) about(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	h.showAbout(w, r, at, "")
}

// showAbout shows that form; after a mistake it keeps what was typed.
func (h *handler) showAbout(w http.ResponseWriter, r *http.Request, at *atJob, wrong string) {
	var known []string
	for _, f := range rules.Families() {
		known = append(known, f.ID+": "+f.Title)
	}
	v := startView{
		Lead: "What holds for the whole job. Whatever lengths were written in, they are told in one way; a length may be typed as 12 m, 40 ft or 6 in.",
		Do:   "Look what it does", Wrong: wrong, Base: baseOf(r, at), Groups: fill(jobForm(at.desk.job.Document), r.PostForm),
		Note: "Rules that are known: " + strings.Join(known, "; ") + ". " + rules.Caution,
	}
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, startPage(h.jobSheet(r, at, "The whole job", "The job"), v))
}

// aboutLooked shows what a change of the whole job does.
func (h *handler) aboutLooked(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	text, err := at.edited(r, func(tree *document.Tree) error {
		return filledIn(tree, jobForm(at.desk.job.Document), nil, r.PostForm)
	})
	h.showChange(w, r, at, h.jobSheet(r, at, "The whole job", "The job"), text, err, at.home+"/about", func(wrong string) { h.showAbout(w, r, at, wrong) })
}
