package web

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"doorwright/cable"
	"doorwright/journal"
	"doorwright/wiring"
)

// workTabsView are the steps of the work at a door, and what stands in its way.
type workTabsView struct {
	Tabs  []tab
	Stale string
}

func (at *atDoor) workTabs(here string) workTabsView {
	v := workTabsView{Stale: at.staleWords()}
	for _, s := range journal.Stages() {
		v.Tabs = append(v.Tabs, tab{Title: s.Title, URL: at.at + s.Page, Here: s.Page == here})
	}
	return v
}

// staleWords say which ticks of the door no longer count; nothing while all do. Whoever works at the door may soon want to
// know what to measure, so that is made ready meanwhile.
func (at *atDoor) staleWords() string {
	at.readied()
	var gone []string
	for _, t := range at.shelf.stale {
		if t.Door == at.door.ID {
			gone = append(gone, t.Core.Way(at.desk.plan))
		}
	}
	if len(gone) == 0 {
		return ""
	}
	return "The plan has changed since these were landed; their ticks no longer count: " + strings.Join(gone, "; ") + "."
}

// work goes to where the person stopped.
func (h *handler) work(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	page := at.shelf.Stopped[h.who(r)+" "+at.door.ID]
	if page == "" {
		page = journal.Stages()[0].Page
	}
	http.Redirect(w, r, at.at+page, http.StatusSeeOther)
}

// stopped is the entry that remembers where somebody works, when it is elsewhere than before.
func (h *handler) stopped(r *http.Request, at *atDoor, page string) []journal.Body {
	if at.shelf.Stopped[h.who(r)+" "+at.door.ID] == page {
		return nil
	}
	return []journal.Body{journal.Stopped{Job: at.shelf.ID, Door: at.door.ID, Page: page}}
}

type landView struct {
	Tabs     workTabsView
	Cautions []string
	Done     string
	Action   string
	Devices  []landDevice
}

// landDevice is what lands on one unit.
type landDevice struct {
	ID, Anchor, Title, Place string
	Lands                    []landRow
	Done                     int
	Open                     bool // it is unfolded
	Told                     bool // another was just finished, and it is the next
}

// left is how many of its ends are not ticked.
func (d *landDevice) left() int { return len(d.Lands) - d.Done }

type landRow struct {
	Anchor, Core, End, Off   string
	Label, Wire, Swatch, Far string
	For, Why, By, Mark       string
	Prepare                  string // how its end is made ready; empty for what is no core of a cable
	Says, Pressed            string
	Ticked                   bool
}

func (h *handler) land(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	v := landView{Tabs: at.workTabs("/do/land"), Action: at.at + "/do/land", Cautions: []string{
		"Mains, battery and every second supply off and disconnected while cores are landed. Never land on a live terminal.",
	}}
	done, all := 0, 0
	for _, l := range at.desk.landingsOf(at.door.ID) {
		if len(v.Devices) == 0 || v.Devices[len(v.Devices)-1].ID != l.Device.ID {
			v.Devices = append(v.Devices, landDevice{
				ID: l.Device.ID, Anchor: "d-" + l.Device.ID, Title: l.Device.ID + ": " + l.Device.Title, Place: l.Device.Place.Title,
			})
		}
		row := h.landRow(at, l)
		d := &v.Devices[len(v.Devices)-1]
		d.Lands = append(d.Lands, row)
		all++
		if row.Ticked {
			d.Done++
			done++
		}
	}
	v.unfold(r.URL.Query().Get("at"))
	v.Done = fmt.Sprintf("%d of %d ends landed and tugged.", done, all)
	h.show(w, r, landPage(h.doorSheet(r, at, "At work"), v))
}

// unfold opens the unit that somebody works at, or the next with something open; without one the first with something open.
// What is done stands last.
func (v *landView) unfold(at string) {
	here := max(0, slices.IndexFunc(v.Devices, func(d landDevice) bool { return d.ID == at }))
	for i := range v.Devices {
		if d := &v.Devices[(here+i)%len(v.Devices)]; d.left() > 0 {
			d.Open, d.Told = true, v.Devices[here].ID == at && i > 0
			break
		}
	}
	slices.SortStableFunc(v.Devices, func(a, b landDevice) int { return cmp.Compare(min(b.left(), 1), min(a.left(), 1)) })
}

func (h *handler) landRow(at *atDoor, l wiring.Landing) landRow {
	c := l.Conductor
	row := landRow{
		Label: l.Terminal.Label, Wire: wireName(c), Far: l.Far.Name(), For: c.Reason.Purpose,
		Why: c.Reason.Why + " " + c.Reason.Without, Prepare: l.Prepare(), Mark: "☐", Pressed: "false", Swatch: swatch(c.Core.Colour),
	}
	core := journal.CoreOf(c)
	row.End = l.Device.ID + "." + l.Terminal.Pin
	row.Core, row.Anchor = core.ID, "e-"+row.End+"-"+core.ID
	if t := at.shelf.TickOf(core, row.End); t != nil {
		row.Ticked, row.Mark, row.Pressed, row.Off = true, "☑", "true", "yes"
		row.By = "landed by " + at.shelf.Record.Name(t.By) + ", " + t.On.String()
	}
	row.Says = fmt.Sprintf("landed: %s on %s %s", row.Wire, l.Device.ID, row.Label)
	return row
}

// swatch is the class of a core's colour, which has a patch of that colour beside it; nothing for what has no colour, or
// more than one, or a word of somebody's own.
func swatch(colour string) string {
	if len(colour) == 2 && cable.ColourName(colour) != colour || colour == "black" || colour == "red" {
		return "c-" + strings.ToLower(colour)
	}
	return ""
}

// tick ticks one end of a core, or takes the tick back.
func (h *handler) tick(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	for _, l := range at.desk.landingsOf(at.door.ID) {
		end := l.Device.ID + "." + l.Terminal.Pin
		if l.Conductor.ID != r.PostForm.Get("core") || end != r.PostForm.Get("end") {
			continue
		}
		tick := journal.Ticked{Job: at.shelf.ID, Door: at.door.ID, Core: journal.CoreOf(l.Conductor), End: end, Off: r.PostForm.Get("off") != "", Act: h.act(r)}
		if h.write(w, r, append(h.stopped(r, at, "/do/land"), tick)...) {
			http.Redirect(w, r, at.at+"/do/land?"+url.Values{"at": {l.Device.ID}}.Encode()+"#"+at.landedAt(tick), http.StatusSeeOther)
		}
		return
	}
	h.refuse(w, r, http.StatusConflict, "The plan has no such core there", "It was changed since this page was opened: look at it again.")
}

// landedAt is where the work goes on after a tick: at the same end, or at the next unit where it was the last of one.
func (at *atDoor) landedAt(t journal.Ticked) string {
	device := ""
	open := map[string]int{} // by unit, without this end
	for _, l := range at.desk.landingsOf(at.door.ID) {
		end := l.Device.ID + "." + l.Terminal.Pin
		if end == t.End && l.Conductor.ID == t.Core.ID {
			device = l.Device.ID
		} else if at.shelf.TickOf(journal.CoreOf(l.Conductor), end) == nil {
			open[l.Device.ID]++
		}
	}
	if !t.Off && open[device] == 0 {
		return nextUnit
	}
	return "e-" + t.End + "-" + t.Core.ID
}

// nextUnit is the anchor of the unit that is unfolded.
const nextUnit = "next"
