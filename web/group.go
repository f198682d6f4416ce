package web

import "fmt"

// group is some rows of a long page under one heading. One with nothing open in it is folded away.
type group struct {
	ID, Title string
	N         int
	Life      int // of these bear on life
	Open      bool
}

// Says is the heading, with how many there are.
func (g group) Says() string {
	says := fmt.Sprintf("%s: %d", g.Title, g.N)
	if g.Life > 0 {
		says += fmt.Sprintf(", %d of them bearing on life", g.Life)
	}
	return says
}

func (g group) of() group { return g }

// grouped is what has a group.
type grouped interface{ of() group }
