package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"

	"doorwright/demo"
	"doorwright/document"
	"doorwright/job"
	"doorwright/wiring"
)

// maxInput bounds what is read from a file or a pipe. It is above what the reader of documents takes, so that the
// message about a document too large comes from there.
const maxInput = 32 << 20

// demos are the documents that come with the tool, under names that stand in place of a file.
func demos() []struct {
	name string
	data []byte
} {
	return []struct {
		name string
		data []byte
	}{{"demo:brackwater", demo.Brackwater}, {"demo:flawed", demo.Flawed}}
}

// loaded is a job with its wiring plan, and where its values stand in the document.
type loaded struct {
	file   string
	job    *job.Job
	plan   *wiring.Plan
	source *document.Source
}

// load reads a job and plans its wiring. What is wrong in the document, or cannot be wired, comes back as problems.
func (e *env) load(file string) (*loaded, error) {
	data, err := e.read(file)
	if err != nil {
		return nil, err
	}
	j, wrong := job.Read(file, data)
	if len(wrong) > 0 {
		return nil, e.refuse(problems{Document: wrong})
	}
	source, _ := document.Read(file, data, &job.Document{}) // it read well a moment ago
	plan := wiring.Make(j)
	if len(plan.Problems) > 0 {
		return nil, e.refuse(problems{File: file, Plan: plan.Problems})
	}
	return &loaded{file, j, plan, source}, nil
}

// refuse gives problems to programs on the standard output; to people they go the way of all errors.
func (e *env) refuse(p problems) error {
	p.Document = append(slices.Clone(e.beside), p.Document...)
	var err error
	switch e.format {
	case "json":
		err = writeJSON(e.out, p)
	case "sarif":
		err = writeJSON(e.out, p.sarif())
	}
	if err != nil {
		return err
	}
	return p
}

// read gives the text of a file, of the standard input for "-", or of a demo.
func (e *env) read(file string) ([]byte, error) {
	var known []string
	for _, d := range demos() {
		if d.name == file {
			return d.data, nil
		}
		known = append(known, d.name)
	}
	if strings.HasPrefix(file, "demo:") {
		return nil, fmt.Errorf("%q %s", file, document.Unknown(file, "demo", known))
	}
	return e.fetch(file, "the file of a job, demo:brackwater")
}

const orStandard = ", or - for the standard input"

// fetch gives the text of a file, or of the standard input for "-"; what says what belongs there.
func (e *env) fetch(file, what string) ([]byte, error) {
	if file == "-" {
		return limited(e.stdin, "the standard input", what)
	}
	f, err := os.Open(file)
	if err != nil {
		return nil, unread(file, err, what+orStandard)
	}
	defer f.Close()
	return limited(f, file, what+orStandard)
}

// unread says that a file cannot be read, and what to give.
func unread(file string, err error, give string) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err // it names the file and the system call again
	}
	return fmt.Errorf("%s cannot be read: %w; give %s", file, err, give)
}

// save writes a file.
func save(file string, data []byte) error {
	err := os.WriteFile(file, data, 0o644)
	if err == nil {
		return nil
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return fmt.Errorf("%s cannot be written: %w", file, err)
}

func limited(r io.Reader, name, give string) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxInput))
	if err != nil {
		return nil, unread(name, err, give)
	}
	return data, nil
}
