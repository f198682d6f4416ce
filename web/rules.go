package web

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/proof"
	"doorwright/rules"
)

// rulesView is how every rule stands at the doors of a job, and what was assumed.
type rulesView struct {
	Lead, Says string
	Groups     []tableGroup
}

type tableGroup struct {
	group
	Tables []*tableView
}

// Open are the groups that are not folded away.
func (v rulesView) Open() []tableGroup {
	return slices.DeleteFunc(slices.Clone(v.Groups), func(g tableGroup) bool { return !g.group.Open })
}

// rules shows what is broken, what a person must judge and what was assumed that bears on life; then, folded away, all that
// stands of each door. Of many doors only the one is told that is asked for.
func (h *handler) rules(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	v := rulesView{Lead: rules.Caution}
	many, shown := len(at.desk.exam.Doors) > mostRead, ""
	if many {
		shown = r.URL.Query().Get("door")
	}
	open := []*tableView{at.brokenRules(), at.rulesToJudge(), at.assumed("life", "Assumed, and bears on life", func(a job.Assumption) bool { return a.Life })}
	for _, t := range open {
		if len(t.Rows) > 0 {
			v.Groups = append(v.Groups, tableGroup{group{t.ID, t.Title, fmt.Sprint(len(t.Rows)), true}, []*tableView{t}})
		}
	}
	if len(open[0].Rows) == 0 {
		v.Says = "No rule that is calculated is broken, under what is assumed."
	}
	if many {
		t := at.ruleCounts()
		v.Groups = append(v.Groups, tableGroup{group{t.ID, t.Title, fmt.Sprint(len(t.Rows)), true}, []*tableView{t}})
	}
	for i := range at.desk.exam.Doors {
		if d := &at.desk.exam.Doors[i]; !many || shown == d.Door.ID {
			v.Groups = append(v.Groups, at.rulesOf(d, shown != ""))
		}
	}
	all := at.assumed("assumed", "Everything that was assumed, because nobody has said otherwise", func(job.Assumption) bool { return true })
	files := []*tableView{all}
	for _, g := range v.Groups {
		files = append(files, g.Tables...)
	}
	if h.filed(w, r, at, files...) {
		return
	}
	last := all
	if !many { // those of the doors stand with each of them
		last = at.assumed(all.ID, "Assumed of the job as a whole", func(a job.Assumption) bool { return !strings.HasPrefix(a.Where, "doors.") })
		last.CSV, last.Says = all.CSV, "The file has those of the doors as well."
	}
	v.Groups = append(v.Groups, tableGroup{group{last.ID, last.Title, fmt.Sprint(len(last.Rows)), false}, []*tableView{last}})
	last.shorten()
	h.show(w, r, rulesPage(h.jobSheet(r, at, "Rules and assumptions", "Rules and assumptions"), v))
}

// brokenRules are the rules that do not hold, door by door.
func (at *atJob) brokenRules() *tableView {
	t := &tableView{ID: "broken", Title: "Broken", Head: []string{"door", "rule", "says", "stands"}}
	for _, d := range at.desk.exam.Doors {
		for _, s := range d.Rules {
			if s.Standing == proof.Broken {
				t.Rows = append(t.Rows, []cell{{Text: d.Door.Title, URL: at.home + "/d/" + d.Door.ID}, {Text: s.Rule.ID, Figure: true}, {Text: s.Rule.Says}, standingCell(s.Standing)})
			}
		}
	}
	return t
}

