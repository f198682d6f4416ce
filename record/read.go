package record

import (
	"slices"
	"strconv"

	"doorwright/document"
	"doorwright/job"
	"doorwright/mend"
	"doorwright/meter"
	"doorwright/wiring"
)

// Read reads a record from a YAML or JSON document and holds it against the wiring plan of the job it belongs to. It
// returns all problems at once, sorted, each with its place, what was found and what would be right; the record is nil
// when there is any. File is only quoted.
func Read(file string, data []byte, plan *wiring.Plan) (*Record, document.Problems) {
	r := &Record{}
	source, problems := document.Read(file, data, r)
	if len(problems) > 0 && problems[0].Where == "" { // the text as a whole could not be read
		return nil, problems
	}
	c := checker{record: r, plan: plan, source: source, unread: map[string]bool{}}
	for _, p := range problems {
		c.unread[p.Where] = true
	}
	c.check()
	problems = append(problems, c.problems...)
	if len(problems) > 0 {
		return nil, problems.Sorted()
	}
	return r, nil
}

// checker holds a record against a plan.
type checker struct {
	record   *Record
	plan     *wiring.Plan
	source   *document.Source
	unread   map[string]bool // paths that the reader has told about
	problems document.Problems
}

func (c *checker) check() {
	c.belongs()
	for i, l := range c.record.Landed {
		c.landed(document.Path("landed", i), l)
	}
	for i, r := range c.record.Read {
		c.reading(document.Path("readings", i), r)
	}
	for i, t := range c.record.Tested {
		c.test(document.Path("tests", i), t)
	}
	for i, s := range c.record.Seen {
		at := document.Path("seen", i)
		c.door(at, s.Door)
		c.act(at, s.Act)
	}
	for i, f := range c.record.Fitted {
		c.fitting(document.Path("batteries", i), f)
	}
	for _, e := range c.record.Snags {
		c.snag(document.Path("snags", e.Key), e.Value)
	}
	for i, a := range c.record.Accepts {
		at := document.Path("accepts", i)
		c.door(at, a.Door)
		c.supply(at, a)
		c.named(at+".finding", a.Finding, "requirement", mend.RequirementIDs())
		c.act(at, a.Act)
	}
	for i, x := range c.record.Handed {
		at := document.Path("handed", i)
		c.door(at, x.Door)
		c.act(at, x.Act)
	}
}

// belongs checks that the record is of this job and this revision of it.
func (c *checker) belongs() {
	j := c.plan.Job
	if c.record.Job != j.ID && !c.unread["record"] {
		c.say("record", strconv.Quote(c.record.Job), "is not this job; the record must be that of "+j.ID)
	}
	if c.record.Revision != j.Revision && !c.unread["revision"] {
		c.say("revision", strconv.Quote(c.record.Revision), "is not the revision of the job, which is "+
			strconv.Quote(j.Revision)+"; look through what has changed, then raise it here")
	}
}

func (c *checker) landed(at string, l Landed) {
	c.act(at, l.Act)
	d := c.device(at, l.Device)
	if d == nil {
		return
	}
	var labels, pins []string
	for _, t := range d.Model.Strip {
		labels, pins = append(labels, t.Label), append(pins, t.Pin)
	}
	for i, name := range l.Terminals {
		path := document.Path(at, "terminals", i)
		if slices.Contains(pins, name) {
			continue
		}
		c.named(path, name, "terminal of "+d.ID, labels)
		if first := slices.Index(labels, name); first >= 0 && slices.Contains(labels[first+1:], name) {
			c.say(path, strconv.Quote(name), "stands more than once on "+d.ID+"; write the pin, such as "+pins[first])
		}
	}
}

func (c *checker) reading(at string, r Reading) {
	c.act(at, r.Act)
	if err := r.Shows.Unshown(); err != nil {
		c.say(at+".shows", "", err.Error())
	}
	c.named(at+".meter", r.Meter, "meter of this record", c.record.Meters.Keys())
	if m, ok := c.record.Meters.Get(r.Meter); ok && !m.Due.IsZero() && m.Due.Before(r.On) && !c.unread[at+".on"] {
		c.say(at+".meter", strconv.Quote(r.Meter), "was due for calibration on "+m.Due.String()+", before this reading")
	}
	if slices.ContainsFunc(c.plan.Job.Runs, func(x *job.Run) bool { return x.ID == r.Device }) {
		c.named(at+".condition", r.Condition, "condition of a run", []string{FirstFix})
		return
	}
	d := c.device(at, r.Device)
	if d == nil {
		return
	}
	c.named(at+".red", r.Red, "terminal of "+d.ID, pinsOf(d))
	c.black(at, d, r)
	if _, err := meter.ParseCondition(r.Condition); err != nil && !c.unread[at+".condition"] {
		c.say(at+".condition", strconv.Quote(r.Condition), "is none; "+err.Error())
	}
}

