package job

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/device"
)

// fit makes a device from what is written at path, at its usual place unless another is stated. Usual is nil for what
// has no usual place.
func (r *resolver) fit(role Role, id, path string, d FittedDoc, usual *Place) Fitted {
	f := r.fitModel(role, id, path, d)
	f.Place = r.near(under(path, "place"), d.Place, usual)
	return f
}

// fitModel makes a device without a place. The batteries and boards of supplies are written as a model alone.
func (r *resolver) fitModel(role Role, id, path string, d FittedDoc) Fitted {
	f := Fitted{ID: id, Role: role, Title: d.Title, ModelID: d.Model, Height: d.Height, Beside: d.Beside, Where: path}
	optional(r, under(path, "height"), d.Height, highestDevice)
	optional(r, under(path, "beside"), d.Beside, furthestDevice)
	at := under(path, "model")
	if role == RoleBattery || role == RoleBoard {
		at = path
	}
	f.Model = r.model(role, at, d.Model)
	if f.Title == "" && f.Model != nil {
		f.Title = f.Model.Title
	}
	return f
}

// model looks up a model for a role; nil after a problem.
func (r *resolver) model(role Role, path, id string) *device.Model {
	part := partOf(role)
	if !r.required(path, id, "the model of "+part.title) || r.unfit[id] {
		return nil
	}
	m, ok := r.models.Get(id)
	if !ok {
		if !r.lost("models", len(r.doc.Models)) {
			r.unknown(path, id, "model of "+part.title, func() []string { return r.fitting(part) })
		}
		return nil
	}
	if !part.fits(m) {
		known := r.fitting(part)
		more := ""
		if len(known) > 4 {
			known, more = known[:4], " ..."
		}
		r.problem(path, quote(id), fmt.Sprintf("%s cannot serve as %s; choose a model such as %s%s",
			titleOf(m), part.title, strings.Join(known, ", "), more))
		return nil
	}
	return m
}

// titleOf names the kind of a model, with its article.
func titleOf(m *device.Model) string {
	if k := device.KindOf(m.Kind); k != nil {
		return k.Title
	}
	return "a " + m.Kind
}

// fitting lists the models that can play a part.
func (r *resolver) fitting(p part) []string {
	var ids []string
	for _, id := range r.models.IDs() {
		if m, ok := r.models.Get(id); ok && p.fits(m) {
			ids = append(ids, id)
		}
	}
	return ids
}

// meaningless reports what is stated of a device but means nothing for one of its role.
func (r *resolver) meaningless(path string, d FittedDoc, role Role, means ...string) {
	for _, s := range []struct {
		key   string
		given bool
	}{
		{"feed", d.Feed != ""},
		{"leaf", d.Leaf != 0},
		{"breaks-feed", d.Breaks},
		{"address", d.Address != nil},
		{"speed", d.Speed != 0},
		{"terminator", d.Ends != ""},
		{"height", d.Height != 0},
		{"beside", d.Beside != 0},
	} {
		if s.given && !slices.Contains(means, s.key) {
			r.problem(under(path, s.key), "", "means nothing for "+partOf(role).title+"; leave it out")
		}
	}
}

// leaf reads the leaf a device is on.
func (r *resolver) leaf(path string, stated int, d *Door) int {
	switch {
	case stated == 0 && !r.stated(path):
		if d.Leaves > 1 {
			r.assume(path, "leaf 1")
		}
		return 1
	case stated < 1 || stated > 2:
		r.problem(path, quote(fmt.Sprint(stated)), "is not a leaf; write 1 or 2")
	case stated > d.Leaves:
		r.problem(path, quote(fmt.Sprint(stated)), "is not possible on one leaf; add leaves: 2, or leave this out")
	}
	return stated
}

// Fitting lists the ids of the models that can play a part at a door, the built-in ones and those of the job.
func (j *Job) Fitting(role Role) []string {
	part := partOf(role)
	var ids []string
	models, _ := device.Builtin().With(j.Document.Models) // the job was read: its models have no flaws
	for _, id := range models.IDs() {
		if m, ok := models.Get(id); ok && part.fits(m) {
			ids = append(ids, id)
		}
	}
	return ids
}

// ModelTitle is what a technician calls a model, built in or of the job; its id for one that is not there.
func (j *Job) ModelTitle(id string) string {
	models, _ := device.Builtin().With(j.Document.Models)
	if m, ok := models.Get(id); ok {
		return m.Title
	}
	return id
}
