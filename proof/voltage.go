package proof

import (
	"fmt"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// WrongVoltage is a lock or unit that is for another voltage than its supply gives.
type WrongVoltage struct {
	Device string
	For    unit.Volt
	Supply string
	Gives  unit.Volt
}

// Alike says that two hang on one supply and are for one voltage.
func (w WrongVoltage) Alike(o WrongVoltage) bool { return w.For == o.For && w.Supply == o.Supply }

// SayWrongVoltage says of devices that are alike what is wrong with them, without an end.
func SayWrongVoltage(ids []string, w WrongVoltage) string {
	if len(ids) == 1 {
		return ids[0] + " is" + w.words("its")
	}
	last := len(ids) - 1
	return strings.Join(ids[:last], ", ") + " and " + ids[last] + " are" + w.words("their")
}

func (w WrongVoltage) words(whose string) string {
	return fmt.Sprintf(" for %v, and %s supply %s gives %v", w.For, whose, w.Supply, w.Gives)
}

// WrongVoltages lists what at a door is for another voltage than its supply gives, locks first.
func WrongVoltages(d *job.Door) []WrongVoltage {
	of := map[string]*job.Supply{}
	addSupplies(of, d)
	var all []WrongVoltage
	add := func(id string, m *device.Model, types ...device.PortType) {
		for _, is := range types {
			for _, name := range m.PortsOf(is) {
				if w, ok := wrongVoltage(id, m.Port(name), of[id]); ok {
					all = append(all, w)
					return
				}
			}
		}
	}
	for _, l := range d.Locks {
		add(l.ID, l.Model, device.LockCoil)
	}
	add(d.Controller.ID, d.Controller.Model, device.Load)
	for _, f := range d.Fitted() {
		add(f.ID, f.Model, device.Load)
	}
	return all
}

// wrongVoltage says that the nominal voltage of a supply is outside the window of what hangs on it.
func wrongVoltage(id string, p *device.Port, s *job.Supply) (WrongVoltage, bool) {
	if s == nil || p.Window.IsZero() {
		return WrongVoltage{}, false
	}
	for _, name := range s.Model.PortsOf(device.Source) {
		if gives := s.Model.Port(name).Nominal; !p.Window.Holds(gives) {
			return WrongVoltage{id, p.Nominal, s.ID, gives}, true
		}
	}
	return WrongVoltage{}, false
}

// becauseWrong is the end of a sentence about a device that has a voltage or current it does not work with.
func (w *watch) becauseWrong(id string, p *device.Port) string {
	if wrong, ok := wrongVoltage(id, p, w.supplies[id]); ok {
		return ": it is" + wrong.words("its")
	}
	return ""
}
