package web

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"doorwright/job"
	"doorwright/proof"
)

// faultResult is what became of a door with every single fault, of one document.
type faultResult struct {
	mark, revision string // of the document
	seen           int    // faults that were tried
	attacks        int    // attempts from the unsecured side that were tried
	faultCount
	findings []proof.Finding
	left     []string // what was not tried, in sentences
	mended   bool     // mends of the findings were looked for
}

// faultCount is what faults and attempts from the unsecured side come to at a door, in numbers.
type faultCount struct {
	notices  map[proof.Notice]int
	lost     int      // faults that take a way out
	broken   int      // faults against a requirement
	opened   int      // attempts that let the door go
	accepted int      // of these
	reasons  []string // of what is accepted, each once
}

func countOf(d *proof.DoorFaults) faultCount {
	c := faultCount{notices: map[proof.Notice]int{}, opened: len(d.Attacks)}
	for k := range d.Seen {
		s := &d.Seen[k]
		c.notices[s.Notice]++
		if len(s.Lost) > 0 {
			c.lost++
		}
		if s.Broken != "" && s.Accepted == "" {
			c.broken++
		}
	}
	for k := range d.Attacks {
		reason := d.Attacks[k].Accepted
		if reason == "" {
			continue
		}
		c.accepted++
		if !slices.Contains(c.reasons, reason) {
			c.reasons = append(c.reasons, reason)
		}
	}
	return c
}

// outside says what becomes of the attempts that let the door go; nothing when there are none.
func (c faultCount) outside() string {
	if c.opened == 0 {
		return ""
	}
	says := counted(c.opened, "attempt from outside lets", "attempts from outside let") + " the door go"
	if c.accepted == 0 {
		return says + ", none of them accepted."
	}
	return says + fmt.Sprintf(", %d of them accepted: %s.", c.accepted, strings.Join(c.reasons, "; "))
}

// resultOf takes what matters from the report of one door.
func resultOf(report *proof.FaultReport) *faultResult {
	x := &faultResult{findings: report.Findings, left: report.Left}
	for i := range report.Doors {
		d := &report.Doors[i]
		x.seen, x.attacks, x.faultCount = len(d.Seen), d.Tried, countOf(d)
	}
	x.mended = len(x.findings) == 0
	return x
}

// knownFaults is what faults came to at the doors of a job, of its present document and of earlier ones. A change, or one
// taken back, leaves most doors as they are known.
type knownFaults struct {
	mu    sync.Mutex
	of    map[[32]byte]*faultResult
	order [][32]byte // of the known, oldest first
}

func newKnownFaults() *knownFaults { return &knownFaults{of: map[[32]byte]*faultResult{}} }

// mostDoorsKnown bounds what is remembered: a job of a thousand doors as it is, and three changes that touch all of them.
// A door takes a few kilobytes.
const mostDoorsKnown = 4096

// try gives what single faults come to at a door: as it is known, else tried now. The result is the caller's own; mends are
// yet to be looked for, since they are of the whole job.
func (k *knownFaults) try(r *proof.Result, d *job.Door, prints *proof.FaultPrints) *faultResult {
	print := printOf(r, d, prints)
	x := k.recall(print)
	if x == nil {
		x = resultOf(proof.TryFaults(r, proof.SingleFaults, d, nil))
		k.keep(print, x)
		y := *x
		return &y
	}
	return x
}

func printOf(r *proof.Result, d *job.Door, prints *proof.FaultPrints) [32]byte {
	return prints.Of(slices.IndexFunc(r.Doors, func(x proof.DoorResult) bool { return x.Door == d }))
}

// recall is what is known of a door with such a print; nil for nothing.
func (k *knownFaults) recall(print [32]byte) *faultResult {
	k.mu.Lock()
	defer k.mu.Unlock()
	x := k.of[print]
	if x == nil {
		return nil
	}
	y := *x
	return &y
}

// empty says that nothing is known yet.
func (k *knownFaults) empty() bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	return len(k.of) == 0
}

func (k *knownFaults) keep(print [32]byte, x *faultResult) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.of[print] == nil {
		k.order = append(k.order, print)
	}
	k.of[print] = x
	if len(k.order) > mostDoorsKnown {
		delete(k.of, k.order[0])
		k.order = k.order[1:]
	}
}
