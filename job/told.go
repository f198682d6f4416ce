package job

import (
	"fmt"

	"doorwright/device"
)

// told enters the supply whose board tells the door's controller that one of its fuses has opened.
func (r *resolver) told(d *Door, w *DoorDoc) {
	for _, e := range r.doc.Supplies {
		s := r.supplies[e.Key]
		if e.Value.Tells != d.ID || s == nil || s.Board == nil || s.Board.Model == nil {
			continue
		}
		at := under(under("supplies", e.Key), "tells")
		switch {
		case len(w.Aux) > 0:
			r.problem(at, quote(d.ID), "has other contacts at its auxiliary inputs, which are all set alike; name a door that has none")
		case d.Told != nil:
			r.problem(at, quote(d.ID), fmt.Sprintf("is told of the fuses of %s already; name another door", d.Told.ID))
		case d.Controller != nil && d.Controller.Model != nil && !supervisesAux(d.Controller.Model, d.Channel):
			r.problem(at, quote(d.ID), fmt.Sprintf("is no door for this: %s (%s) has no auxiliary input for it that can be supervised",
				d.Controller.ID, d.Controller.ModelID))
		default:
			s.Tells, d.Told = d, s
		}
	}
}

func supervisesAux(m *device.Model, channel int) bool {
	name, ok := m.FindPort(device.Input, "aux", channel, "")
	return ok && m.Port(name).Supervise
}

// tellsKnown reports supplies that tell a door that is not there.
func (r *resolver) tellsKnown() {
	for _, e := range r.doc.Supplies {
		at, id := under(under("supplies", e.Key), "tells"), e.Value.Tells
		if id == "" {
			continue
		}
		if s := r.supplies[e.Key]; s != nil && s.Board != nil && s.Board.Model != nil && !tells(s.Board.Model, "trouble") {
			r.problem(at, quote(id), fmt.Sprintf("cannot be told of a fuse; the board %q has no fail contact, choose one with fuses", s.Board.ModelID))
		}
		if _, ok := r.doc.Doors.Get(id); !ok && !r.lost("doors", len(r.doc.Doors)) {
			r.unknown(at, id, "door", func() []string {
				var all []string
				for _, d := range r.doc.Doors {
					all = append(all, d.Key)
				}
				return all
			})
		}
	}
}
