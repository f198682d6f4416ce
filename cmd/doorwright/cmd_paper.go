package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"doorwright/demo"
	"doorwright/draw"
	"doorwright/job"
	"doorwright/mend"
	"doorwright/paper"
	"doorwright/proof"
	"doorwright/record"
)

// output is one document that paper knows. Pages is nil for the schedules, which are no pages.
type output struct {
	name, says string
	of         extent
	pages      func(c *paperCmd, w *paper.Work, f paper.Frame, door *job.Door) (*paper.Paper, error)
}

// extent is what a paper is about, and how much must be examined for it.
type extent int

const (
	ofJob   extent = iota // the whole job, always
	ofDoor                // with --door that door alone, by the examination of what shares copper with it
	ofNames               // with --door that door alone; made from the plan, without any examination
)

// outputs is the one list of them.
func outputs() []output {
	return []output{
		{"door-sheet", "what a technician carries to one door (with --door), or to all", ofDoor, doorSheets},
		{"job-set", "schedules, matrix to sign, faults, supplies, findings", ofJob, jobSet},
		{"handover", "the pack that is left with the client, from --record", ofJob, handover},
		{"labels", "cables, cores, devices, supplies and batteries", ofNames, labels},
		{"schedules", "all schedules as a workbook; one as CSV with --schedule", ofJob, nil},
	}
}

// paperCmd writes one paper of a job.
type paperCmd struct {
	What     string   `arg:"" help:"Which paper, of the list above."`
	File     string   `arg:"" help:"Job document, - for standard input, or demo:brackwater."`
	Door     string   `of:"door-sheet,labels" placeholder:"ID" help:"Door sheet, labels: only this door."`
	Done     string   `name:"record" placeholder:"FILE" help:"Record of what was done: a file, or demo:record."`
	Size     string   `of:"door-sheet,job-set,handover,labels" enum:"a4,letter" default:"a4" help:"Size of sheet: a4 or letter."`
	Out      string   `short:"o" placeholder:"FILE" help:"File to write; default the standard output."`
	Page     int      `of:"door-sheet,job-set,handover,labels" placeholder:"N" help:"Only this page, as SVG for a screen."`
	Issued   string   `of:"door-sheet,job-set,handover,labels" placeholder:"DATE" help:"Date of issue, such as 2026-10-12; left open without."`
	Owner    string   `of:"door-sheet,job-set,handover" placeholder:"NAME" help:"Legal owner, for the title block."`
	Made     string   `of:"door-sheet,job-set,handover" placeholder:"NAME" help:"Who made it, for the title block."`
	Approved string   `of:"door-sheet,job-set,handover" placeholder:"NAME" help:"Who approved it, for the title block."`
	Faults   string   `of:"door-sheet,job-set,handover" enum:"none,single,pairs" default:"none" help:"Job set, handover, door sheet: which faults are tried: none, single or pairs."`
	Schedule string   `of:"schedules" placeholder:"NAME" help:"Schedules: only this one, as CSV: doors, cables, terminations ..."`
	Only     []string `of:"labels" placeholder:"KIND" help:"Labels: only these kinds: cables, cores, devices, supplies."`
	Grid     string   `of:"labels" default:"3x8" help:"Labels: columns by rows of a label sheet."`
	Label    string   `of:"labels" default:"64x34" help:"Labels: width by height of a label, in mm."`
	Pitch    string   `of:"labels" placeholder:"AxB" help:"Labels: distance of labels from edge to edge, across by down, in mm; default without gaps."`
	Margin   string   `of:"labels" placeholder:"AxB" help:"Labels: left by top margin of the label sheet, in mm; default centred."`
	Tape     *int     `of:"labels" placeholder:"MM" help:"Labels: on a continuous tape of this width in mm, one label to a page."`
}

// Help lists the papers.
func (paperCmd) Help() string {
	list := "WHAT is one of\n\n"
	for _, p := range outputs() {
		list += "    " + p.name + spaces(13-len(p.name)) + p.says + "\n"
	}
	return list + `
Examples:

    doorwright paper door-sheet demo:brackwater --door staff -o staff.pdf
    doorwright paper job-set job.yaml --faults single -o set.pdf
    doorwright paper handover demo:brackwater --record demo:record -o pack.pdf
    doorwright paper schedules job.yaml -o job.xlsx
    doorwright paper labels job.yaml --tape 12 -o labels.pdf
`
}

