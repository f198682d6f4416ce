package web

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"doorwright/document"
	"doorwright/job"
	"doorwright/unit"
)

// planGroup is a part of the form of a door.
type planGroup struct {
	Title  string
	Fields []planField
}

// planField is one thing that can be said of a door. Its path leads from the door to the value, with dots.
type planField struct {
	Title, Path, Value, Usual string
	Needed                    bool // it may not be left empty
	Options                   []option
	Role                      job.Role // the part of the device that the field chooses; empty for another field
	Cards                     []card   // the options of such a field, with their pictures
}

// formOf is the form of a door, filled with what its document says.
func formOf(j *job.Job, id string) []planGroup {
	w, ok := j.Document.Doors.Get(id)
	if !ok {
		return nil
	}
	b := formBuilder{j}
	return []planGroup{
		{"The door", []planField{
			needed("What people call it", "title", w.Title, ""),
			text("On the secured side", "secured", w.Secured, "a room"),
			chosen("People escape", "escape", w.Escape, "", "not stated: judged as both ways", "out", "out", "in", "in", "both", "both ways", "none", "not through this door"),
			chosen("Fire or smoke door", "fire-rated", yesNo(w.FireRated), "", "not stated: judged as one", "yes", "yes", "no", "no"),
			chosen("Leaves", "leaves", count(w.Leaves), "", "one", "1", "one", "2", "two"),
			text("Clear width", "opening.width", b.mounted(w.Opening.Width), b.mounted(0.9)),
			text("Clear height", "opening.height", b.mounted(w.Opening.Height), b.mounted(2.05)),
			chosen("Hinges, from the unsecured side", "opening.handing", w.Opening.Handing, "", "not stated", "left", "left", "right", "right"),
			chosen("Swings", "opening.swing", w.Opening.Swing, "", "not stated", "in", "in", "out", "out, to the unsecured side"),
		}},
		{"Lock", b.locks(w.Locks)},
		{"Ways in", []planField{b.single("Reader", job.RoleEntry, "entry", w.Entry), b.single("Reader inside", job.RoleExitReader, "exit-reader", w.ExitReader)}},
		{"Ways out", append(b.list("Exit device", job.RoleExit, "exit", models(w.Exit, func(f job.FittedDoc) string { return f.Model })),
			append(b.list("Manual release", job.RoleRelease, "releases", models(w.Releases, func(f job.ReleaseDoc) string { return f.Model })),
				b.single("Fire signal in the lock feed", job.RoleFire, "fire", w.Fire), b.single("Relay that watches the controller", job.RoleWatch, "watch", w.Watch))...)},
		{"Contacts and alarms", append(b.list("Door contact", job.RoleContact, "contacts", models(w.Contacts, func(f job.FittedDoc) string { return f.Model })),
			b.single("Sounder", job.RoleSounder, "sounder", w.Sounder),
			chosen("End-of-line resistors", "supervision", w.Supervision, "", "none", "single", "one on each line", "double", "two on each line"))},
		{"Cables and controller", []planField{
			text("Controller, and which of its doors", "controller", w.Controller, "C1/1"),
			text("Length of each cable", "cable-length", b.length(w.Length), b.length(job.UsualLength)),
			b.single("Door loop", job.RoleLoop, "loop", w.Loop),
		}},
		{"What the controller is set to", []planField{
			chosen("Lock relay", "settings.lock-output", w.Settings.Sense, "", "energised to unlock", "energise-to-unlock", "energised to unlock, stated", "energise-to-lock", "energised to lock"),
			text("Unlocked for", "settings.unlock-for", quantity(w.Settings.UnlockFor), "5 s"),
			text("Alarm when open longer than", "settings.held-after", quantity(w.Settings.HeldAfter), "30 s"),
		}},
	}
}

type formBuilder struct{ job *job.Job }

func text(title, path, value, usual string) planField {
	return planField{Title: title, Path: path, Value: value, Usual: usual}
}

// needed is a text that may not be left out.
func needed(title, path, value, usual string) planField {
	return planField{Title: title, Path: path, Value: value, Usual: usual, Needed: true}
}

