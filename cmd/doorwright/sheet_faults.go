package main

import (
	"fmt"
	"strconv"
	"strings"

	"doorwright/fault"
	"doorwright/proof"
)

// faultTable is what became of every fault that was tried.
type faultTable struct {
	Job     string      `json:"job"`
	Counts  []faultDoor `json:"fault_counts"`
	Faults  []faultRow  `json:"faults"`
	Outside []attackRow `json:"outside"`
	LeftOut []string    `json:"left_out"`
	stopped string      // how far it came, when it was stopped

	singles  bool     // single faults were tried
	restless []string // doors that come to no rest without any fault
}

// faultDoor is the summary of one door.
type faultDoor struct {
	Door     string `json:"door"`
	Tried    int    `json:"tried"`
	AtOnce   int    `json:"at_once"` // noticed at once
	InUse    int    `json:"in_use"`
	OnTest   int    `json:"on_test"`
	Never    int    `json:"never"`         // nothing shows them
	WaysLost int    `json:"ways_out_lost"` // faults that take away a way out
	Broken   int    `json:"broken"`        // of these, against a requirement
	Outside  int    `json:"outside_tried"`
	Opens    int    `json:"outside_opens"`
	Accepted int    `json:"outside_accepted"` // of these, as a consequence of a release that is needed there
}

// faultRow is one fault at one door.
type faultRow struct {
	Door    string   `json:"door"`
	ID      string   `json:"id"`
	Class   string   `json:"class"`
	Name    string   `json:"name"`
	Where   string   `json:"where"`
	Repair  string   `json:"repair"`
	Lock    string   `json:"lock"` // while nothing happens
	Noticed string   `json:"noticed"`
	By      string   `json:"by"`
	Lost    []string `json:"lost"` // ways out, by cause
	Tested  bool     `json:"periodic_test"`
	Broken  string   `json:"requirement,omitempty"`
	Reason  string   `json:"accepted,omitempty"` // why the job accepts it
}

// attackRow is what somebody outside can do that lets a door go.
type attackRow struct {
	Door     string   `json:"door"`
	IDs      []string `json:"faults"`
	Does     string   `json:"does"`
	Lock     string   `json:"lock"`
	Cause    string   `json:"cause"`
	Accepted string   `json:"accepted,omitempty"`
}

func faultSheet(v *view) (sheet, error) { return faultsOf(v), nil }

func faultsOf(v *view) faultTable {
	r := v.examined().Faults
	t := faultTable{Job: v.job.ID, Counts: []faultDoor{}, Faults: []faultRow{}, Outside: []attackRow{}, LeftOut: r.Left, singles: v.faults >= proof.SingleFaults}
	for _, d := range v.examined().Doors {
		if d.Restless && v.wants(d.Door.ID) {
			t.restless = append(t.restless, d.Door.ID)
		}
	}
	if asked := len(v.doors()); len(r.Doors) < asked {
		t.stopped = fmt.Sprintf("after %d of %d doors.", len(r.Doors), asked)
	}
	for i := range r.Doors {
		d := &r.Doors[i]
		if !v.wants(d.Door.ID) {
			continue
		}
		t.Counts = append(t.Counts, countsOf(d))
		for k := range d.Seen {
			t.Faults = append(t.Faults, rowOf(d.Door.ID, &d.Seen[k]))
		}
		for k := range d.Attacks {
			t.Outside = append(t.Outside, outsideOf(d.Door.ID, &d.Attacks[k]))
		}
	}
	return t
}

func countsOf(d *proof.DoorFaults) faultDoor {
	c := faultDoor{Door: d.Door.ID, Tried: len(d.Seen), Outside: d.Tried, Opens: len(d.Attacks)}
	by := map[proof.Notice]*int{
		proof.AtOnce: &c.AtOnce, proof.InUse: &c.InUse, proof.OnTest: &c.OnTest, proof.Never: &c.Never,
	}
	for i := range d.Seen {
		s := &d.Seen[i]
		*by[s.Notice]++
		if len(s.Lost) > 0 {
			c.WaysLost++
		}
		if s.Broken != "" && s.Accepted == "" {
			c.Broken++
		}
	}
	for i := range d.Attacks {
		if d.Attacks[i].Accepted != "" {
			c.Accepted++
		}
	}
	return c
}

func rowOf(door string, s *proof.FaultSeen) faultRow {
	return faultRow{
		Door: door, ID: s.Fault.ID, Class: string(s.Fault.Class), Name: s.Fault.Name, Where: s.Fault.Where,
		Repair: s.Fault.Repair, Lock: s.Idle.String(), Noticed: string(s.Notice), By: s.Shows,
		Lost: append([]string{}, s.Lost...), Tested: s.Tested, Broken: s.Broken, Reason: s.Accepted,
	}
}

func outsideOf(door string, a *proof.AttackSeen) attackRow {
	r := attackRow{Door: door, Lock: a.Effect.String(), Cause: a.Cause, Accepted: a.Accepted}
	var does []string
	for _, f := range a.Faults {
		r.IDs, does = append(r.IDs, f.ID), append(does, f.Name)
	}
	r.Does = strings.Join(does, ", and ")
	return r
}

