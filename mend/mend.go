package mend

import (
	"cmp"
	"runtime"
	"slices"
	"sync"

	"doorwright/job"
	"doorwright/proof"
)

// mostMends is how many mends are kept for one finding.
const mostMends = 3

// All looks for mends of every finding of an examined job and enters them, best first: of the changes that were proposed
// for it; where none of these mends, of those that were proposed for what else is wrong at its door; where none of them
// does either, of two together. A finding that none was found for keeps an empty list. Of a job of which only some doors
// were examined, a change is examined at these doors and at all that it makes share copper with them.
func (x *Examiner) All(j *job.Job, e *Examination) {
	var tried []*trial
	for _, c := range gather(j, e) {
		tried = append(tried, &trial{candidate: c})
	}
	each(len(tried), func(i int) { x.try(j, e, tried[i]) })
	pairs := newPairs(x, j, e, tried)
	each(len(e.Findings), func(i int) {
		f := &e.Findings[i]
		good := mending(tried, f, (*candidate).serves)
		if len(good) == 0 {
			good = mending(tried, f, pairs.near)
		}
		if len(good) == 0 {
			good = pairs.mending(f)
		}
		f.Mends = best(j, good)
	})
}

// mending are those of the trials that mend a finding and whose candidate is asked for.
func mending(tried []*trial, f *proof.Finding, asked func(*candidate, *proof.Finding) bool) []*candidate {
	var good []*candidate
	for _, t := range tried {
		if t.mends(f.Key()) && asked(t.candidate, f) {
			good = append(good, t.candidate)
		}
	}
	return good
}

// best are the mends that some candidates come to, those of least cost first, never nil. One that does all that another does and
// something beside is left out.
func best(j *job.Job, good []*candidate) []proof.Mend {
	all := slices.Clone(good)
	good = slices.DeleteFunc(good, func(c *candidate) bool { return slices.ContainsFunc(all, c.exceeds) })
	slices.SortStableFunc(good, func(a, b *candidate) int { return cmp.Compare(a.cost, b.cost) })
	mends := []proof.Mend{}
	for _, c := range good[:min(len(good), mostMends)] {
		mends = append(mends, c.mend(j))
	}
	return mends
}

// each does something for each of n, on all processors.
func each(n int, do func(int)) {
	next := make(chan int)
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		wg.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}
