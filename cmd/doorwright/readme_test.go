package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
)

// The job that README.md begins with has no error, single faults tried: who copies it begins with a door that works.
func TestTheJobOfTheReadmeHasNoError(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(text), "```yaml\n")
	job, _, found := strings.Cut(rest, "```")
	if !found {
		t.Fatal("README.md has no job")
	}
	var out, wrong bytes.Buffer
	if code := run([]string{"prove", "-", "--no-mends"}, strings.NewReader(job), &out, &wrong); code != exitFine {
		t.Errorf("exit code %d: %s%s", code, wrong.String(), out.String())
	}
}