func (t faultTable) text(p *page) {
	p.title("FAULTS " + t.Job)
	t.summary(p)
	for _, d := range t.Counts {
		t.door(p, d)
	}
	p.gap()
	p.title("NOT TRIED")
	for _, s := range t.LeftOut {
		p.hang(2, "-", plain, s, 4)
	}
}

// summary is the counts door by door, on one page.
func (t faultTable) summary(p *page) {
	if t.singles {
		p.say(0, plain, "Each fault was put into the network of the door and taken through every cause, calculated. At once: the "+
			"system shows it while nothing happens. In use: the door does not do what it does every day. On test: only a "+
			"release, a fire signal or a lost supply brings it out. Never: nothing shows it, and nobody learns of it.")
	} else {
		p.say(0, plain, "Single faults not tried.")
	}
	if len(t.restless) > 0 {
		p.label(0, "CAUTION", yellow, "Not at rest without any fault, see the findings: "+strings.Join(t.restless, ", ")+
			". What faults do there tells little until that is mended.")
	}
	if t.stopped != "" {
		p.label(0, "STOPPED", yellow, t.stopped)
	}
	if t.singles {
		t.counts(p)
	}
	p.gap()
	p.say(0, plain, "From the unsecured side: each cut, bridge and supply of 5 V to 24 V brought along, and each two cuts or "+
		"bridges at one place.")
	p.gap()
	o := table{head: []string{"door", ">tried", ">open the door", ">of these accepted"}}
	for _, d := range t.Counts {
		o.add(d.Door, strconv.Itoa(d.Outside), strconv.Itoa(d.Opens), strconv.Itoa(d.Accepted))
	}
	p.table(2, o)
}

// counts are the single faults of each door, by what shows them.
func (t faultTable) counts(p *page) {
	p.gap()
	s := table{head: []string{
		"door", ">faults", ">at once", ">in use", ">on test", ">never", ">take a way out", ">not allowed",
	}}
	for _, d := range t.Counts {
		s.add(d.Door, strconv.Itoa(d.Tried), strconv.Itoa(d.AtOnce), strconv.Itoa(d.InUse), strconv.Itoa(d.OnTest),
			strconv.Itoa(d.Never), strconv.Itoa(d.WaysLost), strconv.Itoa(d.Broken))
	}
	p.table(2, s)
}

// door lists the faults of one door, by class.
func (t faultTable) door(p *page, d faultDoor) {
	if d.Tried+d.Opens == 0 {
		return
	}
	p.gap()
	p.title("DOOR " + d.Door)
	for _, class := range fault.Classes() {
		first := true
		for i := range t.Faults {
			f := &t.Faults[i]
			if f.Door != d.Door || f.Class != string(class) {
				continue
			}
			if first {
				p.gap()
				p.say(0, bold, strings.ToUpper(string(class)))
				first = false
			}
			f.text(p)
		}
	}
	t.outside(p, d)
}

// text writes a fault in a few lines: its id, what it is, what becomes of the door.
func (f *faultRow) text(p *page) {
	p.raw("  " + p.styled(dim, tame(f.ID)))
	p.say(4, plain, sentence(f.Name))
	p.say(4, plain, fmt.Sprintf("Lock %s; noticed: %s.", f.Lock, f.notice()))
	lost := "Takes away: " + strings.Join(f.Lost, ", ")
	switch {
	case f.Reason != "":
		p.say(4, yellow, fmt.Sprintf("%s (%s). Accepted: %s", lost, f.Broken, sentence(f.Reason)))
	case f.Broken != "":
		p.say(4, red, fmt.Sprintf("%s (%s).", lost, f.Broken))
	case f.Tested:
		p.say(4, yellow, lost+". Only the periodic test finds it.")
	case len(f.Lost) > 0:
		p.say(4, plain, lost+".")
	}
}

func (f *faultRow) notice() string {
	switch {
	case f.Noticed == string(proof.Never):
		return f.Noticed + ", nothing shows it"
	case f.By == "":
		return f.Noticed
	}
	return f.Noticed + ", " + f.By
}

// outside lists what opens the door from the unsecured side.
func (t faultTable) outside(p *page, d faultDoor) {
	first := true
	for _, a := range t.Outside {
		if a.Door != d.Door {
			continue
		}
		if first {
			p.gap()
			p.say(0, bold, "OPENS IT FROM THE UNSECURED SIDE")
			first = false
		}
		p.say(2, plain, sentence(a.Does))
		end := "Not allowed."
		if a.Accepted != "" {
			end = "Accepted: " + sentence(a.Accepted)
		}
		p.say(4, plain, fmt.Sprintf("Lock %s (%s). %s", a.Lock, a.Cause, end))
	}
}

func (t faultTable) table() table {
	s := table{head: []string{
		"door", "fault", "class", "what", "where", "lock", "noticed", "by", "lost", "periodic_test", "requirement", "accepted", "repair",
	}}
	for i := range t.Faults {
		f := &t.Faults[i]
		s.add(f.Door, f.ID, f.Class, f.Name, f.Where, f.Lock, f.Noticed, f.By, strings.Join(f.Lost, " "),
			strconv.FormatBool(f.Tested), f.Broken, f.Reason, f.Repair)
	}
	return s
}
