package main

import (
	"errors"
	"fmt"
	"strings"

	"doorwright/document"
	"doorwright/find"
	"doorwright/job"
	"doorwright/meter"
	"doorwright/situation"
	"doorwright/wiring"
)

// findCmd names what is wrong at a door, and what to read next.
type findCmd struct {
	File     string   `arg:"" optional:"" help:"Job document, - for standard input, or demo:brackwater; none with --as-found."`
	AsFound  string   `placeholder:"FILE" help:"A door that somebody else wired, described in a few lines, in place of a job."`
	Door     string   `placeholder:"ID" help:"The door; the file of readings may name it."`
	Readings string   `placeholder:"FILE" help:"File of readings and observations, YAML or JSON."`
	Read     []string `sep:"none" placeholder:"TEXT" help:"A reading: \"C1 NC1; C1 0V; idle; volts 0.02 V\"."`
	See      []string `sep:"none" placeholder:"TEXT" help:"An observation: \"lock holds; idle; no\"."`
	Call     []string `sep:"none" placeholder:"TEXT" help:"What somebody called for, in the same words: one thing out of all that is wrong. It tells more than an observation."`
	Loop     []string `sep:"none" placeholder:"TEXT" help:"A measured loop of a run: \"W7; 1.2 ohm\"."`
	Opening  string   `help:"File that the first questions at the door are kept in, to be asked at once next time; it is made when it is not there." placeholder:"FILE"`
	Most     int      `default:"5" help:"How many groups of suspects to list; 3 at the end of questions when left out."`
}

// Help is what the command's help says beyond its flags.
func (findCmd) Help() string {
	var sights []string
	for _, s := range meter.Sights() {
		sights = append(sights, string(s))
	}
	return `Without readings it asks what is wrong, and then for one reading after another until the fault is found.

Conditions: idle, button, card, release, door-open, fire, battery, off, "off, release", "off, C1/P3 pulled", ` +
		`"off, visitor.lock1 alone". Observations: ` + strings.Join(sights, ", ") + `.
A card number read wrong tells most as both numbers, written as for the command card.

Examples:

    doorwright find demo:brackwater --door plant
    doorwright find demo:brackwater --door plant --call "lock holds; idle; no"
    doorwright find demo:brackwater --door plant \
        --see "number read was; card; 165/65211 expected 90/324"
    doorwright find job.yaml --door D1 --read "C1 NC1; C1 0V; idle; volts 0.1 V"
    doorwright find job.yaml --door staff --readings staff.yaml --format json
    doorwright find job.yaml --door staff --opening staff.opening.json
    doorwright find --as-found back-door.yaml
`
}

// Run finds.
func (c *findCmd) Run(e *env) error {
	if c.Most < 1 {
		return fmt.Errorf("--most %d: list one group of suspects at least", c.Most)
	}
	if c.AsFound != "" && c.Door != "" {
		return errors.New("--as-found describes one door, and --door has no other to choose from: leave one out")
	}
	notes := c.notes(e)
	if c.Door == "" && c.AsFound == "" {
		c.Door = notes.door
	}
	finder, err := c.finderFor(e, notes.wrong)
	if err != nil {
		return err
	}
	if wrong := notes.enter(finder); len(wrong) > 0 {
		return e.refuse(problems{Document: wrong})
	}
	if notes.told == 0 && e.format == "text" {
		if !e.gave("most") {
			c.Most = fewest
		}
		return talk(e, finder, c.Opening == "", c.Most) // an opening has the first question asked already
	}
	return e.show(findSheet(finder, c.Most))
}

// fewest is how many groups of suspects stand at the end of questions, where the first is the one that matters (a figure of our
// own choice).
const fewest = 3

// finderFor makes the finder for what was noted. Where that is wrong by itself, nothing will be asked; what is wrong with the job
// is told with it.
func (c *findCmd) finderFor(e *env, wrong document.Problems) (*find.Finder, error) {
	if len(wrong) == 0 {
		return c.opened(e)
	}
	e.beside = wrong
	defer func() { e.beside = nil }()
	f, err := c.finder(e)
	var told problems
	if err != nil && !errors.As(err, &told) {
		return nil, e.refuse(problems{Document: document.Problems{{Want: err.Error()}}})
	}
	return f, err
}

// finder makes the finder of the door that is asked for.
func (c *findCmd) finder(e *env) (*find.Finder, error) {
	if c.AsFound != "" {
		if c.File != "" {
			return nil, errors.New("give a job or --as-found, not both")
		}
		data, err := e.fetch(c.AsFound, "the file that describes the door")
		if err != nil {
			return nil, err
		}
		j, wrong := find.ReadAsFound(c.AsFound, data)
		if len(wrong) > 0 {
			return nil, e.refuse(problems{Document: wrong})
		}
		plan := wiring.Make(j)
		if len(plan.Problems) > 0 {
			return nil, e.refuse(problems{File: c.AsFound, Plan: plan.Problems})
		}
		return find.NewAsFound(situation.New(plan), find.FoundDoor, meter.Default())
	}
	if c.File == "" {
		return nil, errors.New("say which job, such as demo:brackwater, or describe the door with --as-found")
	}
	l, err := e.load(c.File)
	if err != nil {
		return nil, err
	}
	d, err := c.door(l.job)
	if err != nil {
		return nil, err
	}
	return find.New(situation.New(l.plan), d.ID, meter.Default())
}

func (c *findCmd) door(j *job.Job) (*job.Door, error) { return oneDoor(j, c.Door) }

// oneDoor is the door that was asked for, or the only one of a job.
func oneDoor(j *job.Job, id string) (*job.Door, error) {
	d, err := findDoor(j, id)
	if err != nil || d != nil {
		return d, err
	}
	if len(j.Doors) == 1 {
		return j.Doors[0], nil
	}
	return nil, fmt.Errorf("say which door, such as --door %s", j.Doors[0].ID)
}
