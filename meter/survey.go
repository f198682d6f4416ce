package meter

import (
	"math"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
)

// point is a pair of terminals of a unit to read at.
type point struct {
	unit         *situation.Unit
	door         string
	pin, against string
	why          string
}

// sheet is one condition and what is read in it.
type sheet struct {
	say    string
	steps  []situation.Step
	points []point
	moved  bool   // only what differs from the reading at rest is worth a line
	seen   []seen // one for each point
}

// seen is what the cases brought at one point.
type seen struct {
	nominal float64
	known   bool // the nominal case was solved
	any     bool // any case was
	missed  bool // another case was not
	band    band
	source  unit.Ohm // what the meter's input works against, in the nominal case
}

// survey takes a bench of each limit case of an island through the sheets, with the cables shorter and longer by the
// share: first those with the batteries as full as goes with the case, then, with every source off, the dead ones.
func survey(is *situation.Island, share float64, live, dead []sheet) {
	for _, sheets := range [][]sheet{live, dead} {
		for i := range sheets {
			sheets[i].seen = make([]seen, len(sheets[i].points))
		}
	}
	for _, c := range is.Cases() {
		nominal := c == situation.Nominal()
		b := is.Bench(c)
		charge(is, b)
		start := b.Save()
		b.Take(allOff(is))
		off := b.Save()
		for _, length := range lengths(nominal, share) {
			through(b, start, length, live, nominal, volts)
			through(b, off, length, dead, nominal, ohms)
		}
	}
}

// through takes a bench with cables of a length through sheets that start from the same instant.
func through(b *situation.Bench, start situation.State, length float64, sheets []sheet, nominal bool, read reader) {
	b.Back(start)
	b.Stretch(length)
	from := b.Save()
	for k := range sheets {
		b.Back(from)
		sheets[k].take(b, nominal, read)
	}
}

// reader reads a point at a bench: V or ohm.
type reader func(*situation.Bench, *point) float64

func volts(b *situation.Bench, p *point) float64 { return float64(b.Volts(p.unit, p.pin, p.against)) }

func ohms(b *situation.Bench, p *point) float64 {
	return float64(b.OhmsBetween(p.unit, p.pin, p.against))
}

// lengths are the factors of cable length that a case is solved for.
func lengths(nominal bool, share float64) []float64 {
	if nominal || share == 0 {
		return []float64{1}
	}
	return []float64{1 - share, 1 + share}
}

// take takes the bench through the steps of the sheet and reads its points. An instant that does not come to rest, or
// in which a card shown is not read, is not that of a sound door and tells nothing.
func (s *sheet) take(b *situation.Bench, nominal bool, read reader) {
	settled := b.Outcome().Settled()
	for _, step := range s.steps {
		shows := b.Take(step)
		settled = settled && b.Outcome().Settled() && (step.Show == "" || shows.Heard)
	}
	for i := range s.points {
		p, o := &s.points[i], &s.seen[i]
		if !settled {
			o.missed = true
			continue
		}
		v := read(b, p)
		if nominal {
			o.nominal, o.known = v, true
			o.source = b.OhmsBetween(p.unit, p.pin, p.against)
		}
		if !o.any {
			o.any, o.band = true, band{v, v}
		}
		o.band = o.band.with(v)
	}
}

// tell makes expectations of what was seen on sheets. Of gives the part that depends on the quantity.
func tell(sheets []sheet, of func(*point, *seen) Expectation) []Expectation {
	rest := map[string]float64{}
	var all []Expectation
	for k := range sheets {
		s := &sheets[k]
		for i := range s.points {
			p, o := &s.points[i], &s.seen[i]
			if !s.moved {
				if _, ok := rest[p.key()]; !ok {
					rest[p.key()] = o.nominal
				}
			} else if same(o.nominal, rest[p.key()]) {
				continue
			}
			if o.known {
				all = append(all, s.expectation(i, of(p, o)))
			}
		}
	}
	return all
}

func (p *point) key() string { return p.unit.Device.ID + "." + p.pin }

// same says that two readings differ by less than 2 % and 0.1 V or ohm: what was done acts elsewhere.
func same(a, b float64) bool { return math.Abs(a-b) < max(0.1, 0.02*math.Abs(b)) }

// expectation tells what was seen at point i, with the part that depends on the quantity made by reading.
func (s *sheet) expectation(i int, e Expectation) Expectation {
	p := &s.points[i]
	e.at(p.unit.Device, p.pin, p.against)
	e.Door, e.Condition = p.door, s.say
	e.Why = p.why + e.Why
	if s.seen[i].missed {
		e.Why += "; not every limit case came to this, so the band may be too narrow"
	}
	return e
}

// cause gives the steps of a cause at a door up to the first that is watched, and their words; nil when it cannot
// happen.
func cause(is *situation.Island, d *job.Door, id string) (string, []situation.Step) {
	for _, c := range situation.Causes() {
		if c.ID != id {
			continue
		}
		say := ""
		steps := c.Steps(is, d)
		for i, step := range steps {
			say += step.Say
			if step.Watched {
				return say, steps[:i+1]
			}
			say += ", then "
		}
	}
	return "", nil
}

// inputPort is an input in use, with the terminals it is read at.
type inputPort struct {
	name, use, plug string
	in, against     string
	settings        device.InputSettings
}

// inputsOf lists the inputs of a unit that are set to be used and have a core landed.
func inputsOf(u *situation.Unit, landed map[string]bool, channel int) []inputPort {
	var all []inputPort
	m := u.Device.Model
	for _, e := range m.Ports {
		in := device.PinOf(e.Key, "in")
		if e.Value.Is != device.Input || channel > 0 && e.Value.Channel != channel || !landed[u.Device.ID+"."+in] {
			continue
		}
		s := u.Device.Settings.Input(e.Value)
		common := m.Reach(device.PinOf(e.Key, "common"))
		if !s.Used || common == nil {
			continue
		}
		x := inputPort{name: e.Key, use: e.Value.Use, in: in, against: common.Pin, settings: s}
		if t := m.Terminal(in); t != nil {
			x.plug = t.Plug
		}
		all = append(all, x)
	}
	return all
}
