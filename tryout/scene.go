package tryout

import (
	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
	"doorwright/wiring"
)

// Scene is what a door comes to.
type Scene struct {
	Door     *job.Door
	Effect   situation.Effect
	Steps    []Step
	Locks    []Lock
	Inputs   []Input
	Supplies []Supply
	Units    []Unit
	Wires    []Wire // of the door and what it hangs on, in the order of the plan
	Controls []Control
	Alarms   []string
	Unsteady []string // what went back and forth for ever, or kept the network from an operating point
}

// Step is one act that was done, and what it changed.
type Step struct {
	Act     Act
	Says    string
	Changes []Change
}

// Lock is a lock now.
type Lock struct {
	situation.LockState
	Feed Feed
}

// Input is an input of the controller now.
type Input struct {
	Name, Use string
	Reads     string
	Volts     unit.Volt
	Active    bool
	Fault     bool
}

// Supply is a supply now.
type Supply struct {
	ID, Title, Says string
	Volts           unit.Volt
	Amps            unit.Ampere // from the mains and from the battery
}

// Unit is a unit that needs power.
type Unit struct {
	ID, Title string
	Runs      bool
	Volts     unit.Volt
}

// Wire is a conductor now. Volts are of its ends against the 0 V of the controller; a current above 0 flows from A to B.
type Wire struct {
	Conductor *wiring.Conductor
	A, B      unit.Volt
	Amps      unit.Ampere
	Cut       bool
}

// Carries says that a current flows that does something: more than the leaks of open inputs (common practice, no source).
func (w Wire) Carries() bool { return w.Amps > 0.0002 || w.Amps < -0.0002 }

// fill tells the present instant.
func (v *viewer) fill(s *Scene, facts []fact) {
	d := v.bench.Door(v.try.door)
	s.Effect = d.Effect
	for _, l := range d.Locks {
		s.Locks = append(s.Locks, Lock{l, v.feedOf(l.Lock.ID)})
	}
	for _, u := range v.try.near {
		here := v.island.Unit(u.Device.ID)
		v.inputs(s, here)
		v.power(s, here)
	}
	for _, f := range facts {
		if f.rank == ofAlarm && f.state == "on" {
			s.Alarms = append(s.Alarms, f.subject)
		}
	}
	s.Wires = v.wires()
	s.Controls = v.controls()
	if o := v.bench.Outcome(); !o.Settled() {
		s.Unsteady = append(append([]string{}, o.Unsteady...), v.bench.Culprits()...)
	}
}

func (v *viewer) inputs(s *Scene, u *situation.Unit) {
	if u.Device.ID != v.try.door.Controller.ID {
		return
	}
	for i := range u.Device.Model.Ports {
		key, p := u.Device.Model.Ports[i].Key, &u.Device.Model.Ports[i].Value
		set := v.bench.Settings(u).Input(p)
		if p.Is != device.Input || !set.Used || p.Channel > 0 && v.try.door.Channel > 0 && p.Channel != v.try.door.Channel {
			continue
		}
		r := v.bench.Reading(u, key)
		s.Inputs = append(s.Inputs, Input{
			Name: label(u, key), Use: p.Use, Reads: r.Level.String(), Volts: r.Volts,
			Active: device.Active(set, r.Level), Fault: device.Faulty(set, r.Level),
		})
	}
}

func (v *viewer) power(s *Scene, u *situation.Unit) {
	for i := range u.Device.Model.Ports {
		key, p := u.Device.Model.Ports[i].Key, &u.Device.Model.Ports[i].Value
		if p.Is != device.Source && (p.Is != device.Load || key != u.Device.Model.Running()) {
			continue
		}
		volts := v.bench.Volts(u, device.PinOf(key, "plus"), device.PinOf(key, "minus"))
		if p.Is == device.Load {
			s.Units = append(s.Units, Unit{u.Device.ID, u.Device.Title, v.bench.Runs(u), volts})
			continue
		}
		amps, _ := v.bench.PartAmps(u, device.PinOf(key, "supply"))
		s.Supplies = append(s.Supplies, Supply{u.Device.ID, u.Device.Title, powerState(v.bench, u, key, p), volts, max(amps, -amps) + v.fromBattery(u)})
	}
}

// fromBattery is what the battery of a supply gives.
func (v *viewer) fromBattery(supply *situation.Unit) unit.Ampere {
	for _, s := range v.try.door.Supplies() {
		if s.ID == supply.Device.ID && s.Battery != nil {
			for _, name := range s.Battery.Model.PortsOf(device.Battery) {
				amps, _ := v.bench.PartAmps(v.island.Unit(s.Battery.ID), device.PinOf(name, "cells"))
				return max(0, -amps)
			}
		}
	}
	return 0
}

// wires tells the conductors that have an end at the door or at what it hangs on.
func (v *viewer) wires() []Wire {
	zero := v.zero()
	var all []Wire
	island := v.island.Wires()
	for i := range island {
		c := island[i].Conductor
		if c.B.Device == nil || c.Door != v.try.door.ID && !v.own(c.A.Device) && !v.own(c.B.Device) {
			continue
		}
		w := Wire{Conductor: c, Amps: v.bench.WireAmps(&island[i]), Cut: v.isCut(c)}
		w.A, w.B = v.bench.Between(v.bench.Tap(c.A.String()), zero), v.bench.Between(v.bench.Tap(c.B.String()), zero)
		if w.B > w.A {
			w.Amps = -w.Amps
		}
		all = append(all, w)
	}
	return all
}

func (v *viewer) own(d *wiring.Device) bool {
	return d.Door == v.try.door.ID || of(d.ID, v.try.door.Controller.ID)
}

// zero is the 0 V of the controller; earth where it has none.
func (v *viewer) zero() situation.Tap {
	u := v.island.Unit(v.try.door.Controller.ID)
	if t := v.bench.Tap(u.Device.ID + "." + device.PinOf(u.Device.Model.Running(), "minus")); t.OK() {
		return t
	}
	return v.bench.Tap(device.Ground)
}
