package paper

import (
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/record"
	"doorwright/wiring"
)

// This file holds the parts that several papers share.

// reasonList numbers reasons in the order in which they are met.
type reasonList struct{ all []string }

// number is the number of a reason, in brackets.
func (l *reasonList) number(why, without string) string {
	text := sentence(why) + " Without it: " + lowered(sentence(without))
	i := slices.Index(l.all, text)
	if i < 0 {
		i, l.all = len(l.all), append(l.all, text)
	}
	return " (" + whole(i+1) + ")"
}

// table lists the reasons.
func (l *reasonList) table(f *flow) {
	if len(l.all) == 0 {
		return
	}
	f.sub("Reasons, by their numbers in brackets")
	t := table{size: fine, columns: []column{{title: "no.", right: true}, {title: "why it is there, and what happens without it"}}}
	for i, why := range l.all {
		t.add(whole(i+1), why)
	}
	f.table(t)
}

// landingTable lists the terminals of devices with what lands there for a door.
func (w *Work) landingTable(f *flow, devices []*wiring.Device, door string, reasons *reasonList) {
	t := table{size: fine, columns: []column{
		{title: "landed"}, {title: "terminal"}, {title: "wire"}, {title: "to"}, {title: "for (reason)"},
	}}
	for _, d := range devices {
		if d.Added != nil {
			continue // it has a row of its own below
		}
		t.part(d.Place.ID + " · " + deviceName(d))
		for _, l := range w.landings[d.ID] {
			if l.door == door {
				r := l.wire.Reason
				t.add(w.landedWords(l), l.label(), wireName(l.wire), l.to(), r.Purpose+reasons.number(r.Why, r.Without))
			}
		}
	}
	f.table(t)
}

// componentTable lists the links and added components of a door, each with all its ends.
func (w *Work) componentTable(f *flow, door string, reasons *reasonList) {
	t := table{size: fine, columns: []column{
		{title: "landed"}, {title: "place"}, {title: "what (reason)"}, {title: "ends"},
	}}
	for _, c := range w.Plan.Conductors {
		if c.Kind == wiring.Link && c.A.Device != nil && c.Door == door {
			t.add(w.allLanded(c.A.Device, c), c.A.Device.Place.ID, "link"+reasons.number(c.Reason.Why, c.Reason.Without),
				endName(c.A)+" to "+endName(c.B))
		}
	}
	for _, d := range w.devicesOf(door) {
		if d.Added != nil {
			t.add(w.allLanded(d, nil), d.Place.ID, d.ID+": "+d.Model.Title+reasons.number(d.Added.Why, d.Added.Without), w.legsOf(d))
		}
	}
	if len(t.rows) == 0 {
		f.say("None.")
		return
	}
	f.table(t)
}

// allLanded says whether every end at a device was landed, or both of one link when it is given.
func (w *Work) allLanded(d *wiring.Device, link *wiring.Conductor) string {
	words := markTodo
	for _, l := range w.landings[d.ID] {
		if link != nil && l.wire != link {
			continue
		}
		if words = w.landedWords(l); words == markTodo {
			break
		}
	}
	return words
}

// legsOf are all the ends of a component: its terminal, the wire, and where that goes.
func (w *Work) legsOf(d *wiring.Device) string {
	var all []string
	for _, l := range w.landings[d.ID] {
		all = append(all, l.label()+": "+wireName(l.wire)+" to "+l.to())
	}
	return strings.Join(all, "; ")
}

// settingTable lists what is set on the devices of a door.
func (w *Work) settingTable(f *flow, d *job.Door) {
	t := table{size: fine, columns: []column{
		{title: "device"},
		{title: "setting"},
		{title: "value"},
		{title: "set", least: 8, boxed: true},
	}}
	feeds := map[string]bool{}
	for _, s := range record.SuppliesOf(d) {
		if s.Board != nil {
			feeds[s.Board.ID] = true
		}
	}
	for _, x := range w.Plan.Devices {
		for _, s := range w.settingsOf(x) {
			if s.door == d.ID || feeds[x.ID] && s.door == "" {
				t.add(x.ID, s.what, s.value, "")
			}
		}
	}
	if len(t.rows) == 0 {
		f.say("Nothing is set.")
		return
	}
	f.table(t)
}

// testTable lists the tests a door calls for, with their outcome.
func (w *Work) testTable(f *flow, d *job.Door, over bool) {
	t := table{size: fine, columns: []column{
		{title: "step"},
		{title: "do"},
		{title: "must follow"},
		{title: "outcome, result", least: 27, boxed: !over},
		{title: "by, on", least: 11, boxed: !over},
		{title: "witness", least: 13, boxed: !over},
	}}
	for _, s := range record.StepsOf(d) {
		name := s.ID
		if s.Life {
			name += " " + markLife
		}
		t.add(append([]string{name, sentence(s.Before + ": " + lowered(s.Do)), sentence(s.Expect)},
			w.testWords(d.ID, s, over)...)...)
	}
	f.table(t)
}

func (w *Work) testWords(door string, s record.Step, over bool) []string {
	var t *record.Test
	if w.Record != nil {
		t = w.Record.Test(door, s.ID)
	}
	none := markPrompt + s.Evidence
	if over {
		none = markTodo + " not done"
	}
	witness := ""
	if !s.Life {
		witness = "not needed"
	}
	if t == nil {
		if s.Life && over {
			witness = markTodo + " not witnessed"
		}
		return []string{none, "", witness}
	}
	outcome := map[string]string{"pass": markDone + " pass", "fail": markFail + " FAIL"}[t.Outcome]
	if outcome == "" {
		outcome = "not applicable"
	}
	for _, more := range []string{t.Result, t.Note} {
		if more != "" {
			outcome += "; " + more
		}
	}
	switch {
	case t.Witness != "":
		witness = markWitnessed + " " + w.Record.Name(t.Witness)
	case s.Life:
		witness = markTodo + " not witnessed"
	}
	return []string{outcome, t.By + ", " + t.On.String(), witness}
}

// assumptions lists what was taken for granted: what bears on life first.
func assumptions(f *flow, all []job.Assumption) {
	if len(all) == 0 {
		f.say("Nothing: the job states it all.")
		return
	}
	for _, a := range all {
		if a.Life {
			f.item(markLife, a.Where+": "+a.Text)
		}
	}
	t := table{columns: []column{{title: "where"}, {title: "taken as"}}, size: small}
	for _, g := range alike(all) {
		t.add(g.where, g.text)
	}
	f.table(t)
}

// likeness is one assumption, made in one or several places.
type likeness struct {
	where, text string
	places      int
}

// alike puts together the assumptions that say the same of the same key, apart from those that bear on life.
func alike(all []job.Assumption) []likeness {
	var out []likeness
	at := map[string]int{}
	for _, a := range all {
		if a.Life {
			continue
		}
		key := keyOf(a.Where) + "\n" + a.Text
		if i, is := at[key]; is {
			out[i].places++
			out[i].where = keyOf(a.Where) + " (" + whole(out[i].places) + " times)"
			continue
		}
		at[key] = len(out)
		out = append(out, likeness{a.Where, a.Text, 1})
	}
	return out
}

// keyOf is a path with a star in place of each name and number in it: "doors.*.settings.unlock-for".
func keyOf(path string) string {
	parts := strings.Split(path, ".")
	if len(parts) < 3 {
		return path
	}
	for i, part := range parts {
		if i == 1 || strings.Trim(part, "0123456789") == "" {
			parts[i] = "*"
		}
	}
	return strings.Join(parts, ".")
}
