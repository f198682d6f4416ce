// Command doorwright proves the wiring of electrically controlled doors and prints what a technician needs on site.
//
// It reads a job document and does everything the engine can do without a page or a network: findings, schedules,
// expected readings, netlists. Texts are for people, CSV and JSON for programs.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
