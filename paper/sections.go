package paper

import (
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/record"
)

// This file holds the parts that several papers share.

// reasonList numbers reasons in the order in which they are met, each with what is there for it.
type reasonList struct {
	all      []string
	purposes [][]string
}

// number is the number of a reason.
func (l *reasonList) number(purpose, why, without string) string {
	text := sentence(why) + " Without it: " + lowered(sentence(without))
	i := slices.Index(l.all, text)
	if i < 0 {
		i, l.all, l.purposes = len(l.all), append(l.all, text), append(l.purposes, nil)
	}
	if purpose != "" && !slices.Contains(l.purposes[i], purpose) {
		l.purposes[i] = append(l.purposes[i], purpose)
	}
	return whole(i + 1)
}

// list writes the reasons.
func (l *reasonList) list(f *flow) {
	if len(l.all) == 0 {
		return
	}
	f.sub("For what, why, and what happens without it, by the numbers")
	t := table{plain: true, columns: []column{{right: true}, {}}}
	for i, why := range l.all {
		text := why
		if len(l.purposes[i]) > 0 {
			text = sentence(capital(strings.Join(l.purposes[i], ", "))) + " " + why
		}
		t.add(whole(i+1), text)
	}
	f.columns(t, 2)
}

// settingTable lists what is set on the devices of a door.
func (w *Work) settingTable(f *flow, d *job.Door) {
	t := table{columns: []column{
		{title: "device"},
		{title: "setting"},
		{title: "set", least: 5, boxed: true},
	}}
	feeds := map[string]bool{}
	for _, s := range record.SuppliesOf(d) {
		if s.Board != nil {
			feeds[s.Board.ID] = true
		}
	}
	for _, x := range w.Plan.Devices {
		for _, s := range sameTogether(w.settingsOf(x)) {
			if s.door == d.ID || feeds[x.ID] && s.door == "" {
				t.add(near(d, x.ID), s.what+": "+s.value, "")
			}
		}
	}
	if len(t.rows) == 0 {
		f.say("Nothing is set.")
		return
	}
	f.columns(t, 2)
}

// sameTogether puts outputs that are set alike, one after the other, on one line.
func sameTogether(all []setting) []setting {
	var out []setting
	for _, s := range all {
		n := len(out)
		if n > 0 && s.output > 0 && out[n-1].output > 0 && out[n-1].value == s.value {
			first, _, _ := strings.Cut(strings.TrimPrefix(out[n-1].what, "output "), " ")
			first, _, _ = strings.Cut(first, "–")
			out[n-1].what = "output " + first + "–" + whole(s.output) + " (jumpers)"
			continue
		}
		out = append(out, s)
	}
	return out
}

// testTable lists the tests a door calls for, with their outcome. On a sheet to work from, those that a table of it
// already asks for stand on one line with the others of that table.
func (w *Work) testTable(f *flow, d *job.Door, over bool) {
	t := table{columns: []column{
		{title: "step", most: 12},
		{title: "do → must follow"},
		{title: "outcome; by, on", least: 27, boxed: !over},
		{title: "witness", least: 11, boxed: !over},
	}}
	if !over { // what was written already gives way to what is still to do
		t.columns[2].most, t.columns[3].most = 27, 14
	}
	last := ""
	for _, s := range record.StepsOf(d) {
		name, in := s.ID, tableOf(s.ID)
		if s.Life {
			name += " " + markLife
		}
		words := w.testWords(d.ID, s, over)
		if n := len(t.rows); in != "" && !over && in == last {
			first, _, _ := strings.Cut(t.rows[n-1].cells[0], "–")
			t.rows[n-1].cells[0] = first + "–" + name
			continue
		}
		text := sentence(s.Before+": "+lowered(s.Do)) + " → " + sentence(s.Expect)
		if last = in; in != "" && !over {
			text, words[0] = "As the table of "+in+" asks, all of it.", markPrompt
		}
		t.add(append([]string{name, text}, words...)...)
	}
	f.table(t)
}

// tableOf is the table of a door sheet that asks for all that a step does; empty for none. A step that bears on life
// always has a line of its own.
func tableOf(step string) string {
	switch step {
	case "T05", "T06", "T07", "T08":
		return "first fix"
	case "T15", "T16", "T17":
		return "power-up"
	}
	return ""
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
		witness = "–"
	}
	if t == nil {
		if s.Life && over {
			witness = markTodo + " not witnessed"
		}
		return []string{none, witness}
	}
	reason := t // of a test that failed again without a word, the reason that was given before
	if before := w.Record.Reason(door, s.ID); before != nil {
		reason = before
	}
	outcome := map[string]string{"pass": markDone + " pass", "fail": markFail + " FAIL"}[t.Outcome]
	if outcome == "" {
		outcome = "not applicable"
	}
	notes := []string{reason.Result}
	if over { // a sheet to work from has no room for it
		notes = append(notes, reason.Note)
	}
	if reason != t {
		notes = append(notes, "told by "+reason.By+", "+reason.On.String()+"; again")
	}
	for _, more := range notes {
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
	return []string{outcome + "; " + t.By + ", " + t.On.String(), witness}
}

func (w *Work) takenForGranted(f *flow) {
	f.head("Taken for granted")
	assumptions(f, w.Job.Assumed)
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
