package job

import (
	"fmt"
	"strings"

	"doorwright/device"
)

func (r *resolver) allDoors() {
	if len(r.doc.Doors) == 0 {
		r.problem("doors", "", "is missing; at least one door")
	}
	for _, e := range r.doc.Doors {
		path := under("doors", e.Key)
		r.claim(e.Key, path, "a door")
		d := r.door(e.Key, path, &e.Value)
		r.job.Doors = append(r.job.Doors, d)
	}
	r.tellsKnown()
}

func (r *resolver) door(id, path string, w *DoorDoc) *Door {
	d := &Door{ID: id, Title: w.Title, Secured: w.Secured, Opening: w.Opening, RelayContact: w.Settings.Contact}
	r.required(under(path, "title"), w.Title, "what people call the door")
	d.Families, d.FamiliesStated = r.job.Families, r.job.FamiliesStated
	if len(w.Rules) > 0 {
		d.Families, d.FamiliesStated = r.familiesNamed(under(path, "rules"), w.Rules), true
	}
	r.opening(d, path, w)
	r.escape(d, path, w)
	d.Controller, d.Channel = r.controllerNamed(under(path, "controller"), w.Controller)
	r.takeChannel(under(path, "controller"), w.Controller, d)
	d.Supervision = r.scheme(under(path, "supervision"), w.Supervision)
	d.Resistor = usualResistor
	if d.Supervision != device.SchemeNone || w.Resistor != 0 || r.stated(under(path, "resistor")) {
		d.Resistor = figure(r, under(path, "resistor"), w.Resistor, largestEnd, usualResistor)
	}
	r.readers(d, path, w)
	r.locks(d, path, w)
	r.inputs(d, path, w)
	r.told(d, w)
	r.others(d, path, w)
	r.channelSettings(d, path, w)
	r.accepts(d, path, w)
	return d
}

func (r *resolver) opening(d *Door, path string, w *DoorDoc) {
	d.Leaves = w.Leaves
	leaves := under(path, "leaves")
	switch {
	case w.Leaves == 0 && !r.stated(leaves):
		d.Leaves = 1
		r.assume(leaves, "one leaf")
	case w.Leaves < 1 || w.Leaves > 2:
		r.problem(leaves, quote(fmt.Sprint(w.Leaves)), "is not possible; a door has 1 or 2 leaves")
		d.Leaves = 2 // so that leaf numbers are not refused for this
	}
	at := under(path, "opening")
	optional(r, under(at, "width"), w.Opening.Width, largestOpening)
	optional(r, under(at, "height"), w.Opening.Height, largestOpening)
}

// escape reads what bears on life: it has no lenient default.
func (r *resolver) escape(d *Door, path string, w *DoorDoc) {
	d.Escape, d.EscapeStated = Direction(w.Escape), w.Escape != ""
	if !d.EscapeStated {
		d.Escape = EscapeBoth
		r.judge(under(path, "escape"), "not stated, judged as a way out in both directions")
	}
	d.FireRated, d.FireRatedStated = w.FireRated == nil || *w.FireRated, w.FireRated != nil
	if !d.FireRatedStated {
		r.judge(under(path, "fire-rated"), "not stated, judged as a fire door")
	}
}

func (r *resolver) scheme(path, stated string) device.Scheme {
	if stated == "" {
		r.assume(path, "none")
		return device.SchemeNone
	}
	return device.Scheme(stated)
}

func (r *resolver) readers(d *Door, path string, w *DoorDoc) {
	if w.Entry != nil {
		d.Entry = r.reader(d, RoleEntry, under(path, "entry"), *w.Entry, r.doorPlace(d.ID, "out"))
	}
	if w.ExitReader != nil {
		d.ExitReader = r.reader(d, RoleExitReader, under(path, "exit-reader"), *w.ExitReader, r.doorPlace(d.ID, "in"))
	}
}

