package main

import (
	"doorwright/mend"
)

// proveCmd proves a job.
type proveCmd struct {
	File  string `arg:"" help:"Job document, - for standard input, or demo:brackwater."`
	Rules bool   `help:"List every rule of every door, not only their counts."`
	Mends bool   `default:"true" negatable:"" help:"Look for changes that mend each finding; --no-mends is quicker."`
	Door  string `placeholder:"ID" help:"Examine and show only this door, with what shares copper with it."`

	Faults string `enum:"none,single,pairs" default:"single" help:"Try every single fault, or silent ones in pairs as well: none, single or pairs. What can be done from the unsecured side is always tried."`
}

// Help is what the command's help says beyond its flags.
func (proveCmd) Help() string {
	return `Exit code 0: no error was found by calculation (advice is allowed). 1: errors. 2: unusable input.

Examples:

    doorwright prove demo:flawed
    doorwright prove job.yaml --rules
    doorwright prove job.yaml --faults pairs
    doorwright prove job.yaml --format json | less
    doorwright prove - --format sarif < job.yaml
`
}

// Run proves.
func (c *proveCmd) Run(e *env) error {
	l, err := e.load(c.File)
	if err != nil {
		return err
	}
	door, err := findDoor(l.job, c.Door)
	if err != nil {
		return err
	}
	v := &view{loaded: l, door: door, mends: c.Mends, faults: depthOf(c.Faults), progress: e.progress}
	e.code = codeOf(v.examined())
	return e.show(proofSheet(v, c.Rules))
}

// codeOf is the exit code for what was found.
func codeOf(x *mend.Examination) int {
	if x.Counts.Errors > 0 {
		return exitErrors
	}
	return exitFine
}
