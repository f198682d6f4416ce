package main

import (
	"fmt"

	"doorwright/document"
)

// nodes is the voltage of every node of a door's island at one instant.
type nodes struct {
	instant
	Settled bool                 `json:"settled"`
	Nodes   document.Map[number] `json:"nodes"` // in the order of the devices
}

func nodeSheet(v *view) (sheet, error) {
	door := ""
	if v.door != nil {
		door = v.door.ID
	}
	at, bench, err := v.after(door, v.cause, v.step, v.limit, v.fault)
	if err != nil {
		return nil, err
	}
	n := nodes{instant: at, Settled: bench.Outcome().Settled()}
	for _, b := range bench.Nodes() {
		n.Nodes = append(n.Nodes, document.Entry[number]{Key: b.Name, Value: number(b.Volts)})
	}
	return n, nil
}

func (n nodes) text(p *page) {
	p.title(fmt.Sprintf("NODES %s, door %s", n.Job, n.Door))
	p.say(0, plain, fmt.Sprintf("After: %s (%s). Limit case: %s. Volts against earth, calculated.",
		n.Step, n.place(), n.Case))
	if !n.Settled {
		p.label(0, "ERROR", red, "This instant did not settle; the voltages are those of the last attempt.")
	}
	if n.Fault != "" {
		p.say(0, bold, "With the fault "+n.Fault+".")
	}
	p.gap()
	t := table{head: []string{"node", ">volts"}}
	for _, e := range n.Nodes {
		t.add(e.Key, fixed(float64(e.Value), 4))
	}
	p.table(0, t)
}

func (n nodes) table() table {
	t := table{head: []string{"node", "volts"}}
	for _, e := range n.Nodes {
		t.add(e.Key, e.Value.String())
	}
	return t
}
