// Command doorwright proves the wiring of electrically controlled doors and prints what a technician needs on site.
//
// It reads a job document and does everything the engine can do without a page or a network: findings, schedules,
// expected readings, netlists. Texts are for people, CSV and JSON for programs.
package main

import (
	"os"
	"runtime/debug"
)

// garbage is how much of the memory in use may be added before what is no longer used is given back, in percent: a thousand
// doors are to be proved within 1 GiB on a small machine, and looking that often costs nothing to speak of. GOGC overrules it.
const garbage = 45

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(garbage)
	}
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
