package proof

import (
	"crypto/sha256"
	"fmt"
	"io"

	"doorwright/fault"
	"doorwright/job"
	"doorwright/rules"
	"doorwright/situation"
)

// FaultPrints tells doors of different jobs, mostly of one job before and after a change, by what becomes of them with
// faults. It is for one goroutine.
type FaultPrints struct {
	result   *Result
	families map[*job.Door]rules.Family
	islands  map[*situation.Island][sha256.Size]byte
}

// FaultPrints makes the prints of a proved job.
func (r *Result) FaultPrints() *FaultPrints {
	p := &FaultPrints{result: r, families: map[*job.Door]rules.Family{}, islands: map[*situation.Island][sha256.Size]byte{}}
	for i := range r.Doors {
		p.families[r.Doors[i].Door] = r.Doors[i].Family
	}
	return p
}

// Of is the print of the i-th door of the result: when it is the same for two, all that TryFaults looks at for them is the
// same, and so is what it finds. It is made of every fault of the catalogue with all that is said of it, and of every island
// that one of them is about.
func (p *FaultPrints) Of(i int) [sha256.Size]byte {
	t := newTrial(p.result, i)
	h := sha256.New()
	p.island(h, t.island)
	fmt.Fprintln(h, t.door.ID)
	for _, r := range t.door.Releases {
		fmt.Fprintln(h, r.ID, r.Place.ID)
	}
	for _, a := range t.door.Accepts {
		fmt.Fprintf(h, "%q %q\n", a.Fault, a.Reason)
	}
	for _, f := range t.faults() {
		p.fault(h, t, f)
	}
	attacks := t.catalogue.Attacks(t.door.ID)
	for k := range attacks {
		p.fault(h, t, &attacks[k])
	}
	return [sha256.Size]byte(h.Sum(nil))
}

func (p *FaultPrints) fault(w io.Writer, t *trial, f *fault.Fault) {
	f.Print(w)
	if t.island.Has(f) {
		return
	}
	for _, is := range p.result.Site.IslandsOf(f) {
		p.island(w, is)
	}
}

func (p *FaultPrints) island(w io.Writer, is *situation.Island) {
	print, ok := p.islands[is]
	if !ok {
		print = Fingerprint(p.result.Job, is, p.families)
		p.islands[is] = print
	}
	w.Write(print[:]) //nolint:errcheck // a hash never fails
}
