package meter

import (
	"fmt"

	"doorwright/cable"
	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// aged is what a contact may come to before it is replaced: 0.1 ohm (common practice).
const aged = 0.1

// runLoops are the loop resistances of the runs: two cores of one size, joined at the far end.
func runLoops(plan *wiring.Plan, m Meter, share float64) []Expectation {
	var all []Expectation
	for _, r := range plan.Job.Runs {
		cores := r.Type.Cores()
		for i := range cores {
			if i > 0 && cores[i].Element == cores[i-1].Element || i+1 == len(cores) || cores[i+1].Element != cores[i].Element {
				continue // not the first core of a bundle of two or more
			}
			all = append(all, runLoop(plan.Job, r, cores[i], cores[i+1], m, share))
		}
	}
	return all
}

func runLoop(j *job.Job, r *job.Run, one, two cable.Core, m Meter, share float64) Expectation {
	if r.Pulled > 0 {
		share = 0
	}
	loop := func(c cable.Resistance, ohms func(cable.Resistance) float64, longer float64) float64 {
		return 2 * ohms(c) * (1 + longer)
	}
	nominal := func(c cable.Resistance) float64 { return float64(c.Nominal) }
	most := func(c cable.Resistance) float64 { return float64(c.Max) }
	length, conductor := r.Length(), one.Conductor
	e := m.reading(Ohms, loop(conductor.Resistance(length, 20), nominal, 0), band{
		loop(conductor.Resistance(length, j.Temperature.Low), nominal, -share),
		loop(conductor.Resistance(length, j.Temperature.High), most, share),
	})
	e.Device, e.Pin, e.Against = r.ID, coreName(one), coreName(two)
	e.Label = fmt.Sprintf("%s and %s of %s at %s", e.Pin, e.Against, r.ID, r.From.ID)
	e.Condition = "dead: both cores off at both ends, joined at " + r.To.ID
	e.Why = fmt.Sprintf("out and back over %v of %s; more is a bad joint or a longer cable, less a joint before the end",
		length, r.TypeID)
	return e
}

func coreName(c cable.Core) string {
	if name := cable.ColourName(c.Colour); name != "" {
		return name
	}
	return fmt.Sprintf("core %d", c.Index)
}

// coils are the windings of the locks alone.
func coils(plan *wiring.Plan, m Meter) []Expectation {
	var all []Expectation
	for _, d := range plan.Devices {
		for _, name := range d.Model.PortsOf(device.LockCoil) {
			p := d.Model.Port(name)
			r, t := float64(p.Ohms), plan.Job.Temperature
			e := m.reading(Ohms, r, band{
				r * (1 - p.Tolerance) * cable.Warmth(t.Low),
				r * (1 + p.Tolerance) * cable.Warmth(t.High+p.Heats),
			})
			e.at(d, device.PinOf(name, "plus"), device.PinOf(name, "minus"))
			e.Condition = "dead: the lock unplugged, alone"
			e.Why = "its winding at any temperature of the job, warm from use at the high end; near nothing is a short, " +
				"over range a break. A suppressor across it does not show: the meter's current is too small"
			all = append(all, e)
		}
	}
	return all
}

// poles are the contacts of the manual releases, healthy and operated.
func poles(plan *wiring.Plan, m Meter) []Expectation {
	var all []Expectation
	for _, d := range plan.Devices {
		for _, e := range d.Model.Ports {
			if d.Role != job.RoleRelease || e.Value.Is != device.Contact || e.Value.Use != "release" {
				continue
			}
			closed := contactOhms(d, e.Key)
			healthy := m.reading(Ohms, closed, band{0, max(aged, closed)})
			operated := m.open()
			if e.Value.Rest != device.RestClosed {
				healthy, operated = operated, healthy
			}
			healthy.Condition = "dead: its cores off, release not operated"
			operated.Condition = "dead: its cores off, release operated"
			why := "this pole alone must take the power from the lock; both poles of a release change together"
			for _, x := range []Expectation{healthy, operated} {
				x.at(d, device.PinOf(e.Key, "a"), device.PinOf(e.Key, "b"))
				x.Why = why
				all = append(all, x)
			}
		}
	}
	return all
}

// contactOhms is the resistance of the contact of a port while it is closed.
func contactOhms(d *wiring.Device, port string) float64 {
	for _, p := range d.Model.Parts(&d.Settings) {
		if p.Name == device.PinOf(port, "contact") {
			return float64(p.Ohms)
		}
	}
	return 0
}

// at enters where the leads go.
func (e *Expectation) at(d *wiring.Device, pin, against string) {
	e.Door, e.Device, e.Pin, e.Against = d.Door, d.ID, pin, against
	e.Label = label(d, pin, against)
}
