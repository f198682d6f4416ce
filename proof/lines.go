package proof

import (
	"fmt"

	"doorwright/cable"
	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
	"doorwright/wiring"
)

// dataLines is the data lines of a plan, looked up by what they are judged by.
type dataLines struct {
	plan    *wiring.Plan
	at      map[*wiring.Device][]*wiring.Conductor // that carry data and end at a device
	leaving map[string][]*job.Run                  // runs from building to building, by the door they serve
	last    map[*job.Controller]*job.Reader        // the bus reader farthest along the line of a controller
}

func newDataLines(plan *wiring.Plan) *dataLines {
	l := &dataLines{
		plan: plan, at: map[*wiring.Device][]*wiring.Conductor{}, leaving: map[string][]*job.Run{},
		last: map[*job.Controller]*job.Reader{},
	}
	for _, c := range plan.Conductors {
		if c.Kind == wiring.Core && c.Run.From.Building != c.Run.To.Building {
			l.leaving[c.Door] = append(l.leaving[c.Door], c.Run)
		}
		if c.Use == wiring.Data && c.B.Device != nil {
			l.at[c.A.Device] = append(l.at[c.A.Device], c)
			l.at[c.B.Device] = append(l.at[c.B.Device], c)
		}
	}
	for _, d := range plan.Job.Doors { // lines go from door to door as written
		for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
			if r != nil && len(r.Model.PortsOf(device.Bus)) > 0 {
				l.last[d.Controller] = r
			}
		}
	}
	return l
}

// judge judges the data lines of a door: their length, their ends, and what runs between buildings.
func (l *dataLines) judge(book *ledger, d *job.Door) {
	for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
		if r != nil {
			l.length(book, d, r)
			l.end(book, d, r)
		}
	}
	for _, run := range l.leaving[d.ID] {
		// One finding for a run: the ledger keeps one entry for each requirement and place.
		yes(book, d, reqBuildings, run.ID, false, fmt.Sprintf("run %s goes from building %s to building %s: fit surge protection at both ends, and isolate where supplies meet",
			run.ID, run.From.Building, run.To.Building))
	}
}

// length holds the length of a reader's data line against what its kind of line may have.
func (l *dataLines) length(book *ledger, d *job.Door, r *job.Reader) {
	length, limit, ok := l.limitOf(r)
	if !ok {
		return
	}
	book.note(entry{
		door: d.ID, req: reqLine, where: r.ID, figure: float64(length), limit: float64(limit.Length),
		margin: float64(limit.Length - length), unit: "m", what: fmt.Sprintf("the data line of %s is too long (%s)", r.ID, limit.Source), subject: Subject{Device: r.ID},
	})
}

// end judges whether a bus reader terminates the line exactly when it is at the end of it. The controller is the
// other end.
func (l *dataLines) end(book *ledger, d *job.Door, r *job.Reader) {
	if len(r.Model.PortsOf(device.Bus)) == 0 {
		return
	}
	dev := l.plan.Device(r.ID)
	on := dev.Settings.Terminator || l.plan.Device(r.ID+".terminator") != nil
	last := l.last[d.Controller] == r
	what := r.ID + " is the end of its line, but its terminator is off"
	if on {
		what = r.ID + " is not the end of its line, but its terminator is on"
	}
	yes(book, d, reqEnds, r.ID, on == last, what)
}

// limitOf is the length of the data line that ends at a reader and the limit for its kind.
func (l *dataLines) limitOf(r *job.Reader) (unit.Metre, cable.Limit, bool) {
	length, capacitance := l.path(l.plan.Device(r.ID))
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

// path follows a data conductor from a reader to where it ends and adds up the runs on the way. Along a bus it goes
// on to the far end, over the other readers.
func (l *dataLines) path(from *wiring.Device) (unit.Metre, cable.FaradPerMetre) {
	length, worst := unit.Metre(0), cable.FaradPerMetre(0)
	seen := map[*job.Run]bool{}
	done := map[*wiring.Device]bool{from: true}
	for todo := []*wiring.Device{from}; len(todo) > 0; todo = todo[1:] {
		for _, c := range l.at[todo[0]] {
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
