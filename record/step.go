package record

import (
	"slices"

	"doorwright/device"
	"doorwright/job"
)

// Step is one test of the list: what must hold before, what is done, what must follow, and what is written down.
//
// The list is common practice of the trade, in our words. Where a figure or the duty itself stands in a standard,
// Source
// names it.
type Step struct {
	ID       string
	Life     bool   // bears on life: made at every door, never at a sample, and witnessed
	Before   string // what must hold before
	Do       string
	Expect   string
	Evidence string // what is written down
	Source   string
	calls    func(fitted) bool
}

// practice is the source of what is common practice only.
const practice = "common practice, no source"

// FindStep finds a step by its id.
func FindStep(id string) (Step, bool) {
	for _, s := range Steps() {
		if s.ID == id {
			return s, true
		}
	}
	return Step{}, false
}

// StepsOf are the steps that what is fitted at a door calls for, in the order of the work.
func StepsOf(d *job.Door) []Step {
	f := fittedAt(d)
	return slices.DeleteFunc(Steps(), func(s Step) bool { return s.calls == nil || !s.calls(f) })
}

// StepsByHand are the steps that no job document can call for: somebody must see whether the door has what they are
// about.
func StepsByHand() []Step {
	return slices.DeleteFunc(Steps(), func(s Step) bool { return s.calls != nil })
}

func stepIDs() []string {
	var all []string
	for _, s := range Steps() {
		all = append(all, s.ID)
	}
	return all
}

// fitted is what of a door decides which steps it needs.
type fitted struct {
	escape, fireRated             bool
	failSafe, magnet              bool
	readers, busReaders, network  bool
	exits, sensors, releases      bool
	fire, contact, sounder        bool
	supervised, battery, twoFeeds bool
}

// FireSignal says whether a fire signal acts on the door: one of its own, or one at the board that feeds its lock.
func FireSignal(d *job.Door) bool {
	return d.Fire != nil || slices.ContainsFunc(d.Locks, func(l *job.Lock) bool {
		return l.Feed.Supply != nil && l.Feed.Supply.Fire != nil
	})
}

func fittedAt(d *job.Door) fitted {
	f := fitted{
		escape: d.Escape != job.EscapeNone, fireRated: d.FireRated, readers: d.Entry != nil || d.ExitReader != nil,
		network: d.Controller.Network.Address != "", exits: len(d.Exits) > 0, releases: len(d.Releases) > 0,
		contact: len(d.Contacts) > 0, sounder: d.Sounder != nil, fire: FireSignal(d),
		supervised: d.Supervision != device.SchemeNone && d.Supervision != "",
	}
	for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
		f.busReaders = f.busReaders || r != nil && len(r.Model.PortsOf(device.Bus)) > 0
	}
	for _, x := range d.Exits {
		f.sensors = f.sensors || x.Model.Kind == "exit-sensor"
	}
	f.locks(d)
	for _, s := range SuppliesOf(d) {
		f.battery = f.battery || s.Battery != nil
	}
	f.twoFeeds = len(SuppliesOf(d)) > 1
	return f
}

func (f *fitted) locks(d *job.Door) {
	for _, l := range d.Locks {
		for _, name := range l.Model.PortsOf(device.LockCoil) {
			f.failSafe = f.failSafe || l.Model.Port(name).Action == device.FailSafe
		}
		f.magnet = f.magnet || l.Model.Kind == "magnet"
	}
}

// SuppliesOf lists the supplies that the controller and the locks of a door hang on, each once.
func SuppliesOf(d *job.Door) []*job.Supply {
	var all []*job.Supply
	add := func(f job.Feed) {
		if f.Supply != nil && !slices.Contains(all, f.Supply) {
			all = append(all, f.Supply)
		}
	}
	add(d.Controller.Feed)
	for _, l := range d.Locks {
		add(l.Feed)
	}
	return all
}
