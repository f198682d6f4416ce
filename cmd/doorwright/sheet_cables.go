package main

import (
	"fmt"
	"strconv"
	"strings"

	"doorwright/job"
	"doorwright/unit"
)

// cables is the cable schedule.
type cables struct {
	Job   string     `json:"job"`
	Runs  []cableRun `json:"runs"`
	Cores []core     `json:"cores"`
	in    unit.Measures
}

// cableRun is one run of the schedule. Lengths are in metres.
type cableRun struct {
	Run      string    `json:"run"`
	Cable    string    `json:"cable"`
	Title    string    `json:"title"`
	From     string    `json:"from"`
	To       string    `json:"to"`
	Designed number    `json:"designed"`
	Pulled   *number   `json:"pulled"` // null: not pulled yet
	Computed number    `json:"computed"`
	Used     int       `json:"cores_used"`
	Total    int       `json:"cores_total"`
	Spare    []string  `json:"spare"` // number and colour of each spare core
	Assumed  bool      `json:"assumed"`
	Passes   []stretch `json:"passes"`
}

// stretch is a part of a run.
type stretch struct {
	Side   string `json:"side"`
	Reach  string `json:"reach"`
	Length number `json:"length"`
}

func cableSheet(v *view) (sheet, error) {
	all := coreSheet(v)
	s := cables{Job: v.job.ID, Runs: []cableRun{}, Cores: all.Cores, in: v.job.Measures}
	for _, r := range all.runs {
		s.Runs = append(s.Runs, runOf(r, all.Cores))
	}
	return s, nil
}

func runOf(r *job.Run, all []core) cableRun {
	out := cableRun{
		Run: r.ID, Cable: r.TypeID, Title: r.Type.Title, From: r.From.ID, To: r.To.ID, Designed: number(r.Designed),
		Computed: number(r.Length()), Spare: []string{}, Assumed: r.Assumed, Passes: []stretch{},
	}
	if r.Pulled > 0 {
		pulled := number(r.Pulled)
		out.Pulled = &pulled
	}
	for _, c := range all {
		switch {
		case c.Run != r.ID || c.Core == 0:
			continue
		case c.Spare:
			out.Spare = append(out.Spare, strconv.Itoa(c.Core)+" "+c.Colour)
		default:
			out.Used++
		}
		out.Total++
	}
	for _, s := range r.Passes {
		out.Passes = append(out.Passes, stretch{s.Side, s.Reach, number(s.Length)})
	}
	return out
}

func (s cables) text(p *page) {
	p.title("CABLES " + s.Job + ": " + counted(len(s.Runs), "run"))
	p.say(0, plain, fmt.Sprintf("Until a cable is pulled, its length is the designed one and %.0f %% for slack and detours.",
		job.DesignAllowance*100))
	for _, r := range s.Runs {
		p.gap()
		p.say(0, bold, r.Run+": "+r.Cable+", "+r.From+" to "+r.To)
		p.say(2, plain, r.lengths(s.in))
		p.say(2, plain, r.coreUse())
		for _, x := range r.Passes {
			p.say(2, plain, "passes the "+x.Side+" side, "+x.Reach+lengthOf(x.Length, s.in))
		}
		if r.Assumed {
			p.say(2, dim, "not written in the document; taken by default")
		}
	}
}

func (r cableRun) lengths(in unit.Measures) string {
	designed := "designed " + in.Length(unit.Metre(r.Designed))
	if r.Pulled != nil {
		return designed + ", pulled " + in.Length(unit.Metre(*r.Pulled)) + ", computed with that"
	}
	return designed + ", not pulled yet, computed with " + in.Length(unit.Metre(r.Computed))
}

func (r cableRun) coreUse() string {
	use := fmt.Sprintf("%d of %d cores used", r.Used, r.Total)
	if len(r.Spare) == 0 {
		return use + ", none spare"
	}
	return use + "; spare: " + strings.Join(r.Spare, ", ")
}

func lengthOf(m number, in unit.Measures) string {
	if m == 0 {
		return ""
	}
	return ", " + in.Length(unit.Metre(m))
}

func (s cables) table() table {
	t := table{head: []string{
		"run", "cable", "from", "to", "designed_m", "pulled_m", "computed_m", "cores_used", "cores_total", "spare", "assumed",
	}}
	for _, r := range s.Runs {
		pulled := ""
		if r.Pulled != nil {
			pulled = r.Pulled.String()
		}
		t.add(r.Run, r.Cable, r.From, r.To, r.Designed.String(), pulled, r.Computed.String(), strconv.Itoa(r.Used),
			strconv.Itoa(r.Total), strings.Join(r.Spare, ", "), strconv.FormatBool(r.Assumed))
	}
	return t
}
