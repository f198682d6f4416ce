package rules

// Conflict is a parameter in which two families demand different things, and not only more or less of one.
type Conflict struct {
	ID      string `json:"id"` // of the parameter
	Title   string `json:"title"`
	A       Side   `json:"a"`
	B       Side   `json:"b"`
	Settles string `json:"settles"` // what would meet both, or who has to decide
}

// Side is what one of the families demands.
type Side struct {
	Family string `json:"family"`
	Text   string `json:"text"`
	Source Source `json:"source"`
}

// Conflicts lists where a and b demand different things, in the order of Lines. Conflicts(b, a) has the same with the
// sides exchanged.
func Conflicts(a, b Family) []Conflict {
	var found []Conflict
	linesA, linesB := a.Lines(), b.Lines()
	for i, line := range linesA {
		for _, c := range clashes {
			if c.id == line.ID && (c.clash(a, b) || c.clash(b, a)) {
				found = append(found, Conflict{
					ID: line.ID, Title: line.Title, Settles: c.settles,
					A: Side{a.ID, line.Text, line.Source}, B: Side{b.ID, linesB[i].Text, linesB[i].Source},
				})
			}
		}
	}
	return found
}

// clashes lists the parameters in which families can contradict each other. clash looks at one order of the two.
var clashes = []struct {
	id      string
	clash   func(a, b Family) bool
	settles string
}{
	{
		"way-out",
		func(a, b Family) bool {
			x, y := a.WayOut.Value, b.WayOut.Value
			return x&^y != 0 && y&^x != 0 && (x|y)&FreeHandle == 0
		},
		"Fit both, or agree with the authority on one set of rules for the door.",
	},
	{
		"hold",
		func(a, b Family) bool { return a.Hold.Value.AtLeast > 0 && b.Hold.Value.UntilReset },
		"A release that latches until it is reset meets both; a timed push button does not.",
	},
	{
		"relock",
		func(a, b Family) bool { return a.Relock.Value == RelockFireReset && b.Relock.Value == RelockByHand },
		"Locking again only by hand at the door, after the fire alarm is reset, meets both.",
	},
	{
		"height",
		func(a, b Family) bool { return apart(a.Height.Value, b.Height.Value) },
		"No height meets both: agree one with the authority and record it for the door.",
	},
}
