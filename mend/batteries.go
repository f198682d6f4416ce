package mend

import (
	"crypto/sha256"
	"fmt"
	"runtime"
	"slices"
	"sync"

	"doorwright/job"
	"doorwright/proof"
	"doorwright/rules"
	"doorwright/standby"
)

// batteries remembers estimates, so that a change to one door does not discharge the batteries of all others again.
type batteries struct {
	mu    sync.Mutex
	known map[[sha256.Size]byte]standby.Estimate
	order [][sha256.Size]byte // of the known, oldest first
}

// mostBatteries bounds what is remembered.
const mostBatteries = 512

// judge estimates every supply of a proved job, in its order. As many are at work at once as there are processors: each has
// its island on a bench of its own, and hundreds of them would take more memory than all else.
func (b *batteries) judge(r *proof.Result) []standby.Estimate {
	families := map[*job.Door]rules.Family{}
	for i := range r.Doors {
		families[r.Doors[i].Door] = r.Doors[i].Family
	}
	all := make([]standby.Estimate, len(r.Loads))
	limit := make(chan struct{}, runtime.GOMAXPROCS(0))
	var wg sync.WaitGroup
	for i, l := range r.Loads {
		limit <- struct{}{}
		wg.Go(func() {
			all[i] = b.of(r, l.Supply, families)
			<-limit
		})
	}
	wg.Wait()
	return all
}

func (b *batteries) of(r *proof.Result, s *job.Supply, families map[*job.Door]rules.Family) standby.Estimate {
	print := proof.Fingerprint(r.Job, r.Site.Island(s.ID), families)
	// What an estimate looks at beyond a proof: what is asked, and of doors what must go on.
	key := sha256.Sum256(fmt.Appendf(nil, "%x %s %v %v", print, s.ID, float64(s.Standby), s.StandbyStated))
	b.mu.Lock()
	e, ok := b.known[key]
	b.mu.Unlock()
	if !ok {
		e = standby.Of(r.Site, s)
		b.keep(key, e)
	}
	e.Supply, e.Assumed = s, slices.Clone(e.Assumed)
	return e
}

func (b *batteries) keep(key [sha256.Size]byte, e standby.Estimate) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if _, ok := b.known[key]; !ok {
		b.order = append(b.order, key)
	}
	b.known[key] = e
	if len(b.order) > mostBatteries {
		delete(b.known, b.order[0])
		b.order = b.order[1:]
	}
}
