package mend

import (
	"fmt"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// boardForDoors gives the supply of a door a distribution board, with an output for each controller and what hangs on
// it. Outputs with fuses and outputs that limit are tried alike.
func boardForDoors(c *context) []*candidate {
	s := c.feedingSupply()
	if s == nil || s.Board != nil {
		return nil
	}
	feeds := c.feedsOf(s)
	volts := sourceOf(s.Model).Nominal
	var all []*candidate
	for _, id := range c.models(func(m *device.Model) bool { return isBoard(m, volts) && outputsOf(m) >= len(feeds) }) {
		edits := []edit{{"supplies." + s.ID + ".board", id, func(doc *job.Document) {
			if d, ok := doc.Supplies.Get(s.ID); ok {
				d.Board = id
			}
		}}}
		for i, controller := range feeds {
			edits = append(edits, c.feedFrom(s, controller, i+1)...)
		}
		all = append(all, one("fit "+id+" at "+s.ID+", with an output for each door", costSupply, edits...)...)
	}
	return all
}

// freeOutput moves what feeds a door to an output of the board that nothing else uses.
func freeOutput(c *context) []*candidate {
	s := c.feedingSupply()
	if s == nil || s.Board == nil || s.Board.Model == nil {
		return nil
	}
	n := c.unused(s)
	if n == 0 {
		return nil
	}
	return one(fmt.Sprintf("feed the door from output %d of the board of %s, which nothing else uses", n, s.ID), costPart,
		c.feedFrom(s, c.door().Controller, n)...)
}

// unused is the first output of the board of a supply that nothing uses; 0 when there is none.
func (c *context) unused(s *job.Supply) int {
	for n := 1; n <= outputsOf(s.Board.Model); n++ {
		if !c.usesOutput(s, n) {
			return n
		}
	}
	return 0
}

// fusedBoard fits a board of as many outputs with a fuse each in place of the one there is.
func fusedBoard(c *context) []*candidate {
	s := c.feedingSupply()
	if s == nil || s.Board == nil || s.Board.Model == nil {
		return nil
	}
	volts, outputs := sourceOf(s.Model).Nominal, outputsOf(s.Board.Model)
	ids := c.models(func(m *device.Model) bool {
		return isBoard(m, volts) && outputsOf(m) >= outputs && slices.ContainsFunc(m.PortsOf(device.Output), func(name string) bool {
			return m.Port(name).Fused() > 0
		})
	})
	ids = slices.DeleteFunc(ids, func(id string) bool { return id == s.Board.ModelID })
	return c.onSupply(s.ID, "board", ids, "fit %s instead of "+s.Board.ModelID, func(d *job.SupplyDoc, id string) { d.Board = id })
}

func isBoard(m *device.Model, volts unit.Volt) bool {
	return m.Kind == "board" && m.Port(m.Running()) != nil && m.Port(m.Running()).Nominal == volts
}

func outputsOf(m *device.Model) int { return len(m.PortsOf(device.Output)) }

// feedingSupply is the supply that the controller of the finding's door hangs on, nil when it has none.
func (c *context) feedingSupply() *job.Supply {
	if d := c.door(); d != nil && d.Controller != nil {
		return d.Controller.Feed.Supply
	}
	return nil
}

// feedsOf lists the controllers that hang on a supply, or have a door whose lock does.
func (c *context) feedsOf(s *job.Supply) []*job.Controller {
	var all []*job.Controller
	for _, k := range c.job.Controllers {
		uses := k.Feed.Supply == s
		for _, d := range c.job.Doors {
			for _, l := range d.Locks {
				uses = uses || d.Controller == k && l.Feed.Supply == s
			}
		}
		if uses {
			all = append(all, k)
		}
	}
	return all
}

// usesOutput says that something hangs on an output of the board of a supply, or that the fire signal takes it away.
func (c *context) usesOutput(s *job.Supply, n int) bool {
	if n <= len(s.Board.Settings.Outputs) && s.Board.Settings.Outputs[n-1].Releases {
		return true
	}
	on := func(f *job.Feed) bool { return f != nil && f.Supply == s && f.Output == n }
	for _, k := range c.job.Controllers {
		if on(&k.Feed) {
			return true
		}
	}
	for _, d := range c.job.Doors {
		for _, l := range d.Locks {
			if on(&l.Feed) {
				return true
			}
		}
		for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
			if r != nil && on(r.Feed) {
				return true
			}
		}
		for _, e := range d.Exits {
			if on(e.Feed) {
				return true
			}
		}
	}
	return false
}

// feedFrom feeds a controller, and the locks of its doors that hang on the same supply, from one output of its board.
func (c *context) feedFrom(s *job.Supply, k *job.Controller, output int) []edit {
	to := fmt.Sprintf("%s/%d", s.ID, output)
	var edits []edit
	if k.Feed.Supply == s {
		edits = append(edits, edit{"controllers." + k.ID + ".feed", to, func(doc *job.Document) {
			if d, ok := doc.Controllers.Get(k.ID); ok {
				d.Feed = to
			}
		}})
	}
	for _, d := range c.job.Doors {
		for i, l := range d.Locks {
			if d.Controller != k || l.Feed.Supply != s {
				continue
			}
			edits = append(edits, edit{"doors." + d.ID + "." + item("locks", i, "feed"), to, func(doc *job.Document) {
				if x, ok := doc.Doors.Get(d.ID); ok {
					x.Locks[i].Feed = to
				}
			}})
		}
	}
	return edits
}
