package situation

import (
	"slices"

	"doorwright/job"
	"doorwright/unit"
)

// Action is something the world does to one unit.
type Action struct {
	Device, Signal string
	On             bool
}

// Step is one instant of a sequence: what the world does, then how long it waits.
type Step struct {
	Say     string // what happens, in a few words
	Do      []Action
	Show    string // id of a reader at which a valid card is shown
	Flat    bool   // the batteries are at their end from now on
	Wait    unit.Second
	Watched bool // the state after this step is what the cause is about
}

// Same says that two steps do the same, whatever they are called and whether anybody looks.
func (s *Step) Same(o *Step) bool {
	return s.Show == o.Show && s.Flat == o.Flat && s.Wait == o.Wait && slices.Equal(s.Do, o.Do)
}

// Take takes the bench through one step: the world acts, the units settle, time passes, the units settle again. It
// tells what came of a card shown, if one was.
func (b *Bench) Take(s Step) Shows {
	var shows Shows
	for _, a := range s.Do {
		if u := b.island.byID[a.Device]; u != nil && b.isNear(u) {
			b.setWorld(u, a.Signal, a.On)
		}
	}
	if s.Flat {
		b.setBatteries(true)
	}
	b.settle()
	if s.Show != "" {
		shows = b.show(s.Show)
	}
	if s.Wait > 0 {
		b.elapsed = s.Wait
		b.now += s.Wait
		b.settle()
	}
	return shows
}

// show shows a valid card at a reader.
func (b *Bench) show(reader string) Shows {
	u := b.island.byID[reader]
	if u == nil || !b.isNear(u) {
		return Shows{Failed: "no reader"}
	}
	l := b.island.lineOf(u)
	if l == nil {
		return Shows{Failed: "no controller"}
	}
	shows := b.talk(l)
	if shows.Heard {
		b.heard = append(b.heard, heard{l.controller, l.channel, l.side})
	}
	b.settle()
	b.heard = b.heard[:0]
	return shows
}

func entryID(d *job.Door) string {
	if d.Entry == nil {
		return ""
	}
	return d.Entry.ID
}

func exitReaderID(d *job.Door) string {
	if d.ExitReader == nil {
		return ""
	}
	return d.ExitReader.ID
}
