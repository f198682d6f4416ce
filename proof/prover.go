package proof

import (
	"crypto/sha256"
	"fmt"
	"io"
	"sync"

	"doorwright/job"
	"doorwright/rules"
	"doorwright/situation"
)

// Prover proves one plan after another and does no island twice: a change to one door leaves the islands of the others
// as they were. It may be used by several goroutines at once.
type Prover struct {
	mu    sync.Mutex
	known map[[sha256.Size]byte]*watchSet
	order [][sha256.Size]byte // of the known, oldest first
	doors int                 // that the known islands have
}

// mostDoors bounds what is remembered, some 20 kB for each door in all limit cases: a large site, and the last changes tried
// to it.
const mostDoors = 4096

// NewProver makes a prover that knows nothing yet.
func NewProver() *Prover { return &Prover{known: map[[sha256.Size]byte]*watchSet{}} }

// watchSet is what the watches of one island saw, by limit case.
type watchSet struct {
	print   [sha256.Size]byte
	doors   int // 1 for a supply alone
	watches []*watch
}

func (p *Prover) find(print [sha256.Size]byte) *watchSet {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.known[print]
}

func (p *Prover) keep(s *watchSet) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.known[s.print] == nil {
		p.order = append(p.order, s.print)
		p.doors += s.doors
	}
	p.known[s.print] = s
	for p.doors > mostDoors && len(p.order) > 1 {
		p.doors -= p.known[p.order[0]].doors
		delete(p.known, p.order[0])
		p.order = p.order[1:]
	}
}

// Fingerprint is the same for two islands when everything that a proof of them looks at is the same: the families by door
// are those that apply. Figures are written
// with every digit, not as people read them.
func Fingerprint(j *job.Job, is *situation.Island, families map[*job.Door]rules.Family) [sha256.Size]byte {
	h := sha256.New()
	fmt.Fprintf(h, "%#v %#v %#v\n", j.Temperature, j.Document.Models, j.Document.Cables)
	for _, u := range is.Units {
		d := u.Device
		fmt.Fprintf(h, "%s %s %s %s %d %#v\n", d.ID, d.ModelID, d.Role, d.Door, d.Leaf, d.Settings)
	}
	for _, c := range is.Conductors {
		fmt.Fprintln(h, c.ID, c.Kind, c.A, c.B, c.Door, c.Use, c.Reason.Effect, c.Unsure, c.Feeds != nil)
		if c.Run != nil {
			fmt.Fprintln(h, c.Run.TypeID, float64(c.Run.Length()), c.Core.Index)
		}
	}
	for _, s := range is.Supplies {
		fmt.Fprintln(h, s.ID, s.ModelID, s.Earthed, s.ZeroStated, float64(s.WorksTo))
	}
	for _, d := range is.Doors {
		printDoor(h, d, families[d])
	}
	return [sha256.Size]byte(h.Sum(nil))
}

// printDoor writes what a proof looks at of a door beside its units and conductors.
func printDoor(w io.Writer, d *job.Door, f rules.Family) {
	fmt.Fprintln(w, d.ID, f.ID, d.Escape, d.FireRated, d.Leaves, d.Controller.ID, d.Channel, d.Supervision, float64(d.Resistor), d.RelayContact)
	printFeed(w, d.Controller.Feed)
	for _, l := range d.Locks {
		fmt.Fprintln(w, l.ID, l.HandleFrees, l.Suppressor, l.OnBattery)
		printFeed(w, l.Feed)
	}
	for _, r := range d.Releases {
		fmt.Fprintln(w, r.ID, r.Unsecured, r.InFeed)
	}
	for _, e := range d.Exits {
		fmt.Fprintln(w, e.ID, e.Breaks)
	}
	for _, a := range d.Aux {
		fmt.Fprintln(w, a.ID, a.Supervision, float64(a.Resistor))
	}
}

func printFeed(w io.Writer, f job.Feed) {
	if f.Supply != nil {
		fmt.Fprintln(w, f.Supply.ID, f.Output)
	}
	fmt.Fprintln(w, f.Controller)
}
