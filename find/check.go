package find

import (
	"errors"
	"fmt"
	"slices"

	"doorwright/meter"
)

// CheckReading says all that keeps a reading from being taken at the door: terminals and a condition that it does not have. Of a
// reading that is understood in part it judges that part, of the zero reading nothing.
func (f *Finder) CheckReading(r meter.Reading) error {
	if r == (meter.Reading{}) {
		return nil
	}
	at, to, strange := f.book.Ends(r.At, r.To)
	var charged error
	if strange == nil {
		charged = f.book.Charged(meter.Pair{At: at, To: to, In: r.In, Quantity: r.Quantity})
	}
	return errors.Join(strange, f.book.Misfit(r.In), charged)
}

// CheckSeen says what keeps something from being seen at the door: a condition without power, or that it does not have.
func (f *Finder) CheckSeen(o meter.Observation) error {
	if o.In != (meter.Condition{}) && (f.book.Stop(o.In) < 0 || o.In.Dead()) {
		return fmt.Errorf("nothing is seen %q at door %s; write a condition with power that the door knows", o.In, f.door.ID)
	}
	return nil
}

// CheckLoop says what keeps a loop from being measured: a run that the job does not have, or a figure that is none of it. A
// figure that could not be read is 0, and of the zero loop nothing is judged.
func (f *Finder) CheckLoop(l meter.Loop) error {
	if l == (meter.Loop{}) {
		return nil
	}
	r, err := meter.RunOf(f.site.Plan.Job, l.Run)
	if err == nil && l.Ohms > 0 {
		_, err = meter.LoopLength(r, l.Ohms)
	}
	return err
}

// CheckMend says what keeps a fault from being mended: it is none of the door.
func (f *Finder) CheckMend(faultID string) error {
	if !slices.ContainsFunc(f.suspects, func(s *suspect) bool { return s.id == faultID }) {
		return fmt.Errorf("door %s has no suspect %q", f.door.ID, faultID)
	}
	return nil
}
