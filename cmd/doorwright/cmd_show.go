package main

// listing is one document that show knows.
type listing struct {
	name, says string
	make       func(v *view) (sheet, error)
}

// listings is the one list of them, in the order of the work.
func listings() []listing {
	return []listing{
		{"landings", "what lands on each terminal; --by run: cores of each cable", landingSheet},
		{"cables", "cable schedule: lengths, cores used and spare", cableSheet},
		{"materials", "what to order: devices, components, cable", materialSheet},
		{"loads", "what each supply has to give", loadSheet},
		{"matrix", "cause-and-effect matrix", matrixSheet},
		{"findings", "what fails or has too little margin", findingSheet},
		{"faults", "every single fault, what becomes of the door and what shows it", faultSheet},
		{"rules", "every rule of every door: held, broken or not judged", ruleSheet},
		{"assumptions", "what the document left out and what it was taken as", assumptionSheet},
		{"conductors", "every conductor with its reason", conductorSheet},
		{"nodes", "every node's voltage, with --door and --cause", nodeSheet},
	}
}

// showCmd shows one document of a job.
type showCmd struct {
	What    string `arg:"" help:"Which document, of the list above."`
	File    string `arg:"" help:"Job document, - for standard input, or demo:brackwater."`
	Door    string `placeholder:"ID" help:"Show only what belongs to this door."`
	By      string `of:"landings" enum:"door,device,run" default:"door" help:"Order of the landings: door, device or run."`
	Reasons bool   `of:"landings" help:"Landings: say why each conductor is there and what happens without it."`
	Cause   string `of:"nodes" default:"idle" help:"Nodes: the cause; see doorwright causes."`
	Step    string `of:"nodes" placeholder:"STEP" help:"Nodes: the step of the cause to stop after, by number or name; where it acts when left out."`
	Case    string `of:"nodes" placeholder:"CASE" help:"Nodes: the limit case; nominal when left out."`
	Fault   string `of:"nodes" placeholder:"ID" help:"Nodes: with this fault, by its id; see show faults."`
	Faults  string `of:"findings,faults,rules" enum:"none,single,pairs" default:"single" help:"Findings, rules, faults: which faults are tried: none, single or pairs."`
	Mends   bool   `of:"findings" help:"Findings: look for changes that mend each."`
}

// Help lists the documents.
func (showCmd) Help() string {
	list := "WHAT is one of\n\n"
	for _, p := range listings() {
		list += "    " + p.name + spaces(13-len(p.name)) + p.says + "\n"
	}
	return list + `
Examples:

    doorwright show landings demo:brackwater --door visitor
    doorwright show landings job.yaml --by run --reasons
    doorwright show loads job.yaml --format csv > loads.csv
    doorwright show faults demo:brackwater --door plant
    doorwright show nodes demo:brackwater --door plant --cause release
`
}

// Run shows.
func (c *showCmd) Run(e *env) error {
	var known []string
	for _, p := range listings() {
		if p.name == c.What {
			return c.show(e, p)
		}
		known = append(known, p.name)
	}
	return unknown(c.What, "document", known)
}

func (c *showCmd) show(e *env, p listing) error {
	if err := e.fits("show", p.name); err != nil {
		return err
	}
	l, err := e.load(c.File)
	if err != nil {
		return err
	}
	door, err := findDoor(l.job, c.Door)
	if err != nil {
		return err
	}
	v := &view{
		loaded: l, door: door, by: c.By, reasons: c.Reasons, mends: c.Mends, cause: c.Cause, step: c.Step, limit: c.Case, fault: c.Fault,
		faults: notAsked, progress: e.progress,
	}
	switch c.What {
	case "findings", "rules", "faults":
		v.faults = depthOf(c.Faults)
	}
	s, err := p.make(v)
	if err != nil {
		return err
	}
	return e.show(s)
}
