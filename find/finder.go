package find

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"doorwright/job"
	"doorwright/meter"
	"doorwright/situation"
)

// Finder keeps what was read at one door and what it speaks for.
type Finder struct {
	site     *situation.Site
	door     *job.Door
	meter    meter.Meter
	book     *meter.Book
	suspects []*suspect
	loops    []meter.Loop
	extra    []meter.Pair // asked for by readings, beyond the usual
	readings []meter.Reading
	entered  []entered
	seen     []meter.Observation
	trail    []bool // what was entered in turn: readings, and with false observations
	now      stand  // how the door was last read
	asFound  bool   // nobody planned this door
	pairs    bool   // two at once were looked for since the last reading
	opening  *Opening
}

// entered is a reading as the book has it.
type entered struct {
	pair int
	y    float64
}

// New makes a finder of a door: everything it can show, sound and with each fault, is worked out now.
func New(site *situation.Site, door string, m meter.Meter) (*Finder, error) {
	for _, d := range site.Plan.Job.Doors {
		if d.ID == door {
			f := &Finder{site: site, door: d, meter: m}
			f.now = f.standing()
			return f, f.prepare()
		}
	}
	return nil, fmt.Errorf("%q is not a door of this job", door)
}

// NewAsFound makes a finder of a door that nobody planned: lengths are guesses, and it may well be wired otherwise.
func NewAsFound(site *situation.Site, door string, m meter.Meter) (*Finder, error) {
	for _, d := range site.Plan.Job.Doors {
		if d.ID == door {
			f := &Finder{site: site, door: d, meter: m, asFound: true}
			f.now = f.standing()
			return f, f.prepare()
		}
	}
	return nil, fmt.Errorf("%q is not a door of this job", door)
}

// prepare makes the book and the suspects anew and enters again what was read.
func (f *Finder) prepare() error {
	mended := map[string]bool{}
	for _, s := range f.suspects {
		mended[s.id] = s.mended
	}
	book, err := meter.NewBook(f.site, f.door, f.meter, meter.Basis{Loops: f.loops, Extra: f.extra, AsFound: f.asFound})
	if err != nil {
		return err
	}
	f.opening = nil
	f.book, f.suspects = book, suspectsOf(f.site, book, f.asFound)
	grouped(book, f.suspects)
	for _, s := range f.suspects {
		s.mended = mended[s.id]
	}
	seen := f.seen
	f.entered, f.seen = nil, nil
	for _, r := range f.readings {
		if err := f.enter(r); err != nil {
			f.seen = seen
			return err
		}
	}
	for _, o := range seen {
		f.seen = append(f.seen, o)
		f.look(o)
	}
	return nil
}

// Book is what can be read at the door.
func (f *Finder) Book() *meter.Book { return f.book }

// Add enters a reading. It errs on terminals and a condition that the door does not have, on all at once.
func (f *Finder) Add(r meter.Reading) error {
	var live error
	if r.Quantity != meter.Volts && !r.In.Dead() {
		live = fmt.Errorf("%s are read with everything off, not %s", r.Quantity, r.In)
	}
	if err := errors.Join(f.CheckReading(r), live); err != nil {
		return err
	}
	var err error
	if r.At, r.To, err = f.book.Ends(r.At, r.To); err != nil {
		return err
	}
	f.now, f.pairs = f.after(r.Pair()), false
	if _, _, ok := f.find(r); !ok {
		f.extra = append(f.extra, r.Pair())
		f.readings = append(f.readings, r)
		if err := f.prepare(); err != nil {
			f.extra, f.readings = f.extra[:len(f.extra)-1], f.readings[:len(f.readings)-1]
			return cmp.Or(f.prepare(), err)
		}
		f.trail = append(f.trail, true)
		return nil
	}
	if err := f.enter(r); err != nil {
		return err
	}
	f.readings, f.trail = append(f.readings, r), append(f.trail, true)
	return nil
}

// find is the pair of the book that a reading is of, and the reading the way round of that.
func (f *Finder) find(r meter.Reading) (int, meter.Reading, bool) {
	if i := f.book.Index(r.Pair()); i >= 0 {
		return i, r, true
	}
	if r.Quantity == meter.Diode {
		return 0, r, false
	}
	turned := r
	turned.At, turned.To = r.To, r.At
	if r.Quantity == meter.Volts {
		turned.Value = -r.Value
	}
	i := f.book.Index(turned.Pair())
	return i, turned, i >= 0
}

// enter takes a reading into account with every suspect.
func (f *Finder) enter(r meter.Reading) error {
	i, r, ok := f.find(r)
	if !ok {
		return fmt.Errorf("%s against %s cannot be read %q", r.At, r.To, r.In)
	}
	y := pointOf(r.Quantity, r.Value, r.Open).at
	f.entered = append(f.entered, entered{i, y})
	if f.isProof(r) {
		return nil // proving dead: it is 0 V because the power is off
	}
	space := width(r.Quantity, f.highest())
	for _, s := range f.suspects {
		for k := range s.beliefs {
			b := &s.beliefs[k]
			if s.id != Unknown {
				b.enter(f.book, i, y, space)
				continue
			}
			before := *b
			b.enter(f.book, i, y, space)
			likelihood := b.log - before.log
			b.read, b.log = before.read, before.log
			b.tell(&b.read, (1-unknownElse)*math.Exp(likelihood)+unknownElse/space)
		}
	}
	f.refit()
	return nil
}

