package job

import (
	"fmt"
	"strconv"
	"strings"

	"doorwright/device"
)

// feedFromController is how a document names the lock-power output of the door's own controller.
const feedFromController = "controller"

// feedNamed reads "PS1" or "PS1/3". False after a problem, which names other words that would be right as well.
func (r *resolver) feedNamed(path, text string, others ...string) (Feed, bool) {
	id, number, numbered := strings.Cut(text, "/")
	s := r.supplies[id]
	if s == nil {
		if !r.lost("supplies", len(r.doc.Supplies)) {
			r.unknown(path, id, "supply", func() []string { return append(r.doc.Supplies.Keys(), others...) })
		}
		return Feed{}, false
	}
	if !numbered {
		return Feed{Supply: s}, true
	}
	n, err := strconv.Atoi(number)
	switch outputs := boardOutputs(s); {
	case r.doc.boardOf(id) == "":
		r.problem(path, quote(text), "has an output number, but "+id+" has no board; write "+quote(id)+", or add a board")
		return Feed{}, false
	case s.Board.Model == nil && err == nil:
		return Feed{Supply: s, Output: n}, true
	case err != nil || n < 1 || n > outputs:
		r.problem(path, quote(text), fmt.Sprintf(
			"is not possible; the board of %s has outputs 1 to %d, as in %q", id, outputs, id+"/1"))
		return Feed{}, false
	}
	return Feed{Supply: s, Output: n}, true
}

// boardOf is the board model that a supply is written with.
func (d *Document) boardOf(supply string) string {
	if s, ok := d.Supplies.Get(supply); ok {
		return s.Board
	}
	return ""
}

// boardOutputs is the number of outputs of a supply's board; 0 when it has none or its model is not known.
func boardOutputs(s *Supply) int {
	if s.Board == nil || s.Board.Model == nil {
		return 0
	}
	return min(len(s.Board.Model.PortsOf(device.Output)), device.MaxOutputs)
}

// feedOr reads the feed of a device that its controller feeds when nothing else is stated; nil for the controller.
func (r *resolver) feedOr(path, text string) *Feed {
	if text == "" || text == feedFromController {
		return nil
	}
	if f, ok := r.feedNamed(path, text, feedFromController); ok {
		return &f
	}
	return nil
}

// lockFeed reads the feed of a lock.
func (r *resolver) lockFeed(path, text string) Feed {
	if text == "" {
		r.assume(path, "the lock-power output of the controller")
	}
	if f := r.feedOr(path, text); f != nil {
		return *f
	}
	return Feed{Controller: true}
}

// controllerNamed reads "C1" or "C1/2". The channel is 0 after a problem with it.
func (r *resolver) controllerNamed(path, text string) (*Controller, int) {
	if !r.required(path, text, "the controller, such as C1, or C1/2 for its second door") {
		return nil, 0
	}
	id, number, numbered := strings.Cut(text, "/")
	c := r.controllers[id]
	if c == nil {
		if !r.lost("controllers", len(r.doc.Controllers)) {
			r.unknown(path, id, "controller", r.doc.Controllers.Keys)
		}
		return nil, 0
	}
	if c.Model == nil {
		return c, 0
	}
	channels := len(c.Settings.Channels)
	if !numbered {
		if channels > 1 {
			r.assume(path, fmt.Sprintf("%s/1, its first door", id))
		}
		return c, 1
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > channels {
		want := fmt.Sprintf("is not possible; %s (%s) serves doors 1 to %d, as in %q", id, c.ModelID, channels, id+"/1")
		if channels == 1 {
			want = fmt.Sprintf("is not possible; %s (%s) serves one door, so write %q", id, c.ModelID, id)
		}
		r.problem(path, quote(text), want)
		return c, 0
	}
	return c, n
}

// takeChannel reports a channel that serves another door already.
func (r *resolver) takeChannel(path, text string, d *Door) {
	if d.Controller == nil || d.Channel == 0 {
		return
	}
	key := channel{d.Controller, d.Channel}
	first := r.channels[key]
	if first == nil {
		r.channels[key] = d
		return
	}
	want := "is taken by door " + first.ID + "; name another controller"
	for n := range d.Controller.Settings.Channels {
		if r.channels[channel{d.Controller, n + 1}] == nil {
			want += fmt.Sprintf(", or write %q", fmt.Sprintf("%s/%d", d.Controller.ID, n+1))
			break
		}
	}
	r.problem(path, quote(text), want)
}
