package web

import (
	"slices"
	"sync"

	"doorwright/job"
	"doorwright/proof"
)

// faultResult is what became of a door with every single fault, of one document.
type faultResult struct {
	mark, revision string // of the document
	seen           int    // faults that were tried
	attacks        int    // attempts from the unsecured side that were tried
	notices        map[proof.Notice]int
	findings       []proof.Finding
	mended         bool // mends of the findings were looked for
}

// resultOf takes what matters from the report of one door.
func resultOf(report *proof.FaultReport) *faultResult {
	x := &faultResult{notices: map[proof.Notice]int{}, findings: report.Findings}
	for i := range report.Doors {
		d := &report.Doors[i]
		x.seen, x.attacks = len(d.Seen), d.Tried
		for k := range d.Seen {
			x.notices[d.Seen[k].Notice]++
		}
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
	print := prints.Of(slices.IndexFunc(r.Doors, func(x proof.DoorResult) bool { return x.Door == d }))
	k.mu.Lock()
	x := k.of[print]
	k.mu.Unlock()
	if x == nil {
		x = resultOf(proof.TryFaults(r, proof.SingleFaults, d, nil))
		k.keep(print, x)
	}
	y := *x
	return &y
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
