package standby

import (
	"doorwright/circuit"
	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
)

// A battery under a steady load falls nearly in a straight line from full to its end; Peukert's law with such a line
// met a published discharge table of a small valve-regulated battery within 4 % of the time (our own fit, for times of
// an hour and longer).

const (
	// steps is at how many voltages between full and end the network is solved.
	steps = 8
	// halvings narrows down where between two of them a load drops out: to 1.5 mV a cell.
	halvings = 5
	// lossShare: a unit that has lost this share of its battery's current at full has been disconnected (our own figure).
	lossShare = 1e-3
)

// load is one thing on a supply that must go on working on battery: a lock that must hold, or a unit.
type load struct {
	unit   *situation.Unit
	lock   *job.Lock // nil for a unit
	door   *job.Door
	window *device.Port
}

// loss is where in its discharge a battery stops carrying something. Share is the part of the discharge behind it.
type loss struct {
	share float64
	volts unit.Volt // at the battery
	what  string    // empty: nothing was lost
}

// course is one discharge in one limit case: the current at equal steps of the battery's voltage, up to where the
// supply takes the battery off.
type course struct {
	inCase  string
	amps    []unit.Ampere
	end     float64 // share of the discharge at which the battery is taken off; 1 when its own end comes first
	first   loss
	settled bool
}

// trial is one supply on its battery at a bench.
type trial struct {
	bench   *situation.Bench
	supply  *job.Supply
	battery *situation.Unit
	loads   []load
}

// run discharges the battery step by step. The bench stands with mains lost and all batteries full.
func (t *trial) run() course {
	c := course{inCase: t.bench.Case.Name, end: 1, settled: true, first: loss{share: 1}}
	for i := range steps + 1 {
		share := float64(i) / steps
		before := t.bench.Save()
		t.at(share)
		o := t.bench.Outcome()
		c.settled = c.settled && o.Settled()
		if i > 0 && o.Circuit.Outcome == circuit.NotConverged {
			c.amps = append(c.amps, c.amps[i-1]) // the voltages mean nothing; the next step tells again
			t.bench.Back(before)
			continue
		}
		if what := t.lost(); what != "" && c.first.what == "" {
			c.first = t.narrow(before, share, what)
			t.back(before, share)
		}
		c.amps = append(c.amps, t.amps())
		if i > 0 && t.amps() < lossShare*c.amps[0] {
			c.end = share - 1.0/steps
			c.amps = c.amps[:i]
			break
		}
	}
	return c
}

// at gives the battery the voltage it has after a share of its discharge.
func (t *trial) at(share float64) {
	full, end := situation.CellVolts()
	t.bench.SetCells(t.battery, full+unit.Volt(share)*(end-full))
}

func (t *trial) back(s situation.State, share float64) {
	t.bench.Back(s)
	t.at(share)
}

func (t *trial) amps() unit.Ampere {
	for _, name := range t.battery.Device.Model.PortsOf(device.Battery) {
		if i, ok := t.bench.PartAmps(t.battery, device.PinOf(name, "cells")); ok {
			return -i
		}
	}
	return 0
}

// narrow finds where in the step that ends at share the first load is lost, by halving.
func (t *trial) narrow(before situation.State, share float64, what string) loss {
	if share == 0 {
		return loss{0, t.volts(), what}
	}
	low, high := share-1.0/steps, share
	found := loss{share, t.volts(), what}
	for range halvings {
		middle := (low + high) / 2
		t.back(before, middle)
		if w := t.lost(); w != "" {
			high, found = middle, loss{middle, t.volts(), w}
		} else {
			low = middle
		}
	}
	return found
}

// volts is the voltage at the battery's terminals.
func (t *trial) volts() unit.Volt {
	for _, name := range t.battery.Device.Model.PortsOf(device.Battery) {
		return t.bench.Volts(t.battery, device.PinOf(name, "plus"), device.PinOf(name, "minus"))
	}
	return 0
}

// lost names the first load that has dropped out; empty when all go on.
func (t *trial) lost() string {
	for i := range t.loads {
		l := &t.loads[i]
		switch {
		case l.lock == nil:
			if !t.bench.Runs(l.unit) {
				return l.unit.Device.ID + " stops below its cut-off voltage"
			}
		case t.lockVolts(l) < l.window.Window.Low:
			return l.lock.ID + " falls below its window of " + l.window.Window.String()
		}
	}
	return ""
}

func (t *trial) lockVolts(l *load) unit.Volt {
	for _, s := range t.bench.Door(l.door).Locks {
		if s.Lock == l.lock {
			return max(s.Volts, -s.Volts)
		}
	}
	return 0
}

// time is how long the discharge takes up to a share of it, with a battery of the usable capacity c. Equal steps of
// voltage are equal shares of the discharge; each runs at the mean of the currents at its ends.
func (c *course) time(usable unit.AmpereHour, to float64) unit.Second {
	var t unit.Second
	for i := 1; i < len(c.amps); i++ {
		from, upto := float64(i-1)/steps, min(float64(i)/steps, to)
		if upto <= from {
			break
		}
		t += unit.Second(upto-from) * lasts(usable, (c.amps[i-1]+c.amps[i])/2, agm)
	}
	return t
}

// reached is how long everything works that must.
func (c *course) reached(usable unit.AmpereHour) unit.Second {
	return c.time(usable, min(c.first.share, c.end))
}
