package web

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/journal"
	"doorwright/proof"
	"doorwright/record"
	"doorwright/rules"
)

// openPoint is one thing that is not done, or not as it should be, at a door that is to be handed over.
type openPoint struct {
	Says, URL string
	First     bool // it bears on life, or is an error by calculation: it is put right before anybody takes the door over
	Passing   bool // it goes by itself
	Failed    bool // it was tried and is wrong, and bears on getting out or is a test
}

// openPoints lists what is still open at a door, first what must be put right. The readings are left to those who have
// worked them out.
func (at *atDoor) openPoints() []openPoint {
	all := slices.Concat(at.openTests(), at.openSnags(), at.openFindings(), at.openFaults(), at.openCores(), at.openFirst(), at.openBatteries(), at.openQuestions())
	slices.SortStableFunc(all, func(a, b openPoint) int {
		switch {
		case a.First == b.First:
			return 0
		case a.First:
			return -1
		}
		return 1
	})
	return all
}

// openTests are those that were not made or do not count: those that bear on life by themselves, the others together.
func (at *atDoor) openTests() []openPoint {
	var grave, life, failed, missing []string
	for _, s := range record.StepsOf(at.door) {
		switch t := at.shelf.Record.Test(at.door.ID, s.ID); {
		case t.Counts(s):
		case s.Life && t != nil && t.Outcome == "fail":
			grave = append(grave, s.ID)
		case s.Life:
			life = append(life, s.ID)
		case t != nil:
			failed = append(failed, s.ID)
		default:
			missing = append(missing, s.ID)
		}
	}
	var all []openPoint
	add := func(steps []string, first, failed bool, one, many string) {
		if len(steps) > 0 {
			says := counted(len(steps), one, many) + ": " + strings.Join(steps, ", ")
			all = append(all, openPoint{Says: says, URL: at.at + "/do/test#" + steps[0], First: first, Failed: failed})
		}
	}
	add(grave, true, true, "function test that bears on life has failed", "function tests that bear on life have failed")
	add(life, true, false, "function test that bears on life is not passed and witnessed", "function tests that bear on life are not passed and witnessed")
	add(failed, false, true, "function test has failed", "function tests have failed")
	add(missing, false, false, "function test is not made", "function tests are not made")
	return all
}

// failed are the tests that have failed and the snags that touch getting out: what has to be seen wherever the door is looked
// at.
func (at *atDoor) failed() []openPoint {
	var all []openPoint
	for _, p := range slices.Concat(at.openTests(), at.openSnags()) {
		if p.Failed {
			all = append(all, p)
		}
	}
	return all
}

func (at *atDoor) openSnags() []openPoint {
	var all []openPoint
	for _, s := range at.shelf.Record.Snags {
		if v := s.Value; v.Door == at.door.ID && v.Open() {
			p := openPoint{Says: "snag " + s.Key + ": " + v.What, URL: at.at + "/do/snags", First: v.Class == "life", Failed: v.Class == "life"}
			if p.First {
				p.Says += " (touches getting out)"
			}
			all = append(all, p)
		}
	}
	return all
}

// openFindings are errors by calculation, and advice that nobody has accepted, at the door and at what feeds it.
func (at *atDoor) openFindings() []openPoint {
	var all []openPoint
	for _, f := range at.desk.exam.Findings {
		if f.Door != at.door.ID && (f.Door != "" || !at.fedFrom(f)) {
			continue
		}
		p := openPoint{Says: "by calculation: " + f.What, URL: at.at, First: f.Severity == rules.Error}
		if f.Door == "" {
			p.URL = at.home + "/supplies"
		}
		if p.First || at.shelf.Record.Accepted(f) == nil {
			all = append(all, p)
		}
	}
	return all
}

// openFaults are what single faults break, as far as they were tried with the present plan.
func (at *atDoor) openFaults() []openPoint {
	x, present := at.faults.of(at.atJob).resultAt(at.door.ID)
	if !present {
		return []openPoint{{Says: "single faults are not yet tried with the present plan", URL: at.at + "#faults", Passing: true}}
	}
	var all []openPoint
	for _, f := range x.findings {
		p := openPoint{Says: "with a single fault: " + f.What, URL: at.at + "#faults", First: f.Severity == rules.Error}
		if p.First || at.shelf.Record.Accepted(f) == nil {
			all = append(all, p)
		}
	}
	return all
}

