package job

import (
	"fmt"
	"slices"

	"doorwright/device"
	"doorwright/unit"
)

func (r *resolver) allSupplies() {
	for _, e := range r.doc.Supplies {
		path := under("supplies", e.Key)
		r.claim(e.Key, path, "a supply")
		if e.Key == feedFromController {
			r.problem(path, quote(e.Key), "is the word for the lock-power output of a controller; choose another name")
		}
		s := r.supply(e.Key, path, e.Value)
		r.supplies[e.Key] = s
		r.job.Supplies = append(r.job.Supplies, s)
	}
}

func (r *resolver) supply(id, path string, d SupplyDoc) *Supply {
	s := &Supply{
		Fitted:  r.fit(RoleSupply, id, path, FittedDoc{Model: d.Model, Title: d.Title, Place: d.Place}, nil),
		Earthed: d.Zero == "earthed", ZeroStated: d.Zero == "earthed" || d.Zero == "floating",
	}
	if !s.ZeroStated {
		r.judge(under(path, "zero-volt"), "not known, both earthed and floating are tried")
	}
	r.battery(s, path, d)
	r.board(s, path, d)
	return s
}

// battery enters the battery and how long it must last.
func (r *resolver) battery(s *Supply, path string, d SupplyDoc) {
	s.StandbyStated = d.Standby != 0
	s.Standby = d.Standby
	standby := under(path, "standby")
	if d.Battery == "" {
		optional(r, standby, d.Standby, longestStandby)
		const want = "is asked of a battery that the supply has not; add battery, or leave it out"
		if d.Standby > 0 {
			r.problem(standby, d.Standby.String(), want)
		}
		if d.WorksTo != 0 || r.stated(under(path, "works-to")) {
			r.problem(under(path, "works-to"), d.WorksTo.String(), want)
		}
		s.Standby = unit.Second(max(float64(d.Standby), 0))
		return
	}
	s.Standby = figure(r, standby, d.Standby, longestStandby, usualStandby)
	at := under(path, "battery")
	b := r.part(RoleBattery, s, at, FittedDoc{Model: d.Battery})
	s.Battery = &b
	r.batteryVoltage(s, at)
	r.worksTo(s, under(path, "works-to"), d.WorksTo)
}

// endVoltsPerCell is the usual end of discharge of a lead-acid cell at rates of 3 h to 20 h (from memory).
const endVoltsPerCell unit.Volt = 1.75

// worksTo enters the battery voltage down to which everything must work.
func (r *resolver) worksTo(s *Supply, path string, written unit.Volt) {
	if s.Battery.Model == nil {
		return
	}
	nominal, _ := batteryVolts(s.Battery.Model)
	end, full := nominal/voltsPerCell*endVoltsPerCell, nominal*fullShare
	s.WorksTo = written
	switch {
	case written == 0 && !r.stated(path):
		s.WorksTo = end
		r.assume(path, end.String())
	case !(written >= end && written <= full):
		r.problem(path, written.String(), fmt.Sprintf("is no voltage of a battery in use; write %v to %v", end, full))
	}
}

// fullShare is the open-circuit voltage of a full lead-acid battery against its nominal one: 12.8 V for 12 V (from
// memory).
const fullShare unit.Volt = 12.8 / 12

// batteryVoltage refuses a battery of another voltage than the supply charges.
func (r *resolver) batteryVoltage(s *Supply, path string) {
	if s.Model == nil || s.Battery.Model == nil {
		return
	}
	charges, ok := batteryVolts(s.Model)
	if !ok {
		r.problem(path, quote(s.Battery.ModelID),
			fmt.Sprintf("has nowhere to go; %s (%s) has no battery terminals", s.ID, s.ModelID))
		return
	}
	has, _ := batteryVolts(s.Battery.Model)
	if charges > 0 && has > 0 && charges != has {
		r.problem(path, quote(s.Battery.ModelID), fmt.Sprintf("is a battery of %v, but %s (%s) charges one of %v",
			has, s.ID, s.ModelID, charges))
	}
}

// voltsPerCell is the nominal voltage of a lead-acid cell.
const voltsPerCell unit.Volt = 2

