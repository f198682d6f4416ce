package main

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"doorwright/document"
	"doorwright/wiring"
)

// problems is everything that keeps a job from being used: faults of its document, or what cannot be wired.
type problems struct {
	File     string
	Document document.Problems
	Plan     []wiring.Problem
}

func (p problems) Error() string {
	if len(p.Document) > 0 {
		return p.Document.Error()
	}
	var lines []string
	for _, w := range p.Plan {
		lines = append(lines, w.Where+": "+w.What+"; "+w.Add)
	}
	return strings.Join(lines, "\n")
}

// text lists the problems, the place of each in its first line.
func (p problems) text(out *page) {
	for _, d := range p.Document {
		out.label(0, "ERROR", red, d.Error())
	}
	if len(p.Plan) > 0 {
		out.title(fmt.Sprintf("%s cannot be wired as it stands:", p.File))
	}
	for _, w := range p.Plan {
		out.label(0, "ERROR", red, w.Where+": "+w.What)
		out.hang(2, "Add:", bold, w.Add, 8)
	}
	out.say(0, plain, counted(len(p.Document)+len(p.Plan), "problem")+"; nothing was computed.")
}

// problem is one of them, for programs.
type problem struct {
	File   string `json:"file,omitempty"`
	Line   int    `json:"line,omitempty"`
	Column int    `json:"column,omitempty"`
	Where  string `json:"where"`
	Found  string `json:"found,omitempty"`
	What   string `json:"what"`
	Add    string `json:"add,omitempty"`
}

// sentence says the problem in one line, without its place in the file.
func (p problem) sentence() string {
	var parts []string
	if p.Where != "" {
		parts = append(parts, p.Where+":")
	}
	if p.Found != "" {
		parts = append(parts, "found "+p.Found+";")
	}
	parts = append(parts, p.What)
	if p.Add != "" {
		parts[len(parts)-1] += "; " + p.Add
	}
	return strings.Join(parts, " ")
}

func (p problems) list() []problem {
	all := []problem{}
	for _, d := range p.Document {
		all = append(all, problem{File: d.File, Line: d.Line, Column: d.Column, Where: d.Where, Found: d.Found, What: d.Want})
	}
	for _, w := range p.Plan {
		all = append(all, problem{File: p.File, Where: w.Where, What: w.What, Add: w.Add})
	}
	return all
}

// MarshalJSON writes the list under one key.
func (p problems) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Problems []problem `json:"problems"`
	}{p.list()})
}

// counted writes "1 door", "2 doors".
func counted(n int, what string) string {
	switch {
	case n == 1:
		return "1 " + what
	case strings.HasSuffix(what, "y"):
		return strconv.Itoa(n) + " " + strings.TrimSuffix(what, "y") + "ies"
	}
	return strconv.Itoa(n) + " " + what + "s"
}
