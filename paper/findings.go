package paper

import (
	"cmp"

	"doorwright/mend"
	"doorwright/proof"
	"doorwright/rules"
)

// findings lists what fails or has too little margin, and what of it was accepted.
func (w *Work) findings(f *flow) {
	f.head("Findings by calculation")
	switch {
	case w.Examination.Faults == nil && len(w.Examination.Findings) == 0:
		f.say("None by calculation; " + notTried + ". " + tryThem)
	case w.Examination.Faults == nil:
		f.say(sentence(notTried) + " " + tryThem)
	case len(w.Examination.Findings) == 0:
		f.say("None by calculation.")
	}
	t := table{sparse: true, columns: []column{
		{title: "severity"},
		{title: "door"},
		{title: "what"},
		{title: "figure against limit"},
		{title: "why it matters"},
	}}
	for _, x := range w.Examination.Findings {
		word := "ERROR"
		if x.Severity == rules.Advice {
			word = "ADVICE"
		}
		what := sentence(x.What)
		if when := x.When(); when != "" {
			what += " When: " + when + "."
		}
		t.add(word, x.Door, what+w.acceptedWords(x), calculated(x.Figures(w.Job.Measures)), x.Why)
	}
	f.table(t)
	w.accepted(f)
}

// notTried says that findings leave out what a single cut, short or stuck part would break.
const notTried = "single faults not tried"

// tryThem says how to have them tried.
const tryThem = "The command puts them into a paper with --faults single; the pages show them under Faults."

// acceptedWords say by whom and why a finding was accepted; nothing when it was not.
func (w *Work) acceptedWords(x proof.Finding) string {
	if w.Record == nil {
		return ""
	}
	a := w.Record.Accepted(x)
	if a == nil {
		return ""
	}
	return " ACCEPTED by " + w.Record.Name(a.By) + " on " + a.On.String() + ": " + sentence(a.Reason)
}

// accepted lists everything that was accepted: findings in the record, and faults in the job.
func (w *Work) accepted(f *flow) {
	t := table{columns: []column{{title: "at"}, {title: "accepted"}, {title: "reason"}, {title: "by"}, {title: "on"}}}
	for _, d := range w.Job.Doors {
		for _, a := range d.Accepts {
			t.add(d.ID, "fault "+a.Fault, a.Reason, "see the reason", "")
		}
	}
	if w.Record != nil {
		for _, a := range w.Record.Accepts {
			t.add(cmp.Or(a.Door, a.Supply), "finding: "+mend.TitleOf(a.Finding), a.Reason, w.Record.Name(a.By), a.On.String())
		}
	}
	f.sub("Accepted")
	if len(t.rows) == 0 {
		f.say("Nothing was accepted.")
		return
	}
	f.table(t)
}
