package standby

import (
	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
)

// loadsOf lists what must go on working on the battery of a supply: locks that must hold and are held by power, and
// units with a supply input. Fail-secure locks have no power while locked. A sounder is quiet.
func loadsOf(is *situation.Island, s *job.Supply) []load {
	var all []load
	add := func(f *job.Fitted) {
		if u := is.Unit(f.ID); u != nil && u.Device.Model.Running() != "" {
			all = append(all, load{unit: u})
		}
	}
	if s.Board != nil {
		add(s.Board)
	}
	seen := map[*job.Controller]bool{}
	for _, d := range is.Doors {
		if d.Controller.Feed.Supply == s && !seen[d.Controller] {
			seen[d.Controller] = true
			add(&d.Controller.Fitted)
		}
		all = append(all, holding(is, d, s)...)
		for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
			if r != nil && fedBy(r.Feed, d) == s {
				add(&r.Fitted)
			}
		}
		for _, e := range d.Exits {
			if fedBy(e.Feed, d) == s {
				add(&e.Fitted)
			}
		}
	}
	return all
}

// fedBy is the supply of a device whose own feed may be left to its controller.
func fedBy(f *job.Feed, d *job.Door) *job.Supply {
	if f == nil || f.Controller {
		return d.Controller.Feed.Supply
	}
	return f.Supply
}

// holding lists the locks of a door that power must hold while mains is lost.
func holding(is *situation.Island, d *job.Door, s *job.Supply) []load {
	if situation.LockSupply(d) != s {
		return nil
	}
	var all []load
	for _, l := range d.Locks {
		name, ok := l.Model.FindPort(device.LockCoil, "", 0, "")
		u := is.Unit(l.ID)
		if !ok || u == nil || l.OnBattery != "hold" {
			continue
		}
		if p := l.Model.Port(name); p.Action == device.FailSafe {
			all = append(all, load{unit: u, lock: l, door: d, window: p})
		}
	}
	return all
}