// Run writes the paper.
func (c *paperCmd) Run(e *env) error {
	var known []string
	for _, p := range outputs() {
		if p.name == c.What {
			return c.write(e, p)
		}
		known = append(known, p.name)
	}
	return unknown(c.What, "paper", known)
}

func (c *paperCmd) write(e *env, p output) error {
	if err := c.fits(e, p); err != nil {
		return err
	}
	onScreen := e.terminal && (c.Out == "" || c.Out == "-")
	if onScreen && p.pages != nil && c.Page == 0 {
		return fmt.Errorf("a PDF is nothing to read here; write it to a file, such as -o %s.pdf", p.name)
	}
	if onScreen && p.pages == nil && c.Schedule == "" {
		return fmt.Errorf("a workbook is nothing to read here; write it to a file, such as -o %s.xlsx, or choose one with --schedule", p.name)
	}
	w, door, err := c.work(e, p)
	if err != nil {
		return err
	}
	f, err := c.frame()
	if err != nil {
		return err
	}
	data, err := c.made(p, w, f, door)
	if err != nil {
		return err
	}
	if c.Out == "" || c.Out == "-" {
		_, err = e.out.Write(data)
		return err
	}
	return save(c.Out, data)
}

// fits says what was asked for that goes with other papers only, or with no paper.
func (c *paperCmd) fits(e *env, p output) error {
	return errors.Join(e.fits("paper", p.name), c.onTape(e), c.formatted(e, p))
}

// onTape says which options were given that are about sheets of labels, where the labels go on a tape.
func (c *paperCmd) onTape(e *env) error {
	var wrong []error
	for _, name := range []string{"size", "grid", "label", "pitch", "margin"} {
		if c.Tape != nil && e.gave(name) {
			wrong = append(wrong, fmt.Errorf("--%s is of label sheets, and --tape of a tape: leave one out", name))
		}
	}
	return errors.Join(wrong...)
}

// formatted says that a paper does not come in the format asked for.
func (c *paperCmd) formatted(e *env, p output) error {
	csv := p.pages == nil && c.Schedule != ""
	switch {
	case csv && e.format != "text" && e.format != "csv":
		return fmt.Errorf("a schedule is CSV here and has no format %s; see doorwright show", e.format)
	case !csv && e.format != "text":
		kind := "a PDF"
		if p.pages == nil {
			kind = "a workbook, or one of them CSV with --schedule,"
		}
		return fmt.Errorf("%s: %s has no format %s", p.name, kind, e.format)
	}
	return nil
}

func (c *paperCmd) made(p output, w *paper.Work, f paper.Frame, door *job.Door) ([]byte, error) {
	if p.pages == nil {
		return c.schedules(w)
	}
	pages, err := p.pages(c, w, f, door)
	if err != nil {
		return nil, err
	}
	return c.bytes(pages)
}

// work reads the job and its record, and calculates what papers need.
func (c *paperCmd) work(e *env, p output) (*paper.Work, *job.Door, error) {
	l, err := e.load(c.File)
	if err != nil {
		return nil, nil, err
	}
	door, err := findDoor(l.job, c.Door)
	if err != nil {
		return nil, nil, err
	}
	done, err := c.record(e, l)
	if err != nil {
		return nil, nil, err
	}
	x := examinedFor(p.of, l.job, door)
	if c.Faults != "none" {
		x.Add(proof.TryFaults(x.Result, depthOf(c.Faults), door, e.progress(faultsTried)))
	}
	return paper.NewWork(x, done), door, nil
}

// examinedFor is the examination of as much of a job as a paper tells of.
func examinedFor(of extent, j *job.Job, door *job.Door) *mend.Examination {
	x := mend.NewExaminer()
	switch {
	case of == ofNames:
		return x.ExamineAround(j, nil)
	case of == ofDoor && door != nil:
		return x.ExamineAround(j, []string{door.ID})
	}
	return x.Examine(j)
}

// demoRecord stands in place of a file.
const demoRecord = "demo:record"