// black checks the terminal of the black lead, which a current has not.
func (c *checker) black(at string, d *wiring.Device, r Reading) {
	switch {
	case r.Shows.Quantity == meter.Amps && r.Black != "":
		c.say(at+".black", strconv.Quote(r.Black), "has no place: a current is measured in line with one terminal, in red")
	case r.Shows.Quantity == meter.Amps || r.Black == "" && c.unread[at+".shows"]:
	case r.Black == "":
		c.say(at, "no black", "the terminal of the black lead must be given")
	default:
		if _, ok := c.plan.End(r.Black); !ok {
			c.named(at+".black", r.Black, "terminal of "+d.ID, pinsOf(d))
		}
	}
}

func pinsOf(d *wiring.Device) []string {
	var all []string
	for _, t := range d.Model.Strip {
		all = append(all, t.Pin)
	}
	return all
}

func (c *checker) test(at string, t Test) {
	c.act(at, t.Act)
	c.door(at, t.Door)
	c.named(at+".step", t.Step, "step of the list", stepIDs())
	if t.Witness != "" {
		c.named(at+".witness", t.Witness, "person of this record", c.record.People.Keys())
	}
	step, ok := FindStep(t.Step)
	switch {
	case ok && step.Life && t.Outcome == "pass" && t.Witness == "" && !c.unread[at+".witness"]:
		c.say(at, "no witness", t.Step+" bears on life: a pass counts only when somebody witnessed it")
	case t.Witness != "" && t.Witness == t.By:
		c.say(at+".witness", strconv.Quote(t.Witness), "made the test; the witness must be somebody else")
	case t.Outcome == "not-applicable" && t.Note == "":
		c.say(at, "no note", "what is not applicable needs its reason as note")
	}
}

func (c *checker) fitting(at string, f Fitting) {
	c.act(at, f.Act)
	if d := c.device(at, f.Device); d != nil && d.Role != job.RoleBattery {
		c.say(at+".device", strconv.Quote(f.Device), "is no battery; write one like PS1.battery")
	}
}

func (c *checker) snag(at string, s Snag) {
	c.act(at, s.Act)
	c.door(at, s.Door)
	if s.Retest != "" {
		c.named(at+".retest", s.Retest, "step of the list", stepIDs())
	}
	if s.Closed == nil {
		return
	}
	c.act(at+".closed", *s.Closed)
	if s.Closed.On.Before(s.On) && !c.unread[at+".on"] {
		c.say(at+".closed.on", strconv.Quote(s.Closed.On.String()), "is before the snag was found, on "+s.On.String())
	}
	if s.Fix == "" {
		c.say(at, "no fix", "a closed snag says what was done about it, in fix")
	}
}

func (c *checker) act(at string, a Act) {
	c.named(at+".by", a.By, "person of this record", c.record.People.Keys())
}

func (c *checker) door(at, id string) {
	var known []string
	for _, d := range c.plan.Job.Doors {
		known = append(known, d.ID)
	}
	if id != "" {
		c.named(at+".door", id, "door", known)
	}
}

// supply checks the supply of an acceptance, which one at a door has not.
func (c *checker) supply(at string, a Acceptance) {
	var known []string
	for _, s := range c.plan.Job.Supplies {
		known = append(known, s.ID)
	}
	switch {
	case a.Supply == "":
	case a.Door != "":
		c.say(at+".supply", strconv.Quote(a.Supply), "has no place beside a door: what is found at a supply is about no door")
	default:
		c.named(at+".supply", a.Supply, "supply", known)
	}
}

// device finds a device of the plan; nil when there is none, which is told.
func (c *checker) device(at, id string) *wiring.Device {
	d := c.plan.Device(id)
	if d == nil && !c.unread[at+".device"] {
		var known []string
		for _, x := range c.plan.Devices {
			known = append(known, x.ID)
		}
		c.say(at+".device", strconv.Quote(id), document.Unknown(id, "device of the plan", known))
	}
	return d
}

// named tells about a name that is not among the known ones. What could not be read is not told again.
func (c *checker) named(path, word, what string, known []string) {
	if !c.unread[path] && !slices.Contains(known, word) {
		c.say(path, strconv.Quote(word), document.Unknown(word, what, known))
	}
}

func (c *checker) say(path, found, want string) {
	c.problems = append(c.problems, c.source.Problem(path, found, want))
}
