package web

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/record"
)

// stage is a stage of the work at a door, in the order of the trade.
type stage string

const (
	planned    stage = "planned"
	firstFix   stage = "first fix"
	secondFix  stage = "second fix"
	deadTest   stage = "dead test"
	liveTest   stage = "live test"
	ready      stage = "ready to hand over"
	handedOver stage = "handed over"
)

func stages() []stage {
	return []stage{planned, firstFix, secondFix, deadTest, liveTest, ready, handedOver}
}

// progress is how far the work at a door is, by what was recorded.
type progress struct {
	stage          stage
	landed, toLand int
	passed, toTest int
	failed         int
	snags          int  // open ones
	life           bool // one of them touches getting out
}

func (p progress) words() string {
	var all []string
	if p.landed > 0 || p.passed > 0 {
		all = append(all, fmt.Sprintf("%d of %d terminals landed, %d of %d tests passed", p.landed, p.toLand, p.passed, p.toTest))
	}
	if p.failed > 0 {
		all = append(all, counted(p.failed, "test failed", "tests failed"))
	}
	if p.snags > 0 {
		all = append(all, counted(p.snags, "open snag", "open snags"))
	}
	return strings.Join(all, ", ")
}

// progress counts what was recorded of a door.
func (at *atJob) progress(d *job.Door) progress {
	p := progress{stage: planned}
	rec := at.shelf.Record
	runs := map[string]bool{}
	for _, l := range at.desk.landingsOf(d.ID) {
		p.toLand++
		if l.Conductor.Run != nil {
			runs[l.Conductor.Run.ID] = true
		}
		if rec != nil && rec.LandedAt(l.Device.ID, l.Terminal) != nil {
			p.landed++
		}
	}
	steps := record.StepsOf(d)
	p.toTest = len(steps)
	if rec == nil {
		return p
	}
	for _, s := range steps {
		switch t := rec.Test(d.ID, s.ID); {
		case t.Counts(s):
			p.passed++
		case t != nil && t.Outcome == "fail":
			p.failed++
		}
	}
	for _, s := range rec.Snags {
		if s.Value.Door == d.ID && s.Value.Open() {
			p.snags++
			p.life = p.life || s.Value.Class == "life"
		}
	}
	p.stage = p.reached(readAt(rec, d.ID), rec.HandedAt(d.ID) != nil)
	if p.stage == planned && measuredOn(rec, runs) {
		p.stage = firstFix
	}
	return p
}

// reached is the stage that the counts speak of; read says that a reading was taken at the door, handed that somebody
// has taken it over. A door that has failed since, or that has a snag that touches getting out, is at work again.
func (p progress) reached(read, handed bool) stage {
	switch {
	case handed && p.failed == 0 && !p.life:
		return handedOver
	case p.passed == p.toTest && p.landed == p.toLand && p.failed == 0 && p.snags == 0:
		return ready
	case p.passed > 0 || p.failed > 0:
		return liveTest
	case read:
		return deadTest
	case p.landed > 0:
		return secondFix
	}
	return planned
}

func readAt(rec *record.Record, door string) bool {
	for _, r := range rec.Read {
		if strings.HasPrefix(r.Device, door+".") {
			return true
		}
	}
	return false
}

// measuredOn says that one of some runs was measured before anything was connected to it.
func measuredOn(rec *record.Record, runs map[string]bool) bool {
	return slices.ContainsFunc(rec.Read, func(r record.Reading) bool { return r.Condition == record.FirstFix && runs[r.Device] })
}
