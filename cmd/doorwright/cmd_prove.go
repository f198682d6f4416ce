package main

import (
	"doorwright/job"
	"doorwright/proof"
)

// proveCmd proves a job.
type proveCmd struct {
	File  string `arg:"" help:"Job document, - for standard input, or demo:brackwater."`
	Rules bool   `help:"List every rule of every door, not only their counts."`
	Door  string `help:"Show only this door."`
}

// Help is what the command's help says beyond its flags.
func (proveCmd) Help() string {
	return `Exit code 0: no error was found by calculation (advice is allowed). 1: errors. 2: unusable input.

Examples:

    doorwright prove demo:flawed
    doorwright prove job.yaml --rules
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
	v := &view{loaded: l, door: door}
	e.code = codeOf(v.proved())
	return e.show(proofSheet(v, c.Rules))
}

// codeOf is the exit code for what was proved.
func codeOf(r *proof.Result) int {
	if r.Counts.Errors > 0 {
		return exitErrors
	}
	return exitFine
}

// view is what a document is made from: a job, and what of it was asked for.
type view struct {
	*loaded
	door    *job.Door // only this door; nil for all
	by      string
	reasons bool
	cause   string
	limit   string // name of the limit case
	result  *proof.Result
}

// proved is the proof of the job, made once.
func (v *view) proved() *proof.Result {
	if v.result == nil {
		v.result = proof.Prove(v.plan)
	}
	return v.result
}

// wants says whether what belongs to the door with this id was asked for.
func (v *view) wants(door string) bool { return v.door == nil || v.door.ID == door }

// doors lists the doors that were asked for.
func (v *view) doors() []*job.Door {
	if v.door != nil {
		return []*job.Door{v.door}
	}
	return v.job.Doors
}
