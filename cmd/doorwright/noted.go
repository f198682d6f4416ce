package main

import (
	"fmt"
	"slices"

	"doorwright/document"
	"doorwright/find"
	"doorwright/meter"
)

// noted is what was read and seen, from the file and from the command line.
type noted struct {
	door  string
	lines []line
	told  int // of the lines, those that are a reading or an observation
	wrong document.Problems
}

// line is one thing that was read, seen or mended.
type line struct {
	at           document.Problem // where it stands
	turn         int              // when it is entered: loops first, since they change what a reading says
	check, enter func(*find.Finder) error
}

// The turns.
const (
	loopTurn = iota
	mendTurn
	seenTurn
	readTurn
)

// add notes a line and what is wrong in it by itself.
func (n *noted) add(l line, err error) {
	n.wrong = append(n.wrong, problemsAt(l.at, err)...)
	n.lines = append(n.lines, l)
	if l.turn >= seenTurn {
		n.told++
	}
}

// problemsAt are the problems at a place, one for each of joined errors.
func problemsAt(at document.Problem, err error) document.Problems {
	var all document.Problems
	for _, one := range document.Apart(err) {
		at.Want = one.Error()
		all = append(all, at)
	}
	return all
}

// notes gathers what was read and seen, from the file and from the command line, with all that is wrong in it by itself.
func (c *findCmd) notes(e *env) *noted {
	n := &noted{}
	if c.Readings != "" {
		data, err := e.fetch(c.Readings, "a file of readings")
		if err == nil {
			n.file(c.Readings, data, c.Door)
		}
		n.wrong = append(n.wrong, problemsAt(document.Problem{}, err)...)
	}
	for _, text := range c.Read {
		r, err := meter.ParseReading(text)
		n.add(ofFlag("read", text).reading(r), err)
	}
	for _, text := range c.See {
		o, err := meter.ParseSeen(text)
		n.add(ofFlag("see", text).seen(o), err)
	}
	for _, text := range c.Call {
		o, err := meter.ParseSeen(text)
		o.Called = true
		n.add(ofFlag("call", text).seen(o), err)
	}
	for _, text := range c.Loop {
		l, err := meter.ParseLoop(text)
		n.add(ofFlag("loop", text).loop(l), err)
	}
	slices.SortStableFunc(n.lines, func(a, b line) int { return a.turn - b.turn })
	return n
}

// ofFlag is a line that stands on the command line.
func ofFlag(name, text string) line {
	return line{at: document.Problem{Where: fmt.Sprintf("--%s %q", name, text)}}
}

// file notes what stands in a file of readings.
func (n *noted) file(name string, data []byte, door string) {
	read, wrong := meter.ReadFile(name, data)
	source, _ := document.Read(name, data, &meter.File{})
	if door != "" && read.Door != "" && read.Door != door {
		wrong = append(wrong, source.Problem("door", "", fmt.Sprintf("the readings in %s are of door %s, and --door says %s; "+
			"give the file of that door, or leave --door out", name, read.Door, door)))
	}
	n.door, n.wrong = read.Door, wrong
	at := func(parts ...any) line {
		path := document.Path(parts...)
		return line{at: source.Problem(path, "", "")}
	}
	for _, l := range read.Loops {
		n.add(at("loops", l.Run).loop(l), nil)
	}
	for i, id := range read.Mended {
		l := at("mended", i)
		l.turn = mendTurn
		l.check, l.enter = func(f *find.Finder) error { return f.CheckMend(id) }, func(f *find.Finder) error { return f.Mend(id) }
		n.add(l, nil)
	}
	for i, o := range read.Seen {
		n.add(at("seen", i).seen(o), nil)
	}
	for i, r := range read.Readings {
		if r.At == "" || r.To == "" {
			continue // told already
		}
		n.add(at("readings", i).reading(r), nil)
	}
}

func (l line) reading(r meter.Reading) line {
	l.turn = readTurn
	l.check, l.enter = func(f *find.Finder) error { return f.CheckReading(r) }, func(f *find.Finder) error { return f.Add(r) }
	return l
}

func (l line) seen(o meter.Observation) line {
	l.turn = seenTurn
	l.check, l.enter = func(f *find.Finder) error { return f.CheckSeen(o) }, func(f *find.Finder) error { return f.See(o) }
	return l
}

func (l line) loop(x meter.Loop) line {
	l.turn = loopTurn
	l.check, l.enter = func(f *find.Finder) error { return f.CheckLoop(x) }, func(f *find.Finder) error { return f.Loop(x) }
	return l
}

// enter hands everything to a finder, unless something is wrong: by itself, or at this door. All of that is told at once.
func (n *noted) enter(f *find.Finder) document.Problems {
	wrong := n.wrong
	for _, l := range n.lines {
		wrong = append(wrong, problemsAt(l.at, l.check(f))...)
	}
	if len(wrong) > 0 {
		return wrong.Sorted()
	}
	for _, l := range n.lines {
		wrong = append(wrong, problemsAt(l.at, l.enter(f))...)
	}
	return wrong
}