// rulesToJudge are the rules that only a person can judge, each once with the doors it is to be judged at.
func (at *atJob) rulesToJudge() *tableView {
	type point struct{ rule, look string }
	t := &tableView{ID: "judge", Title: "For a person to judge", Head: []string{"rule", "says", "look at", "at"}}
	doors := map[point][]string{}
	var says []cell
	var order []point
	for _, d := range at.desk.exam.Doors {
		for _, s := range d.Rules {
			if s.Standing != proof.NotJudged {
				continue
			}
			p := point{s.Rule.ID, s.LookAt}
			if doors[p] == nil {
				order, says = append(order, p), append(says, cell{Text: s.Rule.Says})
			}
			doors[p] = append(doors[p], d.Door.Title)
		}
	}
	for i, p := range order {
		where := strings.Join(doors[p], ", ")
		if n := len(doors[p]); n == len(at.desk.exam.Doors) {
			where = "every door"
		}
		t.Rows = append(t.Rows, []cell{{Text: p.rule, Figure: true}, says[i], {Text: p.look}, {Text: where}})
	}
	slices.SortStableFunc(t.Rows, func(a, b []cell) int { return cmp.Compare(a[0].Text, b[0].Text) })
	return t
}

// rulesOf is how every rule stands at a door, and what was assumed of it.
func (at *atJob) rulesOf(d *proof.DoorResult, open bool) tableGroup {
	t := &tableView{ID: "door-" + d.Door.ID, Title: "Rules at " + d.Door.Title, Says: "Judged by: " + d.Family.Title, Head: []string{"rule", "says", "stands", "look at"}}
	by := map[proof.Standing]int{}
	for _, s := range d.Rules {
		by[s.Standing]++
		t.Rows = append(t.Rows, []cell{{Text: s.Rule.ID, Figure: true}, {Text: s.Rule.Says}, standingCell(s.Standing), {Text: s.LookAt}})
	}
	assumed := at.assumed("assumed-"+d.Door.ID, "Assumed at "+d.Door.Title, func(a job.Assumption) bool { return strings.HasPrefix(a.Where, "doors."+d.Door.ID+".") })
	says := counted(by[proof.HeldRule], "rule held", "rules held") + ", " + counted(len(assumed.Rows), "assumption", "assumptions")
	if n := by[proof.Broken]; n > 0 {
		says = fmt.Sprintf("%d broken, ", n) + says
	}
	return tableGroup{group{t.ID, d.Door.Title, says, open}, []*tableView{t, assumed}}
}

// assumed is what was taken because nobody has said otherwise.
func (at *atJob) assumed(id, title string, wanted func(job.Assumption) bool) *tableView {
	t := &tableView{ID: id, Title: title, Head: []string{"where", "what was taken", "bears on life"}}
	for _, a := range at.desk.job.Assumed {
		if !wanted(a) {
			continue
		}
		c := cell{}
		if a.Life {
			c = cell{Text: "yes", Class: "advice"}
		}
		t.Rows = append(t.Rows, []cell{{Text: a.Where}, {Text: a.Text}, c})
	}
	slices.SortStableFunc(t.Rows, func(a, b []cell) int { return strings.Compare(b[2].Text, a[2].Text) })
	return t
}

// ruleCounts says of each door how many of its rules stand how, where there are too many doors for a table of each.
func (at *atJob) ruleCounts() *tableView {
	t := &tableView{ID: "doors", Title: "Doors", Head: []string{"door", "judged by", "held", "broken", "for a person to judge"}}
	for _, d := range at.desk.exam.Doors {
		by := map[proof.Standing]int{}
		for _, s := range d.Rules {
			by[s.Standing]++
		}
		row := []cell{{Text: d.Door.Title, URL: at.home + "/rules?door=" + url.QueryEscape(d.Door.ID) + "#door-" + d.Door.ID}, {Text: d.Family.Title}}
		for _, s := range []proof.Standing{proof.HeldRule, proof.Broken, proof.NotJudged} {
			c := cell{Text: fmt.Sprint(by[s]), Figure: true}
			if s == proof.Broken && by[s] > 0 {
				c = cell{Text: fmt.Sprint(by[s]), Class: "error"}
			}
			row = append(row, c)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func standingCell(s proof.Standing) cell {
	c := cell{Text: string(s), Class: "advice"}
	switch s {
	case proof.HeldRule:
		c.Class = "good"
	case proof.Broken:
		c.Class = "error"
	}
	return c
}