// chosen is a field with a list: values and titles by turns.
func chosen(title, path, value string, list ...string) planField {
	f := planField{Title: title, Path: path, Value: value}
	for i := 0; i+1 < len(list); i += 2 {
		f.Options = append(f.Options, option{list[i], list[i+1]})
	}
	return f
}

// locks are the fields of each lock.
func (b formBuilder) locks(all []job.LockDoc) []planField {
	var fields []planField
	for i, l := range all {
		at := fmt.Sprintf("locks.%d.", i+1)
		title, of := "Lock", ""
		if len(all) > 1 {
			title = fmt.Sprintf("Lock %d", i+1)
			of = title + ": "
		}
		fields = append(fields,
			b.device(title, job.RoleLock, at+"model", l.Model, ""),
			chosen(said(of, "Inside handle frees it"), at+"handle", l.Handle, "", "not stated: judged as not", "frees", "in one action", "fixed", "no: it does not move", "none", "there is none"),
			text(said(of, "Fed from"), at+"feed", l.Feed, "controller"),
			chosen(said(of, "While the mains are lost"), at+"on-battery", l.OnBattery, "", "as is usual for it", "hold", "it must hold", "work", "it must work", "let-go", "it may let go"),
		)
	}
	return fields
}

// said is a title after what it is of, if that has to be said.
func said(of, title string) string {
	if of == "" {
		return title
	}
	return of + strings.ToLower(title[:1]) + title[1:]
}

// single is a device that a door has or has not.
func (b formBuilder) single(title string, role job.Role, path string, f *job.FittedDoc) planField {
	value := ""
	if f != nil {
		value = f.Model
	}
	return b.device(title, role, path+".model", value, "none")
}

// list is one field for each device of a list, and one for another.
func (b formBuilder) list(title string, role job.Role, path string, models []string) []planField {
	var fields []planField
	for i, m := range append(models, "") {
		name := title
		if i > 0 {
			name = "One more " + strings.ToLower(title)
		}
		fields = append(fields, b.device(name, role, fmt.Sprintf("%s.%d.model", path, i+1), m, "none"))
	}
	return fields
}

// device is a field that chooses a device for a part, with none at the top where there may be none.
func (b formBuilder) device(title string, role job.Role, path, value, none string) planField {
	return planField{Title: title, Path: path, Value: value, Options: b.models(role, none), Role: role}
}

// models are those that can play a part, with none at the top where there may be none.
func (b formBuilder) models(role job.Role, none string) []option {
	var all []option
	if none != "" {
		all = append(all, option{"", none})
	}
	for _, id := range b.job.Fitting(role) {
		all = append(all, option{id, b.job.ModelTitle(id)})
	}
	return all
}

func models[T any](all []T, of func(T) string) []string {
	var ids []string
	for _, x := range all {
		ids = append(ids, of(x))
	}
	return ids
}

func yesNo(b *bool) string {
	switch {
	case b == nil:
		return ""
	case *b:
		return "yes"
	}
	return "no"
}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

// numbers are those of a list, with commas between.
func numbers(all []int) string {
	var texts []string
	for _, n := range all {
		texts = append(texts, strconv.Itoa(n))
	}
	return strings.Join(texts, ", ")
}

// length and mounted are a length in the measures of the job; nothing for none.
func (b formBuilder) length(v unit.Metre) string {
	if v == 0 {
		return ""
	}
	return b.job.Measures.Length(v)
}

func (b formBuilder) mounted(v unit.Metre) string {
	if v == 0 {
		return ""
	}
	return b.job.Measures.Mounted(v)
}

func quantity[T interface {
	~float64
	fmt.Stringer
}](v T) string {
	if v == 0 {
		return ""
	}
	return v.String()
}

// filledIn writes what a form says of one object into a tree: only fields that differ from what the form was filled with.
func filledIn(tree *document.Tree, form []planGroup, object []string, said url.Values) error {
	for _, g := range form {
		// From the end, so that a device taken out of a list does not move the ones before it.
		for _, f := range slices.Backward(g.Fields) {
			v := strings.TrimSpace(said.Get(f.Path))
			if !said.Has(f.Path) || v == f.Value {
				continue
			}
			if err := job.Put(tree, slices.Concat(object, strings.Split(f.Path, ".")), v); err != nil {
				return fmt.Errorf("%s: %w", f.Title, err)
			}
		}
	}
	return nil
}