// fedFrom says that a finding is about a supply that the door hangs on.
func (at *atDoor) fedFrom(f proof.Finding) bool {
	return slices.ContainsFunc(record.SuppliesOf(at.door), func(s *job.Supply) bool { return s.ID == f.Subject.Supply })
}

func (at *atDoor) openCores() []openPoint {
	done, all := 0, 0
	for _, l := range at.desk.landingsOf(at.door.ID) {
		all++
		if at.shelf.TickOf(journal.CoreOf(l.Conductor), l.Device.ID+"."+l.Terminal.Pin) != nil {
			done++
		}
	}
	if done == all {
		return nil
	}
	return []openPoint{{Says: fmt.Sprintf("%d of %d ends of cores are not landed and tugged", all-done, all), URL: at.at + "/do/land"}}
}

// openFirst are the measurements of first fix that were not taken, or are not as they should be.
func (at *atDoor) openFirst() []openPoint {
	all := at.firsts()
	missing, wrong := 0, 0
	for _, x := range all {
		switch m, in := at.firstReading(x); {
		case m == nil:
			missing++
		case !in:
			wrong++
		}
	}
	return measured(at.at+"/do/first", len(all), missing, wrong, "measurement of first fix is", "measurements of first fix are")
}

// measured are the open points of what is measured: so many of all missing, and so many wrong.
func measured(url string, all, missing, wrong int, one, many string) []openPoint {
	var open []openPoint
	if wrong > 0 {
		open = append(open, openPoint{Says: counted(wrong, one, many) + " not as it should be", URL: url})
	}
	if missing > 0 {
		open = append(open, openPoint{Says: fmt.Sprintf("%d of %s not taken", missing, counted(all, one, many)), URL: url})
	}
	return open
}

// openBatteries are those that the door hangs on and of which nobody has said when they were fitted.
func (at *atDoor) openBatteries() []openPoint {
	var all []openPoint
	for _, s := range record.SuppliesOf(at.door) {
		if s.Battery != nil && at.shelf.Record.Battery(s.Battery.ID) == nil {
			all = append(all, openPoint{Says: "battery " + s.Battery.ID + ": nobody has said when it was fitted", URL: at.supplyURL(s)})
		}
	}
	return all
}

func (at *atDoor) openQuestions() []openPoint {
	var all []openPoint
	for _, a := range at.shelf.Asked {
		if a.Door == at.door.ID && a.Answer == "" {
			all = append(all, openPoint{Says: "question: " + a.Question, URL: at.at + "/survey"})
		}
	}
	return all
}

// openReadings are the readings of the short list that were not taken, or are not as they should be.
func (at *atDoor) openReadings() ([]openPoint, error) {
	b, err := at.benchOf()
	if err != nil {
		return nil, err
	}
	defer b.mu.Unlock()
	missing, wrong := 0, 0
	for _, l := range b.list {
		switch m, in := at.lastOf(l.Pair, l.Band); {
		case m == nil:
			missing++
		case !in:
			wrong++
		}
	}
	return measured(at.at+"/do/read", len(b.list), missing, wrong, "reading is", "readings are"), nil
}

// inTheWay says that something must be put right before the door is handed over.
func inTheWay(all []openPoint) bool {
	return slices.ContainsFunc(all, func(p openPoint) bool { return p.First })
}

func pointWords(all []openPoint) []string {
	var says []string
	for _, p := range all {
		says = append(says, p.Says)
	}
	return says
}

// sealOfPoints is the seal of a list of open points, but for those that go by themselves.
func sealOfPoints(all []openPoint) string {
	return sealOf(pointWords(slices.DeleteFunc(slices.Clone(all), func(p openPoint) bool { return p.Passing })))
}

// sealOf is a short name of lists of open points, so that nothing is handed over on another list than was looked at.
func sealOf(says []string) string {
	sum := sha256.Sum256([]byte(strings.Join(says, "\n")))
	return hex.EncodeToString(sum[:8])
}

// handing is the entry of a handover with what is open now.
func (at *atDoor) handing(to, role, note string, open []openPoint, act record.Act) journal.HandedOver {
	return journal.HandedOver{Job: at.shelf.ID, Handover: record.Handover{
		Door: at.door.ID, To: to, Role: role, Revision: at.desk.job.Revision, Open: pointWords(open), Note: note, Act: act,
	}}
}
