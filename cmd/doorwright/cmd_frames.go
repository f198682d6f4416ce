package main

import (
	"errors"

	"doorwright/signal"
)

// framesCmd takes a capture of a serial line apart.
type framesCmd struct {
	File  string `arg:"" optional:"" help:"File of the capture; - for the standard input."`
	Hex   string `help:"The bytes themselves, in place of a file." placeholder:"BYTES"`
	All   bool   `help:"List every frame, also polls that were answered with nothing new."`
	Cards string `help:"File with card formats of your own." placeholder:"FILE"`
}

// Help is what the command's help says beyond its flags.
func (framesCmd) Help() string {
	return `Reads a capture of the open supervised device protocol (IEC 60839-11-5) in hexadecimal: bytes with or without ` +
		`blanks, commas, 0x or \x; at the start of a line a time, a direction (TX, RX, > ...) or an offset; remarks behind # or |. ` +
		`The verdict comes first. Exit code 1 says that something is wrong on the line.

Examples:

    doorwright frames capture.txt
    doorwright frames capture.txt --all --format csv
    doorwright frames --hex "53 00 08 00 04 60 EB AA"
`
}

// Run reads the capture and shows what it says.
func (c *framesCmd) Run(e *env) error {
	text, name := []byte(c.Hex), "--hex"
	switch {
	case c.File != "" && c.Hex != "":
		return errors.New("give a file or --hex, not both")
	case c.File == "" && c.Hex == "":
		return errors.New("give the file of a capture, - for the standard input, or the bytes with --hex")
	case c.File != "":
		var err error
		if text, err = e.fetch(c.File, "the file of a capture"); err != nil {
			return err
		}
		name = c.File
	}
	formats, err := (&cardCmd{Cards: c.Cards}).formats(e)
	if err != nil {
		return err
	}
	b, wrong := signal.ReadBytes(name, string(text))
	if len(wrong) > 0 {
		return e.refuse(problemsOf(wrong))
	}
	s := trafficOf(b, formats)
	s.all = c.All
	for _, f := range s.Findings {
		if f.Fault {
			e.code = exitErrors
		}
	}
	return e.show(s)
}
