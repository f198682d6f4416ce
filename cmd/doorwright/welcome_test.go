package main

import (
	"strings"
	"testing"
)

// What newcomers are told to run works as it is printed, but for the pages, which go on, and a job that is theirs.
func TestNextStepsWork(t *testing.T) {
	ran := 0
	for _, next := range nextSteps() {
		args := strings.Fields(strings.TrimPrefix(next.command, "go run ./cmd/doorwright "))
		if args[0] == "serve" || args[len(args)-1] == "job.yaml" {
			continue
		}
		if printed(t, args...) == "" {
			t.Errorf("%s prints nothing", next.command)
		}
		ran++
	}
	if ran < 4 {
		t.Errorf("only %d ran", ran)
	}
}