// batteryVolts is the nominal voltage of a battery, or of the battery that a supply charges; 0 when its model does not
// say, false without battery terminals.
func batteryVolts(m *device.Model) (unit.Volt, bool) {
	names := m.PortsOf(device.Battery)
	if len(names) == 0 {
		return 0, false
	}
	p := m.Port(names[0])
	switch backed := m.Port(p.From); {
	case p.Cells > 0:
		return unit.Volt(p.Cells) * voltsPerCell, true
	case p.Nominal > 0 || backed == nil:
		return p.Nominal, true
	default:
		return backed.Nominal, true
	}
}

// part is a device that belongs to a supply and is mounted with it.
func (r *resolver) part(role Role, s *Supply, path string, d FittedDoc) Fitted {
	r.meaningless(path, d, role)
	id := s.ID + "." + string(role)
	if d.Place == "" {
		f := r.fitModel(role, id, path, d)
		f.Place = s.Place
		return f
	}
	return r.fit(role, id, path, d, s.Place)
}

// board enters the distribution board, its fire signal and which outputs that releases.
func (r *resolver) board(s *Supply, path string, d SupplyDoc) {
	r.boardNeeded(path, d)
	if d.Board != "" {
		b := r.part(RoleBoard, s, under(path, "board"), FittedDoc{Model: d.Board})
		s.Board = &b
		s.Board.Settings.Outputs = make([]device.OutputSettings, boardOutputs(s))
	}
	s.Fire = r.boardInput(RoleFire, s, path, d.Fire)
	s.Reset = r.boardInput(RoleReset, s, path, d.Reset)
	if s.Board == nil || s.Board.Model == nil {
		return
	}
	r.outputs(s, under(path, "released"), d.Released, func(o *device.OutputSettings) { o.Releases = true })
	r.outputs(s, under(path, "latching"), d.Latching, func(o *device.OutputSettings) { o.Latches = true })
	for i, n := range d.Latching {
		if !slices.Contains(d.Released[:min(len(d.Released), device.MaxOutputs)], n) && n >= 1 && n <= boardOutputs(s) {
			r.problem(item(under(path, "latching"), i), fmt.Sprintf("output %d", n),
				"is not among the released outputs; add it there, or leave it out here")
		}
	}
}

// boardInput enters what ends at the fire or reset input of a board; nil when there is none.
func (r *resolver) boardInput(role Role, s *Supply, path string, d *FittedDoc) *Fitted {
	if d == nil {
		return nil
	}
	at := under(path, string(role))
	f := r.part(role, s, at, *d)
	if s.Board == nil || s.Board.Model == nil {
		return &f
	}
	if _, ok := s.Board.Model.FindPort(device.Input, string(role), 0, ""); !ok {
		r.problem(at, "", fmt.Sprintf("the board %q has no %s input; choose a board that has one", s.Board.ModelID, role))
	}
	return &f
}

// boardNeeded reports what only means something at a board.
func (r *resolver) boardNeeded(path string, d SupplyDoc) {
	for _, s := range []struct {
		key   string
		given bool
	}{
		{"fire", d.Fire != nil},
		{"reset", d.Reset != nil},
		{"released", len(d.Released) > 0},
		{"latching", len(d.Latching) > 0},
		{"tells", d.Tells != ""},
	} {
		if s.given && d.Board == "" {
			r.problem(under(path, s.key), "", "means nothing without a board; add board, or leave this out")
		}
	}
	if d.Board != "" && len(d.Released) > 0 && d.Fire == nil {
		r.problem(under(path, "released"), "", "nothing tells the board of a fire; add fire, or leave this out")
	}
}

func (r *resolver) outputs(s *Supply, path string, list []int, set func(*device.OutputSettings)) {
	twice(r, path, list)
	for i, n := range list {
		if n < 1 || n > len(s.Board.Settings.Outputs) {
			r.problem(item(path, i), fmt.Sprintf("output %d", n),
				fmt.Sprintf("is not possible; the board %q has outputs 1 to %d", s.Board.ModelID, len(s.Board.Settings.Outputs)))
			continue
		}
		set(&s.Board.Settings.Outputs[n-1])
	}
}
