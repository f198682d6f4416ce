package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"doorwright/cable"
	"doorwright/device"
	"doorwright/document"
	"doorwright/job"
	"doorwright/rules"
)

// startView is a form that makes something new.
type startView struct {
	Lead, Do, Wrong, Note string
	Base                  string // mark of the document that is changed; empty for a new one
	Drawings              string // that the cards of the groups show
	Groups                []planGroup
}

// blank is a job with nothing in it, for its lists of models.
func blank() formBuilder { return formBuilder{&job.Job{Document: &job.Document{}}} }

// startForm is the form of a new job with its first door; filled keeps what was typed.
func startForm(filled url.Values) []planGroup {
	b := blank()
	families := []option{{"", "not known: the strictest is judged"}}
	for _, f := range rules.Families() {
		families = append(families, option{f.ID, f.Title})
	}
	groups := []planGroup{
		{"The job", []planField{
			needed("Short name, for ever", "job", "", "BTO"), needed("Title", "title", "", "Brackwater Tidal Observatory"),
			{Title: "Judged by the rules of", Path: "rules", Options: families},
		}},
		customs("", ""),
		{"Power", []planField{
			b.device("Supply", job.RoleSupply, "supply", "supply-12-5", ""),
			b.device("Battery", job.RoleBattery, "battery", "battery-12-7", "none"),
			b.device("Controller", job.RoleController, "controller", "controller-1-12", ""),
			text("Cable from the supply to the controller", "feed-length", "", "15 m or 50 ft"),
		}},
	}
	return fill(append(groups, firstDoor(b)...), filled)
}

// firstDoor are the fields of a door from nothing.
func firstDoor(b formBuilder) []planGroup {
	return []planGroup{
		{"The first door", []planField{
			text("Short name, for ever", "door", "", "D1"), needed("What people call it", "door-title", "", "Main entrance"), text("On the secured side", "secured", "", "Hall"),
			chosen("People escape", "escape", "", "", "not known: judged as both ways", "out", "out", "in", "in", "both", "both ways", "none", "not through this door"),
			chosen("Fire or smoke door", "fire-rated", "", "", "not known: judged as one", "yes", "yes", "no", "no"),
		}},
		{"Fitted", []planField{
			b.device("Lock", job.RoleLock, "lock", "magnet-12", ""),
			chosen("Inside handle frees it", "handle", "", "", "not known: judged as not", "frees", "in one action", "fixed", "no: it does not move", "none", "there is none"),
			b.device("Reader", job.RoleEntry, "entry", "reader-pulse", "none"),
			b.device("Exit device", job.RoleExit, "exit", "exit-button", "none"),
			b.device("Manual release", job.RoleRelease, "release", "release-2", "none"),
			b.device("Door contact", job.RoleContact, "contact", "contact-surface", "none"),
			b.device("Fire signal in the lock feed", job.RoleFire, "fire", "", "none"),
			text("Length of each cable", "cable-length", "", "15 m or 50 ft"),
		}},
	}
}

// fill puts what was typed into a form.
func fill(groups []planGroup, filled url.Values) []planGroup {
	for i := range groups {
		for k := range groups[i].Fields {
			if f := &groups[i].Fields[k]; filled.Has(f.Path) {
				f.Value = filled.Get(f.Path)
			}
		}
	}
	return groups
}

func (h *handler) start(w http.ResponseWriter, r *http.Request) {
	h.showStart(w, r, "")
}

func (h *handler) showStart(w http.ResponseWriter, r *http.Request, wrong string) {
	v := startView{
		Lead: "A job begins with one door and what feeds it. What it comes to is shown before anything is kept; everything can be changed later.",
		Do:   "Look what it comes to", Wrong: wrong, Groups: startForm(r.PostForm),
	}
	v.Drawings = pictured(blank().job, v.Groups)
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, startPage(sheet{Title: "A new job", Who: h.who(r), Where: []step{{"Jobs", "/"}}}, v))
}

// started shows what a new job would come to.
func (h *handler) started(w http.ResponseWriter, r *http.Request) {
	if !h.form(w, r) {
		return
	}
	text, err := newJob(func(name string) string { return strings.TrimSpace(r.PostForm.Get(name)) })
	var v *lookView
	if err == nil {
		v, err = h.lookAt("new", text)
	}
	if err == nil && h.Journal.State().Job(r.PostForm.Get("job")) != nil {
		err = fmt.Errorf("the job %s is here already: choose another short name", r.PostForm.Get("job"))
	}
	if problems := document.Problems(nil); errors.As(err, &problems) {
		err = problems.Unplaced()
	}
	if err != nil {
		h.showStart(w, r, err.Error())
		return
	}
	h.show(w, r, lookPage(sheet{Title: "Look before it is kept", Who: h.who(r), Where: []step{{"Jobs", "/"}, {"A new job", "/new"}}}, *v))
}

// newJob is the document that a form stands for, in YAML.
func newJob(v func(string) string) (string, error) {
	tree, err := document.ReadTree([]byte("{}"))
	if err != nil {
		return "", err
	}
	door := v("door")
	if door == "" {
		door = "D1"
	}
	put := func(value string, path ...string) {
		if err == nil && value != "" {
			err = job.Put(tree, path, value)
		}
	}
	put(v("job"), "job")
	put(v("title"), "title")
	put("A", "revision")
	put(v("rules"), "rules")
	put(v("make-up"), "make-up")
	put(v("measures"), "measures")
	put("Where the supply is", "places", "supply-place", "title")
	put(v("supply"), "supplies", "PS1", "model")
	put("supply-place", "supplies", "PS1", "place")
	put(v("battery"), "supplies", "PS1", "battery")
	put(v("controller"), "controllers", "C1", "model")
	put(door+".box", "controllers", "C1", "place")
	put("PS1", "controllers", "C1", "feed")
	putDoor(put, v, door, "C1")
	if length := v("feed-length"); length != "" {
		put("{from: supply-place, to: "+door+".box, cable: "+feedCable(v("make-up"))+", length: "+length+"}", "runs", "W1")
	}
	if err != nil {
		return "", err
	}
	text, err := tree.Bytes()
	return string(text), err
}

