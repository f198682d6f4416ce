package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"doorwright/find"
	"doorwright/journal"
	"doorwright/meter"
	"doorwright/record"
)

type findView struct {
	At         string // of the page
	Tabs       workTabsView
	Cautions   []string
	Alarms     []string // what comes before any search
	Settle     bool     // nothing is searched until they are settled
	Wrong      string
	Calling    bool // nothing was told yet: what is wrong is asked before anything else
	Calls      []callView
	NoCallURL  string // where the first question is asked although nothing was told
	Next       *nextView
	Groups     []groupView
	Told       []toldView
	Numbers    []string // what card numbers that were read say by themselves
	Sights     []optionGroup
	Conditions []option
}

// callView is what people say of a door, and what is entered as seen when somebody says it.
type callView struct{ Says, Look, In, Answer string }

// toldView is one line of what was read and seen, and where it is taken back.
type toldView struct{ Says, BackURL string }

// takenBack is the reason that is kept with what is taken back beside its line.
const takenBack = "taken back at the door"

type nextView struct {
	Says, Why, URL, Look, In string
	Before, Answers          []string
	Outcomes                 []string
}

type groupView struct {
	Probability, Name, Size, Where, Repair, Others, ID string
	Tests, Against                                     []string
}

// noCall in the address of the page says that nothing was told of what is wrong.
const noCall = "untold"

// mostGroups is how many groups of suspects are shown.
const mostGroups = 5

func (h *handler) find(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	b, err := at.benchOf()
	if err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The door cannot be searched", err.Error())
		return
	}
	defer b.mu.Unlock()
	notes := at.notesOf()
	v := findView{At: at.at + "/find", NoCallURL: at.at + "/find?" + noCall, Tabs: at.workTabs("/find"), Cautions: slices.Concat(at.amiss(), []string{find.FirstPeople}, meter.Cautions()), Wrong: strings.Join(b.tell(notes), "; ")}
	v.Calling = len(notes) == 0 && !r.URL.Query().Has(noCall)
	for _, c := range b.calls {
		v.Calls = append(v.Calls, callView{c.Says, string(c.Seen.What), c.Seen.In.String(), c.Seen.Is})
	}
	for _, n := range notes {
		v.Told = append(v.Told, toldView{n.text, entryURL(at.atJob, n.from)})
	}
	for _, a := range b.finder.Alarms() {
		v.Alarms, v.Settle = append(v.Alarms, a.Says), v.Settle || a.Stop
	}
	groups := b.finder.Suspects()
	if v.Next = at.nextOf(b, groups); v.Next != nil {
		v.Next.Before = slices.DeleteFunc(slices.Clone(v.Next.Before), func(c string) bool { return slices.Contains(v.Cautions, c) })
	}
	for _, g := range groups[:min(len(groups), mostGroups)] {
		v.Groups = append(v.Groups, groupOf(b.finder, g))
	}
	for _, n := range b.finder.Numbers() {
		v.Numbers = append(v.Numbers, numberWords(n))
	}
	v.Sights, v.Conditions = sights(len(notes) == 0), conditions(b.finder)
	h.show(w, r, findPage(h.doorSheet(r, at, "At work"), v))
}

func (at *atDoor) nextOf(b *bench, groups []find.Group) *nextView {
	f, n := b.finder, b.first
	if len(b.told) > 0 {
		n = f.Next(find.Suggested)
	}
	if n == nil {
		return nil
	}
	v := &nextView{Why: n.Why, Before: n.Before}
	if n.Pair != nil {
		v.Says, v.URL = f.Say(*n.Pair), at.readingURL(*n.Pair)
	} else {
		v.Says = find.SayLook(*n.Look)
		v.Look, v.In, v.Answers = string(n.Look.What), n.Look.In.String(), n.Look.What.Answers()
	}
	names := map[string]string{}
	for _, g := range groups {
		for _, s := range g.Suspects {
			names[s.ID] = s.Name
		}
	}
	for _, o := range n.Outcomes {
		var leaves []string
		for _, id := range o.Leaves {
			leaves = append(leaves, names[id])
		}
		v.Outcomes = append(v.Outcomes, fmt.Sprintf("%s (%s): %s", o.Says, percent(o.Probability), strings.Join(leaves, "; ")))
	}
	return v
}

