package proof

import (
	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
)

// leastItem is the current below which a consumer is not worth a line.
const leastItem unit.Ampere = 0.5e-3

// items lists what hangs on a supply at idle, consumer by consumer. The bench stands at idle.
func (w *watch) items(s *job.Supply) []LoadItem {
	var all []LoadItem
	for _, p := range w.is.Probes(device.Load, device.LockCoil, device.Coil) {
		if w.supplies[p.Unit.Device.ID] != s {
			continue
		}
		if amps := w.bench.Amps(&p); amps >= leastItem {
			all = append(all, LoadItem{p.Unit.Device.ID, amps})
		}
	}
	return all
}

// supplyByDevice tells for each device of an island which supply its power comes from.
func supplyByDevice(is *situation.Island) map[string]*job.Supply {
	of := map[string]*job.Supply{}
	for _, s := range is.Supplies {
		if s.Board != nil {
			of[s.Board.ID] = s
		}
	}
	for _, d := range is.Doors {
		addSupplies(of, d)
	}
	return of
}

// addSupplies adds the supplies of the devices of a door.
func addSupplies(of map[string]*job.Supply, d *job.Door) {
	of[d.Controller.ID] = d.Controller.Feed.Supply
	for _, f := range d.Fitted() {
		of[f.ID] = d.Controller.Feed.Supply
	}
	for _, l := range d.Locks {
		of[l.ID] = situation.LockSupply(d)
	}
	for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
		if r != nil && r.Feed != nil && r.Feed.Supply != nil {
			of[r.ID] = r.Feed.Supply
		}
	}
	for _, e := range d.Exits {
		if e.Feed != nil && e.Feed.Supply != nil {
			of[e.ID] = e.Feed.Supply
		}
	}
}

// suppliesOf lists the supplies of a door.
func suppliesOf(d *job.Door) []*job.Supply {
	all := []*job.Supply{}
	if s := situation.LockSupply(d); s != nil {
		all = append(all, s)
	}
	return append(all, d.Controller.Feed.Supply)
}
