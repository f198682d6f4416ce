package main

import (
	"doorwright/job"
	"doorwright/mend"
)

// proveCmd proves a job.
type proveCmd struct {
	File  string `arg:"" help:"Job document, - for standard input, or demo:brackwater."`
	Rules bool   `help:"List every rule of every door, not only their counts."`
	Mends bool   `default:"true" negatable:"" help:"Look for changes that mend each finding; --no-mends is quicker."`
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
	v := &view{loaded: l, door: door, mends: c.Mends}
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

// view is what a document is made from: a job, and what of it was asked for.
type view struct {
	*loaded
	door        *job.Door // only this door; nil for all
	by          string
	reasons     bool
	mends       bool
	cause       string
	limit       string // name of the limit case
	examination *mend.Examination
}

// examined is the examination of the job, made once.
func (v *view) examined() *mend.Examination {
	if v.examination == nil {
		x := mend.NewExaminer()
		v.examination = x.Examine(v.job)
		if v.mends {
			x.All(v.job, v.examination)
		}
	}
	return v.examination
}

// wants says whether what belongs to the door with this id was asked for. What belongs to no door always is.
func (v *view) wants(door string) bool { return v.door == nil || v.door.ID == door || door == "" }

// doors lists the doors that were asked for.
func (v *view) doors() []*job.Door {
	if v.door != nil {
		return []*job.Door{v.door}
	}
	return v.job.Doors
}
