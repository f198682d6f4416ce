package web

// group is some rows of a long page under one heading. One with nothing open in it is folded away.
type group struct {
	ID, Title string
	Count     string // in words
	Open      bool
}

// Says is the heading.
func (g group) Says() string { return g.Title + ": " + g.Count }

func (g group) of() group { return g }

// grouped is what has a group.
type grouped interface{ of() group }
