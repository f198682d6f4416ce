package main

import (
	"fmt"
	"strings"

	"doorwright/device"
	"doorwright/document"
)

// modelsCmd lists built-in models, or shows one.
type modelsCmd struct {
	Model string `arg:"" optional:"" help:"A model to show in full, or a kind to list the models of."`
}

// Help is what the command's help says beyond its flags.
func (modelsCmd) Help() string {
	return `The models are generic. A unit from a data sheet goes under "models" in the job document, in the same form; ` +
		`device/models holds these as examples.

Examples:

    doorwright models
    doorwright models controller-1-12
    doorwright models magnet
`
}

// Run lists or shows.
func (c *modelsCmd) Run(e *env) error {
	all := device.Builtin()
	if c.Model == "" {
		return e.show(modelList{modelLines(all)})
	}
	m, ok := all.Get(c.Model)
	if !ok {
		return e.kind(c.Model, all)
	}
	full, err := inFull(c.Model, m)
	if err != nil {
		return err
	}
	return e.show(full)
}

// kind lists the models of a kind; a word that is no kind either is an error.
func (e *env) kind(word string, all device.Catalogue) error {
	var of []modelLine
	for _, m := range modelLines(all) {
		if m.Kind == word {
			of = append(of, m)
		}
	}
	if len(of) == 0 {
		known := all.IDs()
		for _, k := range device.Kinds() {
			known = append(known, k.Name)
		}
		return unknown(word, "model or kind", known)
	}
	return e.show(modelList{of})
}

// modelList is all models by kind.
type modelList struct {
	Models []modelLine `json:"models"`
}

type modelLine struct {
	ID    string `json:"id"`
	Kind  string `json:"kind"`
	Title string `json:"title"`
}

func modelLines(all device.Catalogue) []modelLine {
	var lines []modelLine
	for _, k := range device.Kinds() {
		for _, id := range all.IDs() {
			if m, _ := all.Get(id); m.Kind == k.Name {
				lines = append(lines, modelLine{id, k.Name, m.Title})
			}
		}
	}
	return lines
}

func (s modelList) text(p *page) {
	p.title("BUILT-IN MODELS")
	p.say(0, plain, "Generic, with the usual figures of the trade. Before you rely on one, hold its figures against the data "+
		"sheet of the unit in your hand.")
	kind := ""
	t := table{}
	for _, m := range s.Models {
		if m.Kind != kind {
			p.table(2, t)
			t = table{head: []string{"model", "what it is"}}
			kind = m.Kind
			p.gap()
			p.say(0, bold, kind)
		}
		t.add(m.ID, m.Title)
	}
	p.table(2, t)
}

func (s modelList) table() table {
	t := table{head: []string{"id", "kind", "title"}}
	for _, m := range s.Models {
		t.add(m.ID, m.Kind, m.Title)
	}
	return t
}

// modelInFull is one model.
type modelInFull struct {
	ID    string          `json:"id"`
	Kind  string          `json:"kind"`
	Title string          `json:"title"`
	Note  string          `json:"note,omitempty"`
	Strip []stripTerminal `json:"strip"`
	Ports []portFigures   `json:"ports"`
	Fits  []portFigures   `json:"fits"`
}

type stripTerminal struct {
	Label string `json:"label"`
	Pin   string `json:"pin"`
	Cores int    `json:"cores"`
	From  string `json:"from"`
	To    string `json:"to"`
	Plug  string `json:"plug,omitempty"`
}

// portFigures is one port, with its figures as they are written in a document.
type portFigures struct {
	Name    string   `json:"name"`
	Figures []string `json:"figures"`
}

func inFull(id string, m *device.Model) (modelInFull, error) {
	s := modelInFull{ID: id, Kind: m.Kind, Title: m.Title, Note: m.Note}
	for _, t := range m.Strip {
		from, to := t.Range()
		s.Strip = append(s.Strip, stripTerminal{t.Label, t.Pin, t.Takes(), from.String(), to.String(), t.Plug})
	}
	for _, e := range m.Ports {
		text, err := document.Print(e.Value)
		if err != nil {
			return s, err
		}
		s.Ports = append(s.Ports, portFigures{e.Key, figureLines(string(text))})
	}
	for _, e := range m.Fits {
		s.Fits = append(s.Fits, portFigures{e.Key, []string{e.Value}})
	}
	return s, nil
}

// figureLines gives the figures of a port one by one; those that are lists come in lines of their own, and are joined.
func figureLines(yaml string) []string {
	var all []string
	for line := range strings.Lines(yaml) {
		item, isItem := strings.CutPrefix(strings.TrimSpace(line), "- ")
		switch {
		case !isItem:
			all = append(all, strings.TrimSpace(line))
		case strings.HasSuffix(all[len(all)-1], ":"):
			all[len(all)-1] += " " + item
		default:
			all[len(all)-1] += " / " + item
		}
	}
	return all
}

func (s modelInFull) text(p *page) {
	p.title(s.ID + ": " + s.Title)
	p.say(0, plain, "Kind: "+s.Kind)
	if s.Note != "" {
		p.say(0, plain, s.Note)
	}
	p.gap()
	p.say(0, bold, "Terminals, in the order of the strip")
	t := table{head: []string{"label", "pin", ">cores", "sizes", "plug"}}
	for _, x := range s.Strip {
		t.add(x.Label, x.Pin, fmt.Sprint(x.Cores), x.From+" to "+x.To, x.Plug)
	}
	p.table(2, t)
	p.gap()
	p.say(0, bold, "Ports and their figures")
	for _, x := range s.Ports {
		p.hang(2, x.Name, bold, strings.Join(x.Figures, ", "), 18)
	}
	if len(s.Fits) > 0 {
		p.gap()
		p.say(0, bold, "Mounting")
	}
	for _, x := range s.Fits {
		p.hang(2, x.Name, bold, strings.Join(x.Figures, ", "), 18)
	}
}

func (s modelInFull) table() table {
	t := table{head: []string{"label", "pin", "cores", "from", "to", "plug"}}
	for _, x := range s.Strip {
		t.add(x.Label, x.Pin, fmt.Sprint(x.Cores), x.From, x.To, x.Plug)
	}
	return t
}
