package journal

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/mend"
	"doorwright/wiring"
)

// Strays are the things done at what a plan has no more: a door, a device or a terminal that was taken out since, in
// sentences. They stay in the record; nothing in the plan takes them up.
func (s *State) Strays(j *Job, plan *wiring.Plan) []string {
	f := finder{plan: plan}
	for _, x := range j.done.Read {
		f.reading(x.Device, x.Red, x.Black)
	}
	for _, x := range j.done.Fitted {
		f.device("battery", x.Device)
	}
	for _, x := range j.done.Tested {
		f.door("test "+x.Step, x.Door)
	}
	for _, x := range j.done.Seen {
		f.door("what was seen", x.Door)
	}
	for _, x := range j.done.Snags {
		f.door("snag "+x.Key, x.Value.Door)
	}
	for _, x := range j.done.Accepts {
		f.door("acceptance", x.Door)
		f.supply("acceptance", x.Supply)
		f.requirement(x.Finding)
	}
	for _, x := range j.done.Handed {
		f.door("handover", x.Door)
	}
	for _, x := range j.Photos {
		f.door("photo", x.Door)
	}
	for _, x := range j.Asked {
		f.door("question "+x.ID, x.Door)
	}
	return f.gone
}

// finder looks for things in a plan, and keeps what is not there.
type finder struct {
	plan *wiring.Plan
	gone []string
}

func (f *finder) say(what, where, kind string) {
	f.gone = append(f.gone, fmt.Sprintf("%s at %s: the plan has no such %s any more", what, where, kind))
}

func (f *finder) door(what, id string) {
	if id != "" && !slices.ContainsFunc(f.plan.Job.Doors, func(d *job.Door) bool { return d.ID == id }) {
		f.say(what, id, "door")
	}
}

func (f *finder) supply(what, id string) {
	if id != "" && !slices.ContainsFunc(f.plan.Job.Supplies, func(s *job.Supply) bool { return s.ID == id }) {
		f.say(what, id, "supply")
	}
}

func (f *finder) device(what, id string) *wiring.Device {
	d := f.plan.Device(id)
	if d == nil {
		f.say(what, id, "device")
	}
	return d
}

func (f *finder) reading(id, red, black string) {
	if slices.ContainsFunc(f.plan.Job.Runs, func(r *job.Run) bool { return r.ID == id }) {
		return
	}
	d := f.device("reading", id)
	for _, pin := range []string{red, black} {
		if d != nil && pin != "" && !terminal(d, pin) && !slices.ContainsFunc(f.plan.Devices, func(o *wiring.Device) bool {
			far, ok := strings.CutPrefix(pin, o.ID+".") // the black lead may be at another device
			return ok && terminal(o, far)
		}) {
			f.say("reading", id+"."+pin, "terminal")
		}
	}
}

func terminal(d *wiring.Device, pin string) bool {
	return slices.ContainsFunc(d.Model.Strip, func(t device.Terminal) bool { return t.Pin == pin })
}

func (f *finder) requirement(id string) {
	if mend.TitleOf(id) == "" {
		f.say("acceptance", id, "requirement")
	}
}
