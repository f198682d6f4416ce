package proof

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/fault"
	"doorwright/job"
	"doorwright/situation"
)

// shorts says that a fault joins what is apart at one door. What is joined to the supply itself is no short at a door.
func shorts(f *fault.Fault) bool {
	return f.Class != fault.Supplied && f.Class != fault.Grounded && slices.ContainsFunc(f.Edits, func(e fault.Edit) bool { return e.Op == fault.Join })
}

// lookAround looks at the other doors of an island while nothing happens, with a short at this one. Where the bench has
// only what is near the door, the rest stands as it does without the fault.
func (d *verdict) lookAround(c *situation.Closeup, b *situation.Bench) {
	d.blown = b.Blown()
	if !b.IsWhole() {
		return
	}
	sound := c.Sound()
	for _, other := range d.t.island.Doors {
		if other != d.t.door && other.Controller != nil && goesOut(sound, b, other) {
			d.takes = append(d.takes, other)
		}
	}
}

// goesOut says that a door loses its controller, a reader or what its locks do.
func goesOut(sound, with *situation.Bench, d *job.Door) bool {
	was, _ := lookAt(sound, d, situation.Shows{})
	is, _ := lookAt(with, d, situation.Shows{})
	return was.runs != is.runs || was.readers != is.readers || was.effect != is.effect
}

// staysHere judges that a short at this door leaves the others working.
func (t *trial) staysHere(s *FaultSeen, views []*verdict) {
	var b Beside
	for _, d := range views {
		b.Blown = merged(b.Blown, d.blown)
		for _, other := range d.takes {
			b.Takes = merged(b.Takes, []string{other.ID})
		}
	}
	if len(b.Blown)+len(b.Takes) > 0 {
		s.Beside = &b
	}
	if len(b.Takes) == 0 || t.acceptedByJob(s.Fault) != "" {
		return
	}
	if s.Broken == "" {
		s.Broken = reqShortStays.ID
	}
	t.broken = append(t.broken, brokenBy{reqShortStays, reqShortStays.Rule, s.Fault, b.words()})
}

// words says what goes with a short, and which fuses have opened.
func (b *Beside) words() string {
	fuses := "no fuse opens"
	if len(b.Blown) > 0 {
		fuses = "fuse " + strings.Join(b.Blown, ", ") + " opens"
	}
	return fmt.Sprintf("%s, and these doors go out too: %s", fuses, doorsNamed(b.Takes))
}

// mostNamed is how many doors are named one by one.
const mostNamed = 4

func doorsNamed(ids []string) string {
	if len(ids) <= mostNamed {
		return strings.Join(ids, ", ")
	}
	return fmt.Sprintf("%s and %d more doors", strings.Join(ids[:mostNamed], ", "), len(ids)-mostNamed)
}

// merged appends what the list does not hold yet.
func merged(list, more []string) []string {
	for _, x := range more {
		if !slices.Contains(list, x) {
			list = append(list, x)
		}
	}
	return list
}
