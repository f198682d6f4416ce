package situation

import (
	"doorwright/circuit"
	"doorwright/device"
	"doorwright/unit"
)

// nearState is where everything near the door stands.
type nearState struct {
	on      []bool
	mem     []device.Memory
	circuit circuit.LocalState
	flat    bool
	now     unit.Second
	outcome Outcome
	stale   bool
	frame   *frame
}

func (c *Closeup) save() *nearState {
	st := &nearState{}
	if spare := &c.frames.desk.spare; len(*spare) > 0 {
		st, *spare = (*spare)[len(*spare)-1], (*spare)[:len(*spare)-1]
	}
	b := c.bench
	st.on, st.mem = st.on[:0], st.mem[:0]
	for _, k := range c.slots {
		st.on = append(st.on, b.on[k])
	}
	for _, u := range b.units {
		st.mem = append(st.mem, b.mem[u.index])
	}
	c.local.Save(&st.circuit)
	st.flat, st.now, st.outcome, st.stale, st.frame = b.batteryEnd, b.now, b.outcome.kept(), b.stale, c.at
	return st
}

func (c *Closeup) back(st *nearState, region *circuit.Region) {
	b := c.bench
	for i, k := range c.slots {
		b.on[k] = st.on[i]
	}
	for i, u := range b.units {
		b.mem[u.index] = st.mem[i]
	}
	b.batteryEnd, b.now, b.outcome = st.flat, st.now, st.outcome
	c.enter(st.frame, region, st)
	b.stale, b.gone = st.stale, true
}
