package main

import (
	"doorwright/proof"
	"doorwright/rules"
)

// welcomeCmd shows newcomers what the command does.
type welcomeCmd struct{}

// Run proves the demo and says where to look next.
func (welcomeCmd) Run(e *env) error {
	l, err := e.load("demo:brackwater")
	if err != nil {
		return err
	}
	v := &view{loaded: l, faults: proof.SingleFaults, progress: e.progress}
	x := v.examined()
	e.code = codeOf(x)
	if e.format != "text" {
		return e.show(proofSheet(v, false))
	}
	p := e.page
	p.title("Doorwright proves the wiring of electrically controlled doors")
	p.gap()
	proofSheet(v, false).(proofReport).opening(p)
	p.say(0, bold, closingLine(x.Counts, overAll))
	p.gap()
	m := matrixOf(v)
	m.legend(p)
	m.block(p, combinations()[0])
	p.gap()
	p.title("Where to look next")
	for _, next := range nextSteps() {
		p.gap()
		p.say(2, plain, next.says)
		p.raw("    " + p.styled(bold, next.command))
	}
	p.gap()
	p.say(0, plain, rules.Caution)
	return nil
}

// nextSteps are commands that work as they are printed.
func nextSteps() []struct{ says, command string } {
	const run = "go run ./cmd/doorwright "
	return []struct{ says, command string }{
		{"The pages: the same job, and doors to play with, in the browser:", run + "serve --demo"},
		{"The same job with a dozen mistakes in it, and what mends each:", run + "prove demo:flawed"},
		{"What lands on every terminal of one door, with the reasons:", run + "show landings demo:brackwater --door visitor"},
		{"Every single fault of a door, and what shows it:", run + "show faults demo:brackwater --door plant"},
		{"What a meter should show, dead and live:", run + "meter demo:brackwater --door plant"},
		{"A job of your own: start from the demo's text, demo/brackwater.yaml, then", run + "prove job.yaml"},
		{"Everything else:", run + "--help"},
	}
}
