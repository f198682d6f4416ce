package situation

import (
	"slices"

	"doorwright/fault"
)

// RunWhole takes the whole island, with the fault as a part of its network, through all sequences: what Run is held
// against.
func (c *Closeup) RunWhole(f *fault.Fault, see See) {
	c.fault, c.want, c.see = f, nil, see
	c.spoil()
	c.goWhole(0)
}

// goWhole looks at a node and what is below it on the whole island, with the fault as a part of its network.
func (c *Closeup) goWhole(node int) {
	if c.whole == nil {
		c.whole = c.frames.workbench().with(c.fault)
		c.start = c.whole.Save()
	} else {
		c.whole.Back(c.start)
	}
	var path []int
	for k := node; k > 0; k = c.tree.nodes[k].parent {
		path = append(path, k)
	}
	shows, shown := Shows{}, false
	for _, k := range slices.Backward(path) {
		shows, shown = c.takeWhole(k, shows, shown)
	}
	if c.lost() {
		c.spoil()
		c.goWhole(node)
		return
	}
	c.visitWhole(node, shows, shown)
}

// spoil makes the fault a part of the network of a bench of its own.
func (c *Closeup) spoil() {
	c.whole = c.frames.still.With(c.fault)
	c.start = c.whole.Save()
}

// lost says that the workbench is used and found no answer.
func (c *Closeup) lost() bool {
	w := c.frames.work
	return w != nil && c.whole == w.bench && w.lost
}

func (c *Closeup) takeWhole(node int, shows Shows, shown bool) (Shows, bool) {
	step := c.tree.nodes[node].step
	got := c.whole.Take(step)
	if step.Show == "" || !c.isNear(step.Show) {
		return shows, shown
	}
	return got, true
}

func (c *Closeup) visitWhole(node int, shows Shows, shown bool) {
	c.look(node, c.whole, shows, shown)
	n := &c.tree.nodes[node]
	if len(n.children) == 0 {
		return
	}
	bench, st := c.whole, c.whole.Save()
	for _, child := range n.children {
		switch {
		case !c.wants(child):
			continue
		case c.whole != bench: // the workbench was left
			c.goWhole(child)
			continue
		}
		c.whole.Back(st)
		got, has := c.takeWhole(child, shows, shown)
		if c.lost() {
			c.spoil()
			c.goWhole(child)
		} else {
			c.visitWhole(child, got, has)
		}
	}
}
