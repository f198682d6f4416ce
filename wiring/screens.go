package wiring

import (
	"fmt"

	"doorwright/cable"
	"doorwright/device"
	"doorwright/job"
)

// screens ties the screen of every run in use to earth at one end: at the unit on which its cores land, the controller
// before others. A run that ends at no earth, such as one from reader to reader, has its screen joined to that of the
// run it meets, so that the whole line is screened and earthed once.
func (p *planner) screens() {
	lands := p.landings()
	earths := p.earths()
	var loose []*job.Run
	free := map[*job.Place][]*Conductor{} // screens by the place of their free end
	for _, run := range p.plan.Job.Runs {
		if len(lands[run]) == 0 || len(run.Type.Screens()) == 0 {
			continue
		}
		earth, ok := bestEarth(run, earths, lands[run])
		if !ok {
			loose = append(loose, run)
			continue
		}
		for _, s := range run.Type.Screens() {
			c := p.screen(run, s, earth)
			far := across(run, earth.Device.Place)
			free[far] = append(free[far], c)
		}
	}
	for len(loose) > 0 {
		left := p.tieOn(loose, free)
		if len(left) == len(loose) {
			break
		}
		loose = left
	}
	for _, run := range loose {
		p.problem(run.ID, fmt.Sprintf("no unit with an earth terminal is at %s or %s, nor does a screened run meet it there",
			run.From.ID, run.To.ID), "end the run at a unit with an earth terminal, for its screen")
	}
}

// landings are the devices on which the cores of each run land.
func (p *planner) landings() map[*job.Run]map[*Device]bool {
	lands := map[*job.Run]map[*Device]bool{}
	for _, c := range p.plan.Conductors {
		if c.Kind != Core {
			continue
		}
		if lands[c.Run] == nil {
			lands[c.Run] = map[*Device]bool{}
		}
		lands[c.Run][c.A.Device], lands[c.Run][c.B.Device] = true, true
	}
	return lands
}

// earths are the earth terminals at each place.
func (p *planner) earths() map[*job.Place][]End {
	all := map[*job.Place][]End{}
	for _, d := range p.plan.Devices {
		if ports := d.Model.PortsOf(device.Earth); len(ports) > 0 {
			all[d.Place] = append(all[d.Place], pinOf(d, ports[0], "earth"))
		}
	}
	return all
}

// bestEarth chooses the earth terminal for the screen of a run.
func bestEarth(run *job.Run, earths map[*job.Place][]End, lands map[*Device]bool) (found End, ok bool) {
	least := 0
	for _, at := range []*job.Place{run.From, run.To} {
		for _, e := range earths[at] {
			rank := 0
			if !lands[e.Device] {
				rank += 2
			}
			if e.Device.Role != job.RoleController {
				rank++
			}
			if !ok || rank < least {
				found, least, ok = e, rank, true
			}
		}
	}
	return found, ok
}

func screenID(run *job.Run, s cable.Screen) string { return run.ID + "/" + s.Label }

func (p *planner) screen(run *job.Run, s cable.Screen, at End) *Conductor {
	why := whyScreen
	why.Purpose = s.Label
	c := &Conductor{
		ID: screenID(run, s), Kind: Screen, A: at, Run: run, Door: at.Device.Door, Use: Signal, Reason: why,
	}
	p.plan.Conductors = append(p.plan.Conductors, c)
	return c
}

// tieOn joins the screens of runs that end at no earth to those that they meet, and gives the runs still left.
func (p *planner) tieOn(loose []*job.Run, free map[*job.Place][]*Conductor) (left []*job.Run) {
	for _, run := range loose {
		at := run.From
		if len(free[at]) == 0 {
			at = run.To
		}
		if len(free[at]) == 0 {
			left = append(left, run)
			continue
		}
		from := free[at][0]
		why := whyScreen
		why.Why = whyThrough
		screens := run.Type.Screens()
		j := p.addAt(at, from.Door, junction(at.ID+"."+run.ID+".screen", len(screens)+1, why))
		from.B = way(j, 1)
		free[at] = free[at][1:]
		for i, s := range screens {
			c := p.screen(run, s, way(j, i+2))
			far := across(run, at)
			free[far] = append(free[far], c)
		}
	}
	return left
}
