package find

import (
	"cmp"
	"slices"

	"doorwright/job"
)

// fixed is the next reading of the checklist: live first, from the supply along the chain to the lock, then the inputs,
// then the data lines, condition by condition; dead after that.
func (f *Finder) fixed() *Next {
	taken := f.taken()
	order := f.checklist()
	for _, i := range order {
		if !taken[i] {
			n := f.asNext(f.book.Pairs[i], 0)
			n.Why = "next on the checklist"
			return n
		}
	}
	return nil
}

// checklist is the order of the pairs.
func (f *Finder) checklist() []int {
	var order []int
	for i, p := range f.book.Pairs {
		if !f.book.Across(i) && !f.isProof(p.Shows(0)) {
			order = append(order, i)
		}
	}
	rank := func(i int) int {
		p := f.book.Pairs[i]
		d := f.deviceAt(p.At)
		if d == nil {
			return len(walk)
		}
		at := slices.Index(walk, d.Role)
		if at < 0 {
			at = len(walk)
		}
		return at
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(f.book.Stop(f.book.Pairs[a].In), f.book.Stop(f.book.Pairs[b].In)), cmp.Compare(rank(a), rank(b)))
	})
	return order
}

// walk is the way of the checklist.
var walk = []job.Role{
	job.RoleSupply, job.RoleBattery, job.RoleBoard, job.RoleController, job.RoleWatch, job.RoleInterpose, job.RoleFire,
	job.RoleRelease, job.RoleLoop, job.RoleLock, job.RoleExit, job.RoleContact, job.RoleAux, job.RoleEntry, job.RoleExitReader,
	job.RoleSounder,
}
