package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"doorwright/document"

	"github.com/alecthomas/kong"
)

// The exit codes.
const (
	exitFine     = 0 // no error found by calculation; advice is allowed
	exitErrors   = 1 // the job has errors
	exitUnusable = 2 // the input could not be used: arguments, document or plan
)

// run does what the arguments ask and gives the exit code. Nothing else of the program touches the process.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	return runWide(args, stdin, stdout, stderr, widthFor(stdout))
}

// runWide runs with text of a width.
func runWide(args []string, stdin io.Reader, stdout, stderr io.Writer, width int) int {
	var g grammar
	left := false // help was printed, there is nothing more to do
	parser, err := kong.New(&g, kong.Name("doorwright"), kong.Description(description),
		kong.Vars{"version": thisVersion()}, kong.Writers(stdout, stderr), kong.Exit(func(int) { left = true }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: width}))
	if err != nil {
		return complain(stderr, "auto", fmt.Errorf("the command line is described wrongly: %w", err))
	}
	parsed, err := parser.Parse(args)
	if left {
		return exitFine
	}
	if err != nil {
		return complain(stderr, g.Colour, unparsed(parser, args, err))
	}
	out := bufio.NewWriter(stdout)
	e := &env{
		stdin: stdin, out: out, terminal: isTerminal(stdout), page: newPage(out, coloured(g.Colour, stdout), width),
		format: g.Format, given: given(parsed), flush: func() { out.Flush() }, //nolint:errcheck // the last flush tells
	}
	watching := newWatcher(stderr)
	e.progress = watching.of
	defer watching.stop()
	err = parsed.Run(e)
	if flushed := out.Flush(); err == nil && flushed != nil {
		err = fmt.Errorf("the output could not be written: %w", flushed)
	}
	if err != nil {
		return complain(stderr, g.Colour, err)
	}
	return e.code
}

// unparsed says what is wrong with arguments, and where they are explained.
func unparsed(parser *kong.Kong, args []string, err error) error {
	at := (*kong.ParseError)(nil)
	if !errors.As(err, &at) || at.Context == nil || at.Context.Selected() == nil {
		return fmt.Errorf("%w; see doorwright --help", err)
	}
	chosen := at.Context.Selected()
	var known []string
	for _, n := range parser.Model.Children {
		known = append(known, n.Name)
	}
	// The command that is run without any word is chosen for what is no command, too.
	if word := args[0]; !strings.HasPrefix(word, "-") && !slices.Contains(known, word) {
		return fmt.Errorf("%w; see doorwright --help", unknown(word, "command", known))
	}
	if m := startsWithDash.FindStringSubmatch(err.Error()); m != nil {
		return fmt.Errorf("%s: a value that begins with a dash is written as %s=%s; see %s --help", m[1], m[1], m[2], chosen.FullPath())
	}
	if m := lacksArgument.FindStringSubmatch(err.Error()); m != nil {
		is := "is"
		if strings.Contains(m[1], " ") {
			is = "are"
		}
		return fmt.Errorf("%s %s missing in doorwright %s; see %s --help", m[1], is, strings.TrimSuffix(chosen.Summary(), " [flags]"), chosen.FullPath())
	}
	if m := lacksCommand.FindStringSubmatch(err.Error()); m != nil {
		return fmt.Errorf("%s wants to know what to do: %s; see %s --help", chosen.FullPath(), m[1], chosen.FullPath())
	}
	if m := lacksValue.FindStringSubmatch(err.Error()); m != nil {
		return fmt.Errorf("%s is given without its value, which comes behind it; see %s --help", m[1], chosen.FullPath())
	}
	return fmt.Errorf("%w; see %s --help", err, chosen.FullPath())
}

// startsWithDash is what the parser says of a value that looks like a flag, such as a number below zero.
var startsWithDash = regexp.MustCompile(`^(--\S+): expected .* but got "(-\d.*)" \(`)

// lacksArgument is what the parser says when the line ends before all arguments are there.
var lacksArgument = regexp.MustCompile(`^expected "([^"]+)"$`)

// lacksCommand is what the parser says when a command has others under it and none of them is named.
var lacksCommand = regexp.MustCompile(`^expected one of (.+)$`)

// lacksValue is what the parser says of a flag behind which the line ends or another flag stands.
var lacksValue = regexp.MustCompile(`^(--\S+): expected .* but got ".*" \((?:<EOL>|long flag|short flag)\)`)

// env is what every command works with.
type env struct {
	stdin    io.Reader
	out      io.Writer
	terminal bool // out is read by a person at a terminal
	page     *page
	format   string
	given    []*kong.Flag // the options that stand on the command line
	// progress is told how much of a long run is done, and says whether to go on.
	progress func(what string) func(done, all int) bool
	code     int    // exit code when all goes well
	flush    func() // shows what was written so far, before something is asked
	// beside is what is wrong beside the document that is read now, and is told with what is wrong in that.
	beside document.Problems
}

// complain prints an error and gives the exit code for it.
func complain(stderr io.Writer, colour string, err error) int {
	out := bufio.NewWriter(stderr)
	p := newPage(out, coloured(colour, stderr), widthFor(stderr))
	var many problems
	if errors.As(err, &many) {
		many.text(p)
	} else {
		for _, one := range document.Apart(err) {
			p.label(0, "ERROR", red, one.Error())
		}
	}
	out.Flush() //nolint:errcheck // there is nowhere left to complain
	return exitUnusable
}
