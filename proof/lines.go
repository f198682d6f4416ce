package proof

import (
	"fmt"

	"doorwright/cable"
	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
	"doorwright/wiring"
)

// lines judges the data lines of a door: their length, their ends, and what runs between buildings.
func lines(book *ledger, plan *wiring.Plan, d *job.Door) {
	for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
		if r != nil {
			lineLength(book, plan, d, r)
			lineEnd(book, plan, d, r)
		}
	}
	for _, c := range plan.Conductors {
		if c.Door == d.ID && c.Kind == wiring.Core && c.Run.From.Building != c.Run.To.Building {
			// One finding for a run: the ledger keeps one entry for each requirement and place.
			yes(book, d, reqBuildings, c.Run.ID, false, fmt.Sprintf("run %s goes from building %s to building %s: fit surge protection at both ends, and isolate where supplies meet",
				c.Run.ID, c.Run.From.Building, c.Run.To.Building))
		}
	}
}

// lineLength holds the length of a reader's data line against what its kind of line may have.
func lineLength(book *ledger, plan *wiring.Plan, d *job.Door, r *job.Reader) {
	length, limit, ok := lineOf(plan, r)
	if !ok {
		return
	}
	book.note(entry{
		door: d.ID, req: reqLine, where: r.ID, figure: float64(length), limit: float64(limit.Length),
		margin: float64(limit.Length - length), unit: "m", what: fmt.Sprintf("the data line of %s is too long (%s)", r.ID, limit.Source), subject: Subject{Device: r.ID},
	})
}

// lineEnd judges whether a bus reader terminates the line exactly when it is at the end of it. The controller is the
// other end.
func lineEnd(book *ledger, plan *wiring.Plan, d *job.Door, r *job.Reader) {
	if len(r.Model.PortsOf(device.Bus)) == 0 {
		return
	}
	dev := plan.Device(r.ID)
	on := dev.Settings.Terminator || plan.Device(r.ID+".terminator") != nil
	last := lastOnLine(plan.Job, d.Controller) == r
	what := r.ID + " is the end of its line, but its terminator is off"
	if on {
		what = r.ID + " is not the end of its line, but its terminator is on"
	}
	yes(book, d, reqEnds, r.ID, on == last, what)
}

// lastOnLine is the bus reader farthest along the line of a controller: lines go from door to door as written.
func lastOnLine(j *job.Job, c *job.Controller) *job.Reader {
	var last *job.Reader
	for _, d := range j.Doors {
		for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
			if d.Controller == c && r != nil && len(r.Model.PortsOf(device.Bus)) > 0 {
				last = r
			}
		}
	}
	return last
}

// lineOf is the length of the data line that ends at a reader and the limit for its kind.
func lineOf(plan *wiring.Plan, r *job.Reader) (unit.Metre, cable.Limit, bool) {
	dev := plan.Device(r.ID)
	length, capacitance := dataPath(plan, dev)
	switch {
	case len(r.Model.PortsOf(device.PulseOut)) > 0:
		return length, cable.PulseLimit(), true
	case len(r.Model.PortsOf(device.Bus)) > 0:
		return length, cable.RS485Limit(speedOf(r)), true
	case len(r.Model.PortsOf(device.SerialPort)) > 0:
		return length, cable.RS232Limit(capacitance), true
	}
	return 0, cable.Limit{}, false
}

// speedOf is the speed a reader is set to, 9600 baud when the job does not say (the usual first setting).
func speedOf(r *job.Reader) unit.Baud {
	if r.Settings.Speed > 0 {
		return r.Settings.Speed
	}
	return 9600
}

// ordinaryCapacitance is that of a data pair when its cable type does not say: 100 pF/m (common practice).
const ordinaryCapacitance cable.FaradPerMetre = 100e-12

// dataPath follows a data conductor from a reader to where it ends and adds up the runs on the way. Along a bus it goes
// on to the far end, over the other readers.
func dataPath(plan *wiring.Plan, from *wiring.Device) (unit.Metre, cable.FaradPerMetre) {
	length, worst := unit.Metre(0), cable.FaradPerMetre(0)
	seen := map[*job.Run]bool{}
	done := map[*wiring.Device]bool{from: true}
	for todo := []*wiring.Device{from}; len(todo) > 0; todo = todo[1:] {
		for _, c := range plan.Conductors {
			if c.Use != wiring.Data || c.B.Device == nil || c.A.Device != todo[0] && c.B.Device != todo[0] {
				continue
			}
			if c.Kind == wiring.Core && !seen[c.Run] {
				seen[c.Run] = true
				length += c.Run.Length()
				worst = max(worst, capacitanceOf(c.Run))
			}
			for _, next := range []*wiring.Device{c.A.Device, c.B.Device} {
				if !done[next] {
					done[next] = true
					if next.Model.Kind != "controller" {
						todo = append(todo, next)
					}
				}
			}
		}
	}
	return length, worst
}

func capacitanceOf(r *job.Run) cable.FaradPerMetre {
	if r.Type.Capacitance > 0 {
		return r.Type.Capacitance
	}
	return ordinaryCapacitance
}
