package paper

import (
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
	"doorwright/wiring"
)

// setting is one thing that is set on a device.
type setting struct {
	door, what, value string
	output            int // of a board, from 1; 0 for none
}

// settingSchedule is one row for each setting of each device.
func (w *Work) settingSchedule() Schedule {
	s := Schedule{Columns: []Column{
		{Title: "place"}, {Title: "device"}, {Title: "door"}, {Title: "setting"}, {Title: "value"},
	}}
	for _, d := range w.Plan.Devices {
		for _, x := range w.settingsOf(d) {
			s.add(words(d.Place.ID), words(d.ID), words(x.door), words(x.what), words(x.value))
		}
	}
	return s
}

// settingsOf lists what is set on a device.
func (w *Work) settingsOf(d *wiring.Device) []setting {
	var all []setting
	for i, c := range d.Settings.Channels {
		if door := w.doorAt(d.ID, i+1); door != nil {
			all = append(all, channelSettings(door.ID, c)...)
		}
	}
	serial := len(d.Model.PortsOf(device.SerialPort)) > 0
	bus := len(d.Model.PortsOf(device.Bus)) > 0
	if (serial || bus) && d.Settings.Speed > 0 {
		all = append(all, setting{door: d.Door, what: "speed", value: d.Settings.Speed.String()})
	}
	if bus {
		if d.Role == job.RoleEntry || d.Role == job.RoleExitReader {
			all = append(all, setting{door: d.Door, what: "address (switches)", value: whole(d.Settings.Address)})
		}
		for _, name := range d.Model.PortsOf(device.Bus) {
			if d.Model.Port(name).Terminator && w.lands(d, name) {
				all = append(all, setting{door: d.Door, what: "120 ohm terminator (switch)", value: onOff(d.Settings.Terminator)})
				break
			}
		}
	}
	for i, o := range d.Settings.Outputs {
		all = append(all, setting{what: "output " + whole(i+1) + " (jumpers)", value: outputWords(o), output: i + 1})
	}
	return all
}

// lands says whether a core lands on a port of a device.
func (w *Work) lands(d *wiring.Device, port string) bool {
	return slices.ContainsFunc(w.landings[d.ID], func(l wiring.Landing) bool {
		on, _ := device.SplitPin(l.Terminal.Pin)
		return on == port
	})
}

// doorAt is the door on a channel of a controller; nil when it serves none.
func (w *Work) doorAt(controller string, channel int) *job.Door {
	for _, d := range w.Job.Doors {
		if d.Controller.ID == controller && d.Channel == channel {
			return d
		}
	}
	return nil
}

func onOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}

func outputWords(o device.OutputSettings) string {
	switch {
	case o.Releases && o.Latches:
		return "goes off on the fire signal and stays off until reset"
	case o.Releases:
		return "goes off on the fire signal"
	}
	return "always on"
}

func channelSettings(door string, c device.ChannelSettings) []setting {
	sense := "energised to unlock"
	if c.EnergiseToLock {
		sense = "energised while locked"
	}
	all := []setting{{door: door, what: "lock relay", value: sense}, {door: door, what: "unlocked for", value: seconds(c.UnlockFor)}}
	held := "no alarm"
	if c.HeldAfter > 0 {
		held = seconds(c.HeldAfter)
	}
	all = append(all, setting{door: door, what: "held-open alarm after", value: held})
	for _, in := range []struct {
		name string
		set  device.InputSettings
	}{{"exit input", c.Exit}, {"door contact input", c.Contact}, {"further input", c.Aux}} {
		if in.set.Used {
			all = append(all, setting{door: door, what: in.name, value: inputWords(in.set)})
		}
	}
	if c.Exit.Used {
		does := "unlocks and silences the forced-open alarm"
		if !c.ExitUnlocks {
			does = "silences the forced-open alarm only"
		}
		all = append(all, setting{door: door, what: "exit request", value: does})
	}
	return all
}

func seconds(s unit.Second) string { return s.String() }

// inputWords say what an input is set to expect.
func inputWords(s device.InputSettings) string {
	text := "contact " + s.Rest + " at rest, "
	switch s.Scheme {
	case device.SchemeSingle:
		if s.Series > 0 {
			return text + "supervised with " + s.Series.String() + " in series"
		}
		return text + "supervised with " + s.Parallel.String() + " across the contact"
	case device.SchemeDouble:
		return text + "supervised with " + s.Series.String() + " in series and " + s.Parallel.String() +
			" across the contact"
	}
	return text + "not supervised"
}
