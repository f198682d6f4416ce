package web

import (
	"net/http"

	"doorwright/job"
	"doorwright/proof"
	"doorwright/wiring"
)

// nearView is what a change at a door does there, while the form is still being filled in.
type nearView struct {
	Wrong, Says string
	Cured       []string
	Worse       []cell
}

// planLook answers while a door's form is being filled in.
func (h *handler) planLook(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	h.show(w, r, nearLooked(at.near(r)))
}

func (at *atDoor) near(r *http.Request) nearView {
	text, err := at.changed(r)
	if err != nil {
		return nearView{Wrong: err.Error()}
	}
	j, problems := job.Read(at.shelf.ID, text)
	if j == nil {
		return nearView{Wrong: problems.Unplaced().Error()}
	}
	door := doorOf(j, at.door.ID)
	if door == nil {
		return nearView{Wrong: "The door is no longer there: its id is permanent."}
	}
	var v nearView
	v.Cured, v.Worse = different(at.desk.near(at.door), proof.Near(wiring.Make(j), door))
	v.Says = counted(len(v.Cured), "finding", "findings") + " cured, " + counted(len(v.Worse), "finding", "findings") + " made worse"
	if len(v.Cured)+len(v.Worse) == 0 {
		v.Says = "No finding goes and none comes"
	}
	v.Says += ", by what happens at this door and everywhere at once."
	return v
}

// near is the first look at a door as it is.
func (d *desk) near(door *job.Door) []proof.Finding {
	d.mu.Lock()
	defer d.mu.Unlock()
	all, ok := d.nears[door.ID]
	if !ok {
		all = proof.Near(d.plan, door)
		d.nears[door.ID] = all
	}
	return all
}
