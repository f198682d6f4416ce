package proof

import "doorwright/situation"

// course is what is done to an island, one step after another, in which sequences that begin alike go together: what they
// have in common is done once. The first course of all is nothing.
type course struct {
	step *situation.Step
	next []*course
	here []instant // watched ones, in the order of the sequences
}

// instant is a step of a sequence, by its place among all.
type instant struct{ sequence, step int }

// courseOf puts sequences together.
func courseOf(all []sequence) *course {
	first := &course{}
	for i := range all {
		at := first
		for k := range all[i].steps {
			s := &all[i].steps[k]
			at = at.after(s)
			if s.Watched {
				at.here = append(at.here, instant{i, k})
			}
		}
	}
	return first
}

// after is the course with one step more.
func (c *course) after(s *situation.Step) *course {
	for _, n := range c.next {
		if n.step.Same(s) {
			return n
		}
	}
	n := &course{step: s}
	c.next = append(c.next, n)
	return n
}