func (r *resolver) locks(d *Door, path string, w *DoorDoc) {
	path = under(path, "locks")
	if len(w.Locks) == 0 {
		r.problem(path, "", "is missing; at least one lock")
	}
	for i, l := range w.Locks {
		at := item(path, i)
		lock := &Lock{
			Fitted: r.fit(RoleLock, fmt.Sprintf("%s.lock%d", d.ID, i+1), at,
				FittedDoc{Model: l.Model, Title: l.Title, Place: l.Place, Height: l.Height, Beside: l.Beside}, r.doorPlace(d.ID, "head")),
			Feed:        r.lockFeed(under(at, "feed"), l.Feed),
			HandleFrees: l.Handle == "frees", HandleStated: l.Handle != "",
			Suppressor: l.Suppressor, OnBattery: l.OnBattery,
		}
		lock.Leaf = r.leaf(under(at, "leaf"), l.Leaf, d)
		r.handle(lock, under(at, "handle"))
		r.onBattery(lock, under(at, "on-battery"))
		d.Locks = append(d.Locks, lock)
	}
}

// handle settles whether the inside handle frees a lock: it bears on life, so nothing is taken for granted.
func (r *resolver) handle(l *Lock, path string) {
	if !l.HandleStated {
		r.judge(path, "not stated, judged as not freed by the inside handle")
	}
	if l.HandleFrees && l.Model != nil && l.Model.Lock.Inside == device.InsideNever {
		r.problem(path, `"frees"`, fmt.Sprintf(
			"is not possible; by its model %q has no handle that frees it, so write none", l.ModelID))
	}
}

// onBattery settles what a lock must do while mains is lost, from what it does without power.
func (r *resolver) onBattery(l *Lock, path string) {
	if l.OnBattery != "" || l.Model == nil {
		return
	}
	l.OnBattery = "work"
	if p := l.Model.Port(l.Model.PortsOf(device.LockCoil)[0]); p.Action == "fail-safe" {
		l.OnBattery = "hold"
	}
	r.assume(path, l.OnBattery)
}

// inputs enters what the controller reads.
func (r *resolver) inputs(d *Door, path string, w *DoorDoc) {
	for i, e := range w.Exit {
		at := item(under(path, "exit"), i)
		r.meaningless(at, e, RoleExit, "feed", "leaf", "breaks-feed", "height", "beside")
		place := "in"
		if e.Leaf != 0 {
			place = "head" // what is on a leaf is wired over the frame
		}
		x := &Exit{
			Fitted: r.fit(RoleExit, fmt.Sprintf("%s.exit%d", d.ID, i+1), at, e, r.doorPlace(d.ID, place)),
			Feed:   r.feedOr(under(at, "feed"), e.Feed), Breaks: e.Breaks,
		}
		if e.Leaf != 0 {
			x.Leaf = r.leaf(under(at, "leaf"), e.Leaf, d)
		}
		r.breaks(x, under(at, "breaks-feed"))
		d.Exits = append(d.Exits, x)
	}
	r.contacts(d, under(path, "contacts"), w.Contacts)
	for i, e := range w.Releases {
		d.Releases = append(d.Releases, r.release(d, item(under(path, "releases"), i), i, e))
	}
	for i, e := range w.Aux {
		d.Aux = append(d.Aux, r.aux(d, item(under(path, "aux"), i), i, e))
	}
}

// breaks refuses an exit device that has no contact of its own for the lock feed.
func (r *resolver) breaks(x *Exit, path string) {
	if x.Breaks && x.Model != nil && !tells(x.Model, "feed") {
		r.problem(path, "", fmt.Sprintf("%q has no contact for the lock feed; choose a model that has one, such as %s",
			x.ModelID, strings.Join(r.fitting(part{fits: breaksFeed}), ", ")))
	}
}

func breaksFeed(m *device.Model) bool { return tells(m, "exit") && tells(m, "feed") }

// contacts enters the door contacts; one watches one leaf.
func (r *resolver) contacts(d *Door, path string, list []FittedDoc) {
	watched := map[int]int{}
	for i, e := range list {
		at := item(path, i)
		r.meaningless(at, e, RoleContact, "leaf", "height", "beside")
		c := r.fit(RoleContact, fmt.Sprintf("%s.contact%d", d.ID, i+1), at, e, r.doorPlace(d.ID, "head"))
		c.Leaf = r.leaf(under(at, "leaf"), e.Leaf, d)
		if first, twice := watched[c.Leaf]; twice {
			r.problem(under(at, "leaf"), fmt.Sprintf("a second contact on leaf %d", c.Leaf),
				fmt.Sprintf("was named for contact %d before; state the leaf of each, or leave one out", first))
		} else {
			watched[c.Leaf] = i + 1
		}
		d.Contacts = append(d.Contacts, &c)
	}
}