// feedCable is the cable from a supply to a controller, of about 1 mm2.
func feedCable(makeUp string) string {
	if makeUp == cable.NorthAmerican {
		return "18-4"
	}
	return "4x1.0"
}

// putDoor writes a door from nothing.
func putDoor(put func(value string, path ...string), v func(string) string, door, controller string) {
	at := func(value string, field ...string) { put(value, append([]string{"doors", door}, field...)...) }
	at(v("door-title"), "title")
	at(v("secured"), "secured")
	at(v("escape"), "escape")
	at(v("fire-rated"), "fire-rated")
	at(controller, "controller")
	at(v("entry"), "entry")
	lock := "[{model: " + v("lock")
	if hd := v("handle"); hd != "" {
		lock += ", handle: " + hd
	}
	if m, ok := device.Builtin().Get(v("lock")); ok && m.Kind == "magnet" {
		lock += ", feed: PS1"
	}
	at(lock+"}]", "locks")
	for _, l := range [][2]string{{"exit", "exit"}, {"release", "releases"}, {"contact", "contacts"}} {
		if m := v(l[0]); m != "" {
			at("["+m+"]", l[1])
		}
	}
	at(v("fire"), "fire")
	at(v("cable-length"), "cable-length")
}

// addDoor is the form of one more door.
func (h *handler) addDoor(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	h.showAdd(w, r, at, "")
}

func (h *handler) showAdd(w http.ResponseWriter, r *http.Request, at *atJob, wrong string) {
	like := []option{}
	for _, d := range at.desk.job.Doors {
		like = append(like, option{d.ID, d.Title})
	}
	controllers := []option{{"", "a new one, as the other door has"}}
	for _, c := range at.desk.job.Controllers {
		for n := 1; n <= c.Model.Channels(); n++ {
			if !slices.ContainsFunc(at.desk.job.Doors, func(d *job.Door) bool { return d.Controller == c && max(1, d.Channel) == n }) {
				controllers = append(controllers, option{fmt.Sprintf("%s/%d", c.ID, n), fmt.Sprintf("%s, its door %d", c.ID, n)})
			}
		}
	}
	v := startView{Lead: "One more door, fitted like one that is there. Change what differs on its plan page.", Do: "Look what it does", Wrong: wrong, Groups: fill([]planGroup{{"The door", []planField{
		needed("Short name, for ever", "door", "", "D2"), needed("What people call it", "title", "", "Side entrance"), text("On the secured side", "secured", "", "Hall"),
		{Title: "Fitted like", Path: "like", Options: like},
		{Title: "Controller", Path: "controller", Options: controllers},
	}}}, r.PostForm)}
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, startPage(h.jobSheet(r, at, "One more door", "Doors"), v))
}

// addedDoor shows what one more door would do.
func (h *handler) addedDoor(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	text, err := at.withDoor(func(name string) string { return strings.TrimSpace(r.PostForm.Get(name)) })
	h.showChange(w, r, at, h.jobSheet(r, at, "One more door", "Doors"), text, err, at.home, func(wrong string) { h.showAdd(w, r, at, wrong) })
}

func (at *atJob) withDoor(v func(string) string) ([]byte, error) {
	like := at.desk.door(v("like"))
	switch {
	case like == nil:
		return nil, fmt.Errorf("choose the door it is fitted like")
	case v("door") == "" || strings.Contains(v("door"), "."):
		return nil, fmt.Errorf("write a short name, such as D2")
	case at.desk.door(v("door")) != nil:
		return nil, fmt.Errorf("there is a door %s already", v("door"))
	}
	tree, err := document.ReadTree(at.shelf.Document)
	if err != nil {
		return nil, err
	}
	put := func(value string, path ...string) {
		if err == nil && value != "" {
			err = job.Put(tree, path, value)
		}
	}
	copied := func(from, to []string) {
		if value, e := tree.Get(from...); e == nil && value != "" && err == nil {
			err = tree.Set(value, to...)
		}
	}
	door := v("door")
	put(v("title"), "doors", door, "title")
	put(v("secured"), "doors", door, "secured")
	for _, name := range append([]string{"rules", "escape", "fire-rated", "leaves", "opening", "cable-length"}, alike()...) {
		copied([]string{"doors", like.ID, name}, []string{"doors", door, name})
	}
	controller := v("controller")
	if controller == "" {
		controller = at.freeController()
		for _, name := range []string{"model", "feed"} {
			copied([]string{"controllers", like.Controller.ID, name}, []string{"controllers", controller, name})
		}
		put(door+".box", "controllers", controller, "place")
	}
	put(controller, "doors", door, "controller")
	if err != nil {
		return nil, err
	}
	return tree.Bytes()
}

// freeController is the next short name of a controller.
func (at *atJob) freeController() string {
	for n := 1; ; n++ {
		id := fmt.Sprintf("C%d", n)
		if !slices.ContainsFunc(at.desk.job.Controllers, func(c *job.Controller) bool { return c.ID == id }) {
			return id
		}
	}
}