// isProof says that a reading only proves that a pair is dead.
func (f *Finder) isProof(r meter.Reading) bool { return r.Quantity == meter.Volts && r.In.Dead() }

// highest is the highest voltage of the door.
func (f *Finder) highest() float64 {
	top := 1.0
	for i := range f.book.Pairs {
		if v := math.Abs(f.book.Sound.Shown[i].Value); f.book.Pairs[i].Quantity == meter.Volts {
			top = max(top, v)
		}
	}
	return top
}

// See enters an observation.
func (f *Finder) See(o meter.Observation) error {
	called := o.Called
	o, wrong := meter.ParseObservation(string(o.What), o.Is, o.In)
	if err := errors.Join(wrong, f.CheckSeen(o)); err != nil {
		return err
	}
	o.Called = called
	f.seen, f.trail, f.pairs = append(f.seen, o), append(f.trail, false), false
	if !called { // who called saw it at another time
		f.now.in, f.now.eyes = o.In, spotOf(o.What)
	}
	f.look(o)
	return nil
}

// look takes an observation into account with every suspect.
func (f *Finder) look(o meter.Observation) {
	told := f.testimonyOf(o)
	for _, s := range f.suspects {
		for k := range s.beliefs {
			b := &s.beliefs[k]
			b.tell(&b.saw, told(s, b.row))
		}
	}
}

// How often people see or say something else than there is (common practice, no source), and how often a bad joint makes
// a door open by itself.
const (
	misseen = 0.03
	atTimes = 0.15
)

// chance is how likely an answer to a sight is with a suspect.
func chance(s *suspect, row *meter.Row, stop int, what meter.Sight, is string) float64 {
	if s.id == Unknown {
		sound := *s
		sound.id = Healthy
		return (1-unknownElse)*chance(&sound, row, stop, what, is) + unknownElse/float64(len(what.Answers()))
	}
	sight := &row.Sights[stop]
	if what == meter.NumberRead {
		n := float64(len(what.Answers()))
		if sight.Number == is {
			return 0.85 + 0.15/n
		}
		return 0.15 / n
	}
	yes, known := sight.Yes[what]
	if !known && what == meter.OpensItself {
		yes, known = atTimes*truth(s.class != Use), true
		if holds, ok := sight.Yes[meter.LockHolds]; ok {
			yes = max(yes, 1-holds)
		}
	}
	if !known {
		return 0.5
	}
	yes = misseen + (1-2*misseen)*yes
	if is == "yes" {
		return yes
	}
	return 1 - yes
}

func truth(is bool) float64 {
	if is {
		return 1
	}
	return 0
}

// Loop enters a measured loop resistance of a run, out and back: the run is from now on as long as its copper says.
func (f *Finder) Loop(l meter.Loop) error {
	site, err := meter.WithLoop(f.site, l)
	if err != nil {
		return err
	}
	f.site, f.loops = site, append(f.loops, l)
	for _, d := range site.Plan.Job.Doors {
		if d.ID == f.door.ID {
			f.door = d
		}
	}
	return f.prepare()
}

// Mend says that a fault was found and mended. All that was read and seen before is forgotten: measure again.
func (f *Finder) Mend(faultID string) error {
	if err := f.CheckMend(faultID); err != nil {
		return err
	}
	i := slices.IndexFunc(f.suspects, func(s *suspect) bool { return s.id == faultID })
	f.suspects[i].mended = true
	f.forget()
	return nil
}

// forget forgets all that was read and seen, but not how the door stands.
func (f *Finder) forget() {
	f.readings, f.entered, f.seen, f.trail, f.pairs = nil, nil, nil, nil, false
	f.suspects = slices.DeleteFunc(f.suspects, func(s *suspect) bool { return s.both != nil })
	for _, s := range f.suspects {
		for k := range s.beliefs {
			s.beliefs[k].forget()
		}
	}
}

// Told is how many readings and observations the finder goes by.
func (f *Finder) Told() int { return len(f.trail) }

// Back takes back the last reading or observation; false when there is none.
func (f *Finder) Back() (bool, error) {
	readings, seen, trail := f.readings, f.seen, f.trail
	if len(trail) == 0 {
		return false, nil
	}
	f.forget()
	f.now = f.standing()
	for _, read := range trail[:len(trail)-1] {
		var err error
		if read {
			err, readings = f.Add(readings[0]), readings[1:]
		} else {
			err, seen = f.See(seen[0]), seen[1:]
		}
		if err != nil {
			return false, err
		}
	}
	return true, nil
}

// mendedBadly is how much less likely a fault is that was mended a moment ago.
const mendedBadly = 0.1

// reset forgets everything that was read, seen and mended.
func (f *Finder) reset() {
	f.forget()
	f.now = f.standing()
	for _, s := range f.suspects {
		s.mended = false
	}
}
