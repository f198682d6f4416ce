package web

import (
	"fmt"
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
		text("Title", "title", d.Title, "Brackwater Tidal Observatory"),
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
	var known []string
	for _, f := range rules.Families() {
		known = append(known, f.ID+": "+f.Title)
	}
	v := startView{
		Lead: "What holds for the whole job. Whatever lengths were written in, they are told in one way; a length may be typed as 12 m, 40 ft or 6 in.",
		Do:   "Look what it does", Base: mark(at.shelf.Document), Groups: jobForm(at.desk.job.Document),
		Note: "Rules that are known: " + strings.Join(known, "; ") + ". " + rules.Caution,
	}
	h.show(w, r, startPage(h.jobSheet(r, at, "The whole job", "The job"), v))
}

// aboutLooked shows what a change of the whole job does.
func (h *handler) aboutLooked(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	text, err := at.aboutChanged(r)
	h.showChange(w, r, at, h.jobSheet(r, at, "The whole job", "The job"), text, err, at.home+"/about")
}

func (at *atJob) aboutChanged(r *http.Request) ([]byte, error) {
	if r.PostForm.Get("base") != mark(at.shelf.Document) {
		return nil, fmt.Errorf("the job was changed since this page was opened: look at it again")
	}
	tree, err := document.ReadTree(at.shelf.Document)
	if err != nil {
		return nil, err
	}
	for _, g := range jobForm(at.desk.job.Document) {
		for _, f := range g.Fields {
			v := strings.TrimSpace(r.PostForm.Get(f.Path))
			if !r.PostForm.Has(f.Path) || v == f.Value {
				continue
			}
			if f.Path == "rules" && v != "" {
				v = "[" + v + "]"
			}
			if err := job.Put(tree, []string{f.Path}, v); err != nil {
				return nil, fmt.Errorf("%s: %w", f.Title, err)
			}
		}
	}
	return tree.Bytes()
}
