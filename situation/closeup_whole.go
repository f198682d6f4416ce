package situation

import (
	"slices"

	"doorwright/fault"
)

// RunWhole takes the whole island, with the fault as a part of its network, through all sequences: what Run is held
// against.
func (c *Closeup) RunWhole(f *fault.Fault, see See) {
	c.fault, c.want, c.see, c.whole = f, nil, see, nil
	c.goWhole(0)
}

// goWhole looks at a node and what is below it on the whole island, with the fault as a part of its network.
func (c *Closeup) goWhole(node int) {
	if c.whole == nil {
		c.whole = c.frames.still.spoil(c.fault)
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
	c.visitWhole(node, shows, shown)
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
	st := c.whole.Save()
	for _, child := range n.children {
		if c.wants(child) {
			c.whole.Back(st)
			got, has := c.takeWhole(child, shows, shown)
			c.visitWhole(child, got, has)
		}
	}
}
