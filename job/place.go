package job

import (
	"fmt"
	"strings"
)

// doorPlaces are the places every door brings along, by the end of their id.
var doorPlaces = []struct {
	end, title string
	unsecured  bool
}{
	{"box", "ceiling box above", false},
	{"head", "door frame head of", false},
	{"in", "secured side wall beside", false},
	{"out", "unsecured side wall beside", true},
}

// mainBuilding is where a place is when the document names no building.
const mainBuilding = "main"

// allPlaces enters the written places, then those that the doors bring along and nobody wrote about.
func (r *resolver) allPlaces() {
	written := map[string]bool{}
	for _, e := range r.doc.Places {
		path := under("places", e.Key)
		door, end, ofDoor := strings.Cut(e.Key, ".")
		if _, known := r.doc.Doors.Get(door); ofDoor && !known {
			r.unknown(path, door, "door", r.doc.Doors.Keys)
			continue
		}
		p := &Place{ID: e.Key, Title: e.Value.Title, Building: e.Value.Building, Unsecured: e.Value.Side == "unsecured"}
		if ofDoor {
			p.Door = door
			p.Unsecured = p.Unsecured || end == "out" && e.Value.Side == ""
		}
		written[e.Key] = true
		r.enterPlace(p, path)
	}
	for _, e := range r.doc.Doors {
		for _, p := range doorPlaces {
			if id := e.Key + "." + p.end; !written[id] {
				r.enterPlace(&Place{ID: id, Unsecured: p.unsecured, Door: e.Key, Building: r.buildingOf(e.Value)}, under("doors", e.Key))
			}
		}
	}
}

// buildingOf is the building that the places of a door are in: that of its controller, where this is at a place that
// names one. Empty when not.
func (r *resolver) buildingOf(d DoorDoc) string {
	id, _, _ := strings.Cut(d.Controller, "/")
	c, ok := r.doc.Controllers.Get(id)
	if !ok {
		return ""
	}
	if p, ok := r.doc.Places.Get(c.Place); ok {
		return p.Building
	}
	return ""
}

// enterPlace fills in what is left out and makes the place known.
func (r *resolver) enterPlace(p *Place, path string) {
	if p.Title == "" {
		p.Title = r.placeTitle(p)
	}
	if p.Building == "" {
		p.Building = mainBuilding
	}
	r.claim(p.ID, path, "a place")
	r.places[p.ID] = p
	r.joined[p] = p
	r.job.Places = append(r.job.Places, p)
}

func (r *resolver) placeTitle(p *Place) string {
	for _, d := range doorPlaces {
		if door, ok := r.doc.Doors.Get(p.Door); ok && p.ID == p.Door+"."+d.end {
			if door.Title == "" {
				return fmt.Sprintf("%s %s", d.title, p.Door)
			}
			return fmt.Sprintf("%s %s", d.title, door.Title)
		}
	}
	return p.ID
}

// buildings says once that places without a building are taken to be in the main one, where there is any other.
func (r *resolver) buildings() {
	for _, p := range r.job.Places {
		if p.Building != mainBuilding {
			r.assume("places", "building "+mainBuilding+" where none is named")
			return
		}
	}
}

// placeNamed looks up a place that must be named; nil after a problem.
func (r *resolver) placeNamed(path, id, why string) *Place {
	if !r.required(path, id, why) {
		return nil
	}
	p := r.places[id]
	if p == nil && !r.lost("places", len(r.doc.Places)) && !r.lost("doors", len(r.doc.Doors)) {
		r.unknown(path, id, "place", r.placeIDs, "; a further one is written under places")
	}
	return p
}

// placeIDs lists the named places, then those of the doors.
func (r *resolver) placeIDs() []string {
	var ids []string
	for _, p := range r.job.Places {
		ids = append(ids, p.ID)
	}
	return ids
}

// doorPlace is a place that the door brings along.
func (r *resolver) doorPlace(door, end string) *Place { return r.places[door+"."+end] }

// near finds where a device is: as stated, else at its usual place.
func (r *resolver) near(path, stated string, usual *Place) *Place {
	if stated != "" || usual == nil {
		return r.placeNamed(path, stated, "the place it is mounted at")
	}
	r.assume(path, usual.ID+", "+usual.Title)
	return usual
}

// surroundings checks the temperatures that cables and devices meet.
func (r *resolver) surroundings() {
	const path = "temperature"
	r.job.Temperature = r.doc.Temperature
	switch b := r.doc.Temperature; {
	case b.IsZero() && !r.stated(path):
		r.job.Temperature = usualTemperature
		r.assume(path, usualTemperature.String())
	case b.IsZero():
		r.problem(path, b.String(), "cannot be told from no range; write a wider one, such as \"-1 C to 1 C\"")
	case !(b.Low <= b.High):
		r.problem(path, b.String(), "starts above its end; write the lower figure first")
	case b.Low < possibleTemperature.Low || b.High > possibleTemperature.High:
		r.problem(path, b.String(), "has a figure outside "+possibleTemperature.String()+"; check the figures and the unit")
	}
}
