package main

import (
	"fmt"
	"strconv"

	"doorwright/journal"
)

// verification is what a check of a workspace or a pack found.
type verification struct {
	File   string        `json:"file"`
	Logs   []verifiedLog `json:"logs"`
	Photos int           `json:"photos"`
	Held   int           `json:"held"`
	Wrong  []string      `json:"wrong"`
}

type verifiedLog struct {
	Log     string `json:"log"`
	Entries int64  `json:"entries"`
	Root    string `json:"root"`
	Key     string `json:"key"`
}

func (v verification) text(p *page) {
	if len(v.Wrong) > 0 {
		p.title("ALTERED OR DAMAGED.")
		for _, w := range v.Wrong {
			p.label(0, "ERROR", red, w)
		}
		p.gap()
	} else {
		p.title("SOUND.")
		p.say(0, plain, "Every entry follows the one before, every log is the one its head was signed for, and every photo is what it was.")
		p.gap()
	}
	for _, l := range v.Logs {
		p.say(0, plain, fmt.Sprintf("%s: %s", l.Log, counted(int(l.Entries), "entry")))
		p.say(2, dim, "root "+l.Root)
		p.say(2, dim, "key "+l.Key)
	}
	p.say(0, plain, counted(v.Photos, "photo"))
	p.gap()
	if v.Held == 0 {
		p.say(0, plain, "No head was given that somebody else has kept: whoever holds the key could have written all of this anew.")
	} else if len(v.Wrong) == 0 {
		p.say(0, plain, fmt.Sprintf("It begins with what %s signed for that were given.", heldWords(v.Held)))
	}
}

func heldWords(n int) string {
	if n == 1 {
		return "the head was"
	}
	return fmt.Sprintf("the %d heads were", n)
}

func (v verification) table() table {
	t := table{head: []string{"log", "entries", "root", "key", "wrong"}}
	for _, l := range v.Logs {
		t.add(l.Log, strconv.FormatInt(l.Entries, 10), l.Root, l.Key, "")
	}
	for _, w := range v.Wrong {
		t.add("", "", "", "", w)
	}
	return t
}

// entryList is entries in order, and what cannot be as it stands.
type entryList struct {
	Entries []entryLine `json:"entries"`
	Before  int         `json:"before"` // earlier ones that are not shown
	Unknown int         `json:"unknown"`
	Advice  []string    `json:"advice"`
}

type entryLine struct {
	At    string `json:"at"`
	Who   string `json:"who"`
	Job   string `json:"job"`
	What  string `json:"what"`
	Entry string `json:"entry"`
	Gone  bool   `json:"counts_no_more"`
}

func entriesOf(all []*journal.Entry, s *journal.State, last int) entryList {
	l := entryList{Unknown: s.Unknown, Advice: append([]string{}, conflicts(s)...), Entries: []entryLine{}}
	if last > 0 && len(all) > last {
		l.Before = len(all) - last
		all = all[l.Before:]
	}
	teller := journal.NewTeller(s)
	for _, e := range all {
		line := entryLine{At: e.At.Format("2006-01-02 15:04Z"), Who: e.Who, Job: e.Job(), What: teller.Words(e), Entry: e.String()}
		if j := s.Job(line.Job); j != nil && !j.Counts(e) {
			line.Gone = true
			line.What += " (counts no more)"
		}
		l.Entries = append(l.Entries, line)
	}
	return l
}

// conflicts are what several devices said that cannot all be, in sentences.
func conflicts(s *journal.State) []string {
	all := append([]string{}, s.Clashes...)
	for _, j := range s.Jobs {
		for _, c := range j.Clashes {
			all = append(all, fmt.Sprintf("%s: %s", j.ID, c))
		}
		all = append(all, j.Ill...)
	}
	return all
}

func (l entryList) text(p *page) {
	if l.Before > 0 {
		p.say(0, dim, fmt.Sprintf("%s before these; --last 0 shows all.", counted(l.Before, "entry")))
	}
	t := table{head: []string{"when", "who", "job", "what", "entry"}}
	for _, e := range l.Entries {
		t.add(e.At, e.Who, e.Job, e.What, e.Entry)
	}
	p.table(0, t)
	if l.Unknown > 0 {
		p.label(0, "ADVICE", yellow, counted(l.Unknown, "entry")+" of a later version of this program: kept, and not understood.")
	}
	for _, a := range l.Advice {
		p.label(0, "ADVICE", yellow, a)
	}
}

func (l entryList) table() table {
	t := table{head: []string{"when", "who", "job", "what", "entry"}}
	for _, e := range l.Entries {
		t.add(e.At, e.Who, e.Job, e.What, e.Entry)
	}
	return t
}
