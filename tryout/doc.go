// Package tryout plays with a calculated door: somebody presses, shows a card, operates the release, drops the mains,
// cuts a core or bridges two, and sees what follows, in what order and why.
//
// A Play is plain data: what is altered in the wiring, the surroundings, and what was done since. Show replays it on the
// real network from the undisturbed state, so that the same play gives the same scene on any machine, a step is undone by
// leaving it out, and a play can be sent as a line of text. Every figure is calculated.
package tryout
