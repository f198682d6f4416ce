package main

import (
	"errors"
	"fmt"

	"doorwright/draw"
)

// drawing is one drawing that draw knows.
type drawing struct {
	name, says string
	door       bool // it is of one door
	make       func(v *view) (*draw.Sheet, error)
}

// drawings is the one list of them.
func drawings() []drawing {
	return []drawing{
		{"wiring", "every terminal and conductor of a door, or of --supply", false, wiringDrawing},
		{"elevation", "both sides of a door with its devices at their heights", true, func(v *view) (*draw.Sheet, error) {
			return draw.Elevation(v.plan, v.door), nil
		}},
		{"site", "places, the runs between them, network connections", false, func(v *view) (*draw.Sheet, error) {
			return draw.Site(v.plan), nil
		}},
		{"supply", "what hangs on a supply: volts, amperes, margins", false, supplyDrawing},
	}
}

// wiringDrawing draws the wiring of the door, or of the supply, that was asked for.
func wiringDrawing(v *view) (*draw.Sheet, error) {
	switch {
	case (v.door != nil) == (v.supply != ""):
		return nil, errors.New("a drawing of wiring is of one door or of one supply; name it with --door or with --supply")
	case v.door != nil:
		return draw.Wiring(v.plan, v.door), nil
	}
	s, err := v.supplyNamed()
	if err != nil {
		return nil, err
	}
	return draw.SupplyWiring(v.plan, s), nil
}

// drawCmd makes a drawing.
type drawCmd struct {
	What   string `arg:"" help:"Which drawing, of the list above."`
	File   string `arg:"" help:"Job document, - for standard input, or demo:brackwater."`
	Door   string `of:"wiring,elevation,supply" placeholder:"ID" help:"The door, for drawings of one door."`
	Supply string `of:"wiring,supply" placeholder:"ID" help:"Supply tree, wiring: of which supply; for the tree, that of the door when left out."`
	Cause  string `of:"supply" default:"idle" help:"Supply tree: after this cause at the door; see doorwright causes."`
	Step   string `of:"supply" placeholder:"STEP" help:"Supply tree: the step of the cause to stop after, by number or name; where it acts when left out."`
	Case   string `of:"supply" placeholder:"CASE" help:"Supply tree: the limit case; nominal when left out."`
	Output string `short:"o" placeholder:"FILE" help:"File to write; the standard output when left out."`
}

// Help lists the drawings.
func (drawCmd) Help() string {
	list := "WHAT is one of\n\n"
	for _, d := range drawings() {
		list += "    " + d.name + spaces(13-len(d.name)) + d.says + "\n"
	}
	return list + `
The drawing is SVG: a page shows it, a phone zooms into it, a browser prints it.

Examples:

    doorwright draw wiring demo:brackwater --door plant -o plant.svg
    doorwright draw supply demo:brackwater --supply PS2 -o ps2.svg \
        --case "low, windings hot"
`
}

// Run draws.
func (c *drawCmd) Run(e *env) error {
	var known []string
	for _, d := range drawings() {
		if d.name == c.What {
			return c.draw(e, d)
		}
		known = append(known, d.name)
	}
	return unknown(c.What, "drawing", known)
}

func (c *drawCmd) draw(e *env, d drawing) error {
	if err := e.fits("draw", d.name); err != nil {
		return err
	}
	if err := e.plainOnly("a drawing is SVG and has"); err != nil {
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
	if door == nil && d.door {
		return fmt.Errorf("a drawing of %s is of one door; name it with --door", d.name)
	}
	sheet, err := d.make(&view{loaded: l, door: door, supply: c.Supply, cause: c.Cause, step: c.Step, limit: c.Case, progress: e.progress})
	if err != nil {
		return err
	}
	data := draw.SVG(sheet)
	if c.Output == "" {
		_, err = e.out.Write(data)
		return err
	}
	return save(c.Output, data)
}
