package situation

import (
	"slices"
	"strings"

	"doorwright/device"
	"doorwright/fault"
)

// IslandOf is the island a fault is in. A fault that joins several islands gives one that is all of them together; it is
// made anew each time. Nil when the fault is about nothing here.
func (s *Site) IslandOf(f *fault.Fault) *Island {
	in := s.IslandsOf(f)
	switch len(in) {
	case 0:
		return nil
	case 1:
		return in[0]
	}
	return s.joined(in)
}

// IslandsOf are the islands that a fault is about, each once.
func (s *Site) IslandsOf(f *fault.Fault) []*Island {
	var in []*Island
	enter := func(is *Island) {
		if is != nil && !slices.Contains(in, is) {
			in = append(in, is)
		}
	}
	for i := range f.Edits {
		e := &f.Edits[i]
		if e.Conductor != nil {
			enter(s.of[e.Conductor.A.Device.ID])
		}
		if e.Device != nil {
			enter(s.of[e.Device.ID])
		}
		for _, name := range []string{e.A, e.B} {
			if name != device.Ground {
				enter(s.withNode(name))
			}
		}
	}
	return in
}

// withNode is the island that has a node, which is named after its device.
func (s *Site) withNode(name string) *Island {
	for end := len(name); end > 0; end = strings.LastIndexByte(name[:end], '.') {
		if is := s.of[name[:end]]; is != nil {
			return is
		}
	}
	return nil
}

// joined makes one island of several.
func (s *Site) joined(in []*Island) *Island {
	all := &Island{byID: map[string]*Unit{}, plan: s.Plan}
	has := func(id string) bool { return slices.Contains(in, s.of[id]) }
	for _, d := range s.Plan.Devices {
		if has(d.ID) {
			all.enter(d)
		}
	}
	for _, c := range s.Plan.Conductors {
		if c.B.Device != nil && has(c.A.Device.ID) {
			all.Conductors = append(all.Conductors, c)
		}
	}
	for _, d := range s.Plan.Job.Doors {
		if has(d.Controller.ID) {
			all.Doors = append(all.Doors, d)
		}
	}
	for _, ps := range s.Plan.Job.Supplies {
		if has(ps.ID) {
			all.Supplies = append(all.Supplies, ps)
		}
	}
	return all
}