// numberWords say what a card number that was read tells by itself.
func numberWords(n find.NumberRead) string {
	says := n.Received + " in place of " + n.Expected + ": "
	if n.Likeliest == nil {
		return says + "nothing explains it. Show the card again."
	}
	return says + n.Likeliest.What + " " + n.Likeliest.Wire
}

func percent(p float64) string {
	switch {
	case p > 0.99:
		return "over 99 %"
	case p < 0.01:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

func groupOf(f *find.Finder, g find.Group) groupView {
	f.Explain(&g)
	s := g.Suspects[0]
	v := groupView{Probability: percent(g.Probability), Name: s.Name, Where: s.Where, Repair: s.Repair, Tests: s.Tests, Against: g.Against}
	if s.Fault != nil {
		v.ID = s.ID
	}
	if s.Size != "" {
		v.Size = s.Size + ", by what was read"
	}
	if n := len(g.Suspects) - 1; n > 0 {
		var names []string
		for _, o := range g.Suspects[1:min(len(g.Suspects), 4)] {
			names = append(names, o.Name)
		}
		v.Others = fmt.Sprintf("No reading in reach tells it from %s, such as: %s. %s", counted(n, "other", "others"), strings.Join(names, "; "), g.Split)
	}
	return v
}

// sights are what may be told as seen. Where nothing was told yet, that all works comes first: who calls for nothing has tried the
// door, and it spares the looks.
func sights(nothingTold bool) []optionGroup {
	var all []optionGroup
	of := meter.Sights()
	if nothingTold {
		of = append([]meter.Sight{meter.Works}, slices.DeleteFunc(of, func(s meter.Sight) bool { return s == meter.Works })...)
	}
	for _, s := range of {
		g := optionGroup{Title: string(s)}
		for _, a := range s.Answers() {
			g.Options = append(g.Options, option{string(s) + "; " + a, fmt.Sprintf("%s: %s", s, a)})
		}
		all = append(all, g)
	}
	return all
}

func conditions(f *find.Finder) []option {
	var all []option
	for _, s := range f.Book().Stops {
		if !s.In.Dead() {
			all = append(all, option{s.In.String(), s.In.Say()})
		}
	}
	return all
}

// found keeps what was seen, or that a fault was mended.
func (h *handler) found(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	sight, err := record.Sight{What: seenIn(r.PostForm)}, error(nil)
	if id := r.PostForm.Get("mended"); id != "" {
		sight, err = at.mended(id)
	} else {
		_, err = meter.ParseSeen(sight.What)
	}
	if err != nil {
		h.refuse(w, r, http.StatusUnprocessableEntity, "This cannot be told", err.Error())
		return
	}
	sight.Door, sight.Act = at.door.ID, h.act(r)
	seen := journal.Sighted{Job: at.shelf.ID, Sight: sight}
	if h.write(w, r, append(h.stopped(r, at, "/find"), seen)...) {
		http.Redirect(w, r, at.at+"/find", http.StatusSeeOther)
	}
}

// mended is what is written of a suspect that was mended: its name stays readable when the plan is another.
func (at *atDoor) mended(id string) (record.Sight, error) {
	b, err := at.benchOf()
	if err != nil {
		return record.Sight{}, err
	}
	defer b.mu.Unlock()
	b.tell(at.notesOf())
	for _, g := range b.finder.Suspects() {
		for _, s := range g.Suspects {
			if !s.Both && (s.ID == id || strings.HasPrefix(id, s.ID+",")) { // of two at once the first is mended, see fault.Both
				return record.Sight{What: "mended: " + s.Name + " (" + s.Where + ")", Mended: s.ID}, nil
			}
		}
	}
	return record.Sight{}, fmt.Errorf("nothing of that name is suspected at door %s: what was read or the plan has changed since this page was opened", at.door.ID)
}

// seenIn is what a form says was seen: a card number, the answer to a question, or a line of the list.
func seenIn(form url.Values) string {
	if form.Has("received") {
		return fmt.Sprintf("%s; %s; %s expected %s", meter.NumberRead, meter.Card, form.Get("received"), form.Get("expected"))
	}
	look, answer := form.Get("look"), form.Get("answer")
	if answer == "" {
		look, answer, _ = strings.Cut(look, "; ")
	}
	return look + "; " + form.Get("in") + "; " + answer
}
