// Package record holds what was done on site: what was landed, measured, tested and seen, by whom, with which meter and
// when; snags and their retest; what was accepted and why.
//
// A record belongs to one revision of one job. It is read strictly against the wiring plan of that revision, so that a
// tick can only stand at a terminal that is there. It is only ever added to: a reading or a test that was taken again
// stands below the first one, and the last one counts.
package record

import (
	"doorwright/document"
)

// Record is what was done at a job.
type Record struct {
	Job      string `yaml:"record" need:"the id of the job, such as BTO" doc:"id of the job it belongs to"`
	Revision string `yaml:"revision,omitempty" doc:"revision of the job that was worked from"`

	People  document.Map[Person]     `yaml:"people" need:"who did the work" doc:"who did the work, by initials"`
	Meters  document.Map[Instrument] `yaml:"meters,omitempty" doc:"meters that were used"`
	Landed  []Landed                 `yaml:"landed,omitempty" doc:"terminals whose cores were landed and tugged"`
	Read    []Reading                `yaml:"readings,omitempty" doc:"what a meter showed"`
	Tested  []Test                   `yaml:"tests,omitempty" doc:"tests that were made, with their outcome"`
	Seen    []Sight                  `yaml:"seen,omitempty" doc:"what was seen and is worth keeping"`
	Fitted  []Fitting                `yaml:"batteries,omitempty" doc:"batteries, with the date they were fitted"`
	Snags   document.Map[Snag]       `yaml:"snags,omitempty" doc:"what is wrong and must be put right"`
	Accepts []Acceptance             `yaml:"accepts,omitempty" doc:"findings that somebody accepts"`
	Handed  []Handover               `yaml:"handed,omitempty" doc:"doors that somebody has taken over"`
}

// Person is somebody who worked on the job or witnessed a test.
type Person struct {
	Name string `yaml:"name" need:"the full name" doc:"full name"`
	Role string `yaml:"role,omitempty" doc:"what they are at the job: technician, fire designer, client ..."`
}

// Instrument is a meter that was used.
type Instrument struct {
	Title      string `yaml:"title" need:"what sort of meter it is" doc:"what sort of meter it is"`
	Number     string `yaml:"number" need:"its serial or inventory number" doc:"serial or inventory number"`
	Calibrated Date   `yaml:"calibrated" need:"the date of its last calibration" doc:"date of the last calibration"`
	Due        Date   `yaml:"due,omitempty" json:",omitzero" doc:"date the next calibration is due"`
}

// Act says who did something and when.
type Act struct {
	By string `yaml:"by" need:"who did it, from people" doc:"who did it"`
	On Date   `yaml:"on" need:"the date, such as 2026-10-12" doc:"date, with the time of day where it matters"`
}

// Landed is terminals of one device whose cores were landed and tugged.
type Landed struct {
	Device    string   `yaml:"device" need:"the device, such as staff.lock1" doc:"device"`
	Terminals []string `yaml:"terminals" need:"the labels of the terminals, as printed on the unit" doc:"labels of the terminals; the pin where a label stands more than once on the unit"`
	Act       `yaml:",inline"`
}

// Reading is what a meter showed between two terminals in a stated condition, or in line with one of them.
type Reading struct {
	Device    string `yaml:"device" need:"the device or run it was taken at" doc:"device, or run"`
	Red       string `yaml:"red" need:"the terminal of the red lead, as the workbook of schedules has it" doc:"pin of the red lead, or the one a current flows into; of a run the first core"`
	Black     string `yaml:"black,omitempty" doc:"pin of the black lead, with its device where that is another; of a run the second core; none of a current"`
	Condition string `yaml:"condition" need:"the condition, such as idle or off, release" doc:"condition, in the words of doorwright meter; of a run: first fix"`
	Shows     Value  `yaml:"shows" need:"what the meter showed, with its unit" doc:"what the meter showed"`
	Meter     string `yaml:"meter" need:"the meter, from meters" doc:"meter"`
	Note      string `yaml:"note,omitempty" doc:"anything worth knowing"`
	Act       `yaml:",inline"`
}

// Test is a test of the list that was made at a door.
type Test struct {
	Door    string `yaml:"door" need:"the door" doc:"door"`
	Step    string `yaml:"step" need:"the step of the list, such as T35" doc:"step of the list"`
	Outcome string `yaml:"outcome" need:"pass, fail or not-applicable" one:"pass|fail|not-applicable" doc:"pass, fail, or not-applicable with its reason in the note"`
	Result  string `yaml:"result,omitempty" doc:"the figure or the line of the event log that was asked for"`
	Witness string `yaml:"witness,omitempty" doc:"who witnessed it, from people"`
	Note    string `yaml:"note,omitempty" doc:"anything worth knowing"`
	Act     `yaml:",inline"`
}

// Sight is something seen on site.
type Sight struct {
	Door string `yaml:"door,omitempty" doc:"door"`
	What string `yaml:"what" need:"what was seen" doc:"what was seen"`
	// Mended is the id of the fault that was mended then: what was read before tells nothing of the door any more.
	Mended string `yaml:"mended,omitempty" json:",omitempty" doc:"id of the fault that was mended then"`
	Act    `yaml:",inline"`
}

// Fitting is a battery that was fitted.
type Fitting struct {
	Device string `yaml:"device" need:"the battery, such as PS1.battery" doc:"battery"`
	Act    `yaml:",inline"`
}

// Snag is something wrong that must be put right.
type Snag struct {
	Door   string `yaml:"door,omitempty" doc:"door"`
	What   string `yaml:"what" need:"what is wrong" doc:"what is wrong"`
	Class  string `yaml:"class" need:"life, security, function or looks" one:"life|security|function|looks" doc:"what it touches"`
	Owner  string `yaml:"owner,omitempty" doc:"who must put it right"`
	Due    Date   `yaml:"due,omitempty" json:",omitzero" doc:"by when"`
	Fix    string `yaml:"fix,omitempty" doc:"what was done about it"`
	Retest string `yaml:"retest,omitempty" doc:"the step that shows it mended, such as T35"`
	Act    `yaml:",inline"`
	Closed *Act `yaml:"closed,omitempty" doc:"who closed it, and when"`
}

// Open says that nobody has closed the snag.
func (s Snag) Open() bool { return s.Closed == nil }

// Acceptance is a finding that somebody accepts for a reason.
type Acceptance struct {
	Door    string `yaml:"door,omitempty" doc:"door the finding is about; left out for one of a supply or of the job"`
	Supply  string `yaml:"supply,omitempty" json:",omitempty" doc:"supply the finding is about, where it is about no door; left out: about any"`
	Finding string `yaml:"finding" need:"the requirement, as show findings has it" doc:"requirement the finding breaks"`
	Reason  string `yaml:"reason" need:"why it is accepted" doc:"why it is accepted"`
	Act     `yaml:",inline"`
}

// Handover is a door that somebody has taken over, with what was still open then.
type Handover struct {
	Door     string   `yaml:"door" need:"the door" doc:"door"`
	To       string   `yaml:"to" need:"the full name of who took it over" doc:"who took it over, by full name"`
	Role     string   `yaml:"role,omitempty" doc:"what they are: client, tenant, caretaker ..."`
	Revision string   `yaml:"revision,omitempty" doc:"revision of the job that the door was built to"`
	Open     []string `yaml:"open,omitempty" doc:"what was still open, as it was told to them"`
	Note     string   `yaml:"note,omitempty" doc:"anything worth knowing"`
	Act      `yaml:",inline"`
}