// record reads what was done; nil when nothing was given.
func (c *paperCmd) record(e *env, l *loaded) (*record.Record, error) {
	data := demo.Record
	switch c.Done {
	case "":
		return nil, nil
	case demoRecord:
	default:
		var err error
		if data, err = e.fetch(c.Done, "the file of a record, demo:record"); err != nil {
			return nil, err
		}
	}
	done, wrong := record.Read(c.Done, data, l.plan)
	if len(wrong) > 0 {
		return nil, e.refuse(problems{Document: wrong})
	}
	return done, nil
}

// frame is the title block, as far as the command line knows it.
func (c *paperCmd) frame() (paper.Frame, error) {
	size, _ := paper.FindSize(c.Size) // the command line allows only those there are
	f := paper.Frame{Size: size, Owner: c.Owner, Made: c.Made, Approved: c.Approved}
	if c.Issued == "" {
		return f, nil
	}
	if err := f.Issued.UnmarshalText([]byte(c.Issued)); err != nil {
		return f, fmt.Errorf("--issued: %w", err)
	}
	return f, nil
}

func doorSheets(_ *paperCmd, w *paper.Work, f paper.Frame, door *job.Door) (*paper.Paper, error) {
	if door != nil {
		return w.DoorSheet(f, door)
	}
	return w.DoorSheets(f)
}

func jobSet(_ *paperCmd, w *paper.Work, f paper.Frame, _ *job.Door) (*paper.Paper, error) {
	return w.JobSet(f), nil
}

func handover(_ *paperCmd, w *paper.Work, f paper.Frame, _ *job.Door) (*paper.Paper, error) {
	return w.Handover(f), nil
}

// labels are those of a job on sheets or on a tape.
func labels(c *paperCmd, w *paper.Work, f paper.Frame, door *job.Door) (*paper.Paper, error) {
	stock, err := c.stock(f.Size)
	if err != nil {
		return nil, err
	}
	p, err := w.Labels(stock, door, c.Only...)
	if err != nil {
		return nil, err
	}
	p.Issued = f.Issued
	return p, nil
}

// bytes is a paper as it is written: PDF, or one page as SVG.
func (c *paperCmd) bytes(p *paper.Paper) ([]byte, error) {
	switch {
	case c.Page == 0:
		return p.PDF()
	case c.Page < 0 || c.Page > len(p.Pages):
		return nil, fmt.Errorf("--page %d: the paper has pages 1 to %d", c.Page, len(p.Pages))
	}
	return draw.SVG(p.Pages[c.Page-1]), nil
}

// schedules are the workbook, or one of them as CSV.
func (c *paperCmd) schedules(w *paper.Work) ([]byte, error) {
	if c.Schedule == "" {
		return paper.Workbook(w.Schedules())
	}
	var known []string
	for _, k := range paper.ScheduleKinds() {
		if k.Name == c.Schedule {
			return w.Schedule(k).CSV(), nil
		}
		known = append(known, k.Name)
	}
	return nil, unknown(c.Schedule, "schedule", known)
}

// stock is what the labels are printed on.
func (c *paperCmd) stock(size paper.Size) (paper.Stock, error) {
	if c.Tape != nil {
		return paper.Tape(draw.MM(*c.Tape)), nil
	}
	s := paper.Stock{Page: size}
	across, down, err := pairOf("--grid", c.Grid)
	if err != nil {
		return s, err
	}
	s.Columns, s.Rows = int(across), int(down)
	if s.Wide, s.High, err = pairOf("--label", c.Label); err != nil {
		return s, err
	}
	s.Across, s.Down = s.Wide, s.High
	if c.Pitch != "" {
		if s.Across, s.Down, err = pairOf("--pitch", c.Pitch); err != nil {
			return s, err
		}
	}
	if c.Margin == "" {
		return s.Centred(), nil
	}
	s.Left, s.Top, err = pairOf("--margin", c.Margin)
	return s, err
}

// pairOf reads two lengths such as 64x34.
func pairOf(flag, text string) (across, down draw.MM, err error) {
	first, second, _ := strings.Cut(strings.ToLower(text), "x")
	a, wrong := strconv.ParseFloat(strings.TrimSpace(first), 64)
	b, also := strconv.ParseFloat(strings.TrimSpace(second), 64)
	if wrong != nil || also != nil || !(a >= 0 && a < 1e4 && b >= 0 && b < 1e4) {
		return 0, 0, fmt.Errorf("%s: %q is no pair of lengths; write it like 64x34", flag, text)
	}
	return draw.MM(a), draw.MM(b), nil
}