func (r *resolver) release(d *Door, path string, i int, w ReleaseDoc) *Release {
	e := &Release{Unsecured: w.Side == "unsecured", InFeed: w.Into != "input"}
	if w.Side == "" {
		r.assume(under(path, "side"), "secured")
	}
	if w.Into == "" {
		r.assume(under(path, "into"), "feed, its contacts in the lock feed")
	}
	usual := r.doorPlace(d.ID, "in")
	if e.Unsecured {
		usual = r.doorPlace(d.ID, "out")
	}
	e.Fitted = r.fit(RoleRelease, fmt.Sprintf("%s.release%d", d.ID, i+1), path,
		FittedDoc{Model: w.Model, Title: w.Title, Place: w.Place, Height: w.Height, Beside: w.Beside}, usual)
	return e
}

func (r *resolver) aux(d *Door, path string, i int, w AuxDoc) *Aux {
	a := &Aux{
		Fitted: r.fit(RoleAux, fmt.Sprintf("%s.aux%d", d.ID, i+1), path,
			FittedDoc{Model: w.Model, Title: w.Title, Place: w.Place}, r.doorPlace(d.ID, "in")),
		Supervision: d.Supervision, Resistor: d.Resistor,
	}
	if w.Supervision != "" {
		a.Supervision = device.Scheme(w.Supervision)
	}
	optional(r, under(path, "resistor"), w.Resistor, largestEnd)
	if w.Resistor != 0 {
		a.Resistor = w.Resistor
	}
	return a
}

// others enters what a door has one of.
func (r *resolver) others(d *Door, path string, w *DoorDoc) {
	for _, o := range []struct {
		role    Role
		written *FittedDoc
		place   string
		into    **Fitted
		means   []string
	}{
		{RoleFire, w.Fire, "box", &d.Fire, nil},
		{RoleSounder, w.Sounder, "in", &d.Sounder, []string{"height", "beside"}},
		{RoleWatch, w.Watch, "box", &d.Watch, nil},
		{RoleInterpose, w.Interpose, "box", &d.Interpose, nil},
		{RoleLoop, w.Loop, "head", &d.Loop, []string{"leaf"}},
	} {
		if o.written == nil {
			continue
		}
		at := under(path, string(o.role))
		r.meaningless(at, *o.written, o.role, o.means...)
		f := r.fit(o.role, d.ID+"."+string(o.role), at, *o.written, r.doorPlace(d.ID, o.place))
		if o.role == RoleLoop {
			f.Leaf = r.leaf(under(at, "leaf"), o.written.Leaf, d)
		}
		*o.into = &f
	}
}

// Fitted lists every device of the door, in the order in which documents write them.
func (d *Door) Fitted() []*Fitted {
	var all []*Fitted
	add := func(f *Fitted) {
		if f != nil {
			all = append(all, f)
		}
	}
	for _, rd := range []*Reader{d.Entry, d.ExitReader} {
		if rd != nil {
			add(&rd.Fitted)
		}
	}
	for _, l := range d.Locks {
		add(&l.Fitted)
	}
	for _, e := range d.Exits {
		add(&e.Fitted)
	}
	for _, c := range d.Contacts {
		add(c)
	}
	for _, e := range d.Releases {
		add(&e.Fitted)
	}
	for _, f := range []*Fitted{d.Fire, d.Sounder, d.Watch, d.Interpose} {
		add(f)
	}
	for _, a := range d.Aux {
		add(&a.Fitted)
	}
	add(d.Loop)
	return all
}

// accepts enters the faults that are accepted. Whether there are such faults, their proof tells.
func (r *resolver) accepts(d *Door, path string, w *DoorDoc) {
	var ids []string
	for i, a := range w.Accepts {
		at := item(under(path, "accepts"), i)
		r.required(under(at, "fault"), a.Fault, "the id of the fault, as show faults lists it")
		r.required(under(at, "reason"), a.Reason, "why it is accepted, and by whom")
		ids = append(ids, a.Fault)
	}
	twice(r, under(path, "accepts"), ids)
	d.Accepts = w.Accepts
}
