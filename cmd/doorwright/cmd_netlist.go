package main

import (
	"fmt"
	"io"
)

// netlistCmd writes the network of a door.
type netlistCmd struct {
	File  string `arg:"" help:"Job document, - for standard input, or demo:brackwater."`
	Door  string `placeholder:"ID" help:"The door; everything its conductors reach is in the network."`
	Cause string `default:"idle" help:"What happens; see doorwright causes."`
	Step  string `placeholder:"STEP" help:"The step of the cause to stop after, by number or name; where the cause acts when left out."`
	Case  string `placeholder:"CASE" help:"Limit case; nominal when left out."`
	Fault string `placeholder:"ID" help:"With this fault in it, by its id; see show faults."`
}

// Help is what the command's help says beyond its flags.
func (netlistCmd) Help() string {
	return `The deck has the node names of "show nodes", the switches as they stand at that instant, and the solution as ` +
		`starting voltages. Any SPICE simulator finds the same operating point.

Examples:

    doorwright netlist demo:brackwater --door plant --cause release > plant.cir
    doorwright netlist job.yaml --door staff --cause granted --step 2
    doorwright netlist job.yaml --door staff --case "low, windings hot"
`
}

// netlist is a deck, for programs.
type netlist struct {
	instant
	Netlist string `json:"netlist"`
}

// Run writes.
func (c *netlistCmd) Run(e *env) error {
	l, err := e.load(c.File)
	if err != nil {
		return err
	}
	at, bench, err := l.after(c.Door, c.Cause, c.Step, c.Case, c.Fault)
	if err != nil {
		return err
	}
	n := netlist{at, bench.Netlist(fmt.Sprintf("%s, door %s: %s (%s); case %s", l.job.ID, at.Door, at.Step, at.place(), at.Case) + withFault(at.Fault))}
	switch e.format {
	case "text":
		_, err = io.WriteString(e.out, n.Netlist)
	case "json":
		err = writeJSON(e.out, n)
	default:
		err = fmt.Errorf("a netlist has no format %s; use text or json", e.format)
	}
	return err
}
