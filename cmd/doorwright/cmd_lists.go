package main

import (
	"doorwright/cable"
	"doorwright/job"
	"doorwright/meter"
	"doorwright/situation"
)

// causesCmd lists the causes.
type causesCmd struct{}

// causeList is what a job is put through.
type causeList struct {
	Causes []causeLine `json:"causes"`
}

type causeLine struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Where string `json:"where"` // one door, or everywhere
}

// Help is what the command's help says beyond its flags.
func (causesCmd) Help() string {
	return "Examples:\n\n    doorwright causes\n    doorwright causes --format json\n"
}

// Run lists.
func (causesCmd) Run(e *env) error {
	var s causeList
	for _, c := range situation.Causes() {
		where := "everywhere at once"
		if c.Door {
			where = "at one door"
		}
		s.Causes = append(s.Causes, causeLine{c.ID, c.Title, where})
	}
	return e.show(s)
}

func (s causeList) text(p *page) {
	p.title("CAUSES")
	p.say(0, plain, "Each starts with everything undisturbed, and is tried alone, and with a fire signal and with the manual "+
		"release operated where it does not begin with the same.")
	p.gap()
	t := s.table()
	t.head = []string{"cause", "what happens", "where"}
	p.table(2, t)
}

func (s causeList) table() table {
	t := table{head: []string{"id", "title", "where"}}
	for _, c := range s.Causes {
		t.add(c.ID, c.Title, c.Where)
	}
	return t
}

// cablesCmd lists cable types, or shows one.
type cablesCmd struct {
	Type string `arg:"" optional:"" help:"A cable type to show core by core."`
}

// Help is what the command's help says beyond its flags.
func (cablesCmd) Help() string {
	return "Examples:\n\n    doorwright cables\n    doorwright cables 4x0.75\n"
}

// Run lists or shows.
func (c *cablesCmd) Run(e *env) error {
	if c.Type == "" {
		return e.show(cableTypes{typeLines(cable.Types())})
	}
	t, ok := cable.Find(c.Type)
	if !ok {
		var known []string
		for _, t := range cable.Types() {
			known = append(known, t.ID)
		}
		return unknown(c.Type, "cable type", known)
	}
	return e.show(cableCores{t.ID, t.Title, coreFigures(t)})
}

// cableTypes is the list of types.
type cableTypes struct {
	Types []cableType `json:"cables"`
}

type cableType struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	MakeUp string `json:"make_up"`
	Cores  int    `json:"cores"`
}

func typeLines(types []cable.Type) []cableType {
	var all []cableType
	for _, t := range types {
		makeUp := t.MakeUp
		if makeUp == "" {
			makeUp = cable.IEC
		}
		all = append(all, cableType{t.ID, t.Title, makeUp, len(t.Cores())})
	}
	return all
}

func (s cableTypes) text(p *page) {
	p.title("CABLE TYPES")
	t := table{head: []string{"type", "what it is", "make-up"}}
	for _, c := range s.Types {
		t.add(c.ID, c.Title, c.MakeUp)
	}
	p.table(2, t)
}

func (s cableTypes) table() table {
	t := table{head: []string{"id", "title", "make_up", "cores"}}
	for _, c := range s.Types {
		t.add(c.ID, c.Title, c.MakeUp, coreText(c.Cores))
	}
	return t
}

// cableCores is one type, core by core.
type cableCores struct {
	ID    string      `json:"id"`
	Title string      `json:"title"`
	Cores []cableCore `json:"cores"`
}

type cableCore struct {
	Core     int    `json:"core"`
	Colour   string `json:"colour"`
	Size     string `json:"size"`
	Strand   string `json:"strand"`
	Pair     int    `json:"pair,omitempty"`
	Screened bool   `json:"screened"`
	PerMetre number `json:"ohms_per_metre"` // at 20 C
	Most     number `json:"ohms_per_metre_max"`
}

func coreFigures(t cable.Type) []cableCore {
	var all []cableCore
	for _, c := range t.Cores() {
		r := c.Conductor.Resistance(1, standard)
		strand := c.Conductor.Strand
		if strand == "" {
			strand = cable.Stranded
		}
		all = append(all, cableCore{
			c.Index, c.Colour, c.Conductor.Size.String(), string(strand), c.Pair, c.Screened,
			number(r.Nominal), number(r.Max),
		})
	}
	return all
}

func (s cableCores) text(p *page) {
	p.title("CABLE " + s.ID + ": " + s.Title)
	t := table{head: []string{">core", "colour", "size", "build", ">pair", ">ohm/km", ">at most"}}
	for _, c := range s.Cores {
		t.add(coreText(c.Core), colourText(c.Colour), c.Size, c.Strand, coreText(c.Pair),
			meter.Show(meter.Ohms, float64(c.PerMetre)*1000), meter.Show(meter.Ohms, float64(c.Most)*1000))
	}
	p.table(2, t)
	p.say(2, dim, "Resistance of one conductor at 20 C.")
}

func (s cableCores) table() table {
	t := table{head: []string{"core", "colour", "size", "strand", "pair", "ohms_per_metre", "ohms_per_metre_max"}}
	for _, c := range s.Cores {
		t.add(coreText(c.Core), c.Colour, c.Size, c.Strand, coreText(c.Pair), c.PerMetre.String(), c.Most.String())
	}
	return t
}

// schemaCmd prints the JSON Schema.
type schemaCmd struct{}

// Help is what the command's help says beyond its flags.
func (schemaCmd) Help() string {
	return "Editors that know JSON Schema check a job document while it is written.\n\n" +
		"Example:\n\n    doorwright schema > job.schema.json\n"
}

// Run prints.
func (schemaCmd) Run(e *env) error {
	if err := e.plainOnly("the schema is JSON and has", "json"); err != nil {
		return err
	}
	text, err := job.Schema()
	if err != nil {
		return err
	}
	_, err = e.out.Write(text)
	return err
}
