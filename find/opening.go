package find

import (
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"math"
	"slices"

	"doorwright/meter"
)

// Opening is what to ask first at a door, and what next for each way the first may come out: the first two levels of the tree
// of all suggestions, worked out before anybody stands there. It is plain data, to be kept as JSON beside a plan. A finder
// begins with it only when its own plan, meter and catalogue are those it was worked out for.
type Opening struct {
	Of     string   `json:"of"` // what it was worked out for
	First  Step     `json:"first"`
	Says   string   `json:"says"` // the first, in words
	Why    string   `json:"why"`
	Before []string `json:"before"`
	Then   []Reply  `json:"then"` // of a reading in order, lowest first
}

// Step is a reading or a look; neither where nothing tells any more.
type Step struct {
	Pair *meter.Pair        `json:"pair,omitempty"`
	Look *meter.Observation `json:"look,omitempty"` // Is left empty
}

// Reply is one way the first comes out, and what is asked then.
type Reply struct {
	Is   string  `json:"is,omitempty"`   // of a look
	Upto float64 `json:"upto,omitempty"` // V or ohm, of a reading; of the last one any
	Step
}

// Opening works the opening out; the finder is then as it was. That takes as long as some twenty suggestions. It errs once
// something was read, seen or mended.
func (f *Finder) Opening() (*Opening, error) {
	if !f.fresh() {
		return nil, fmt.Errorf("door %s: an opening is worked out before anything is read, seen or mended; forget that first", f.door.ID)
	}
	f.opening = nil
	o := &Opening{Of: f.fingerprint()}
	n := f.Next(Suggested)
	if n == nil {
		return o, nil
	}
	o.First, o.Why, o.Before, o.Says = Step{n.Pair, n.Look}, n.Why, n.Before, f.SayNext(n)
	var err error
	if n.Look != nil {
		for _, is := range n.Look.What.Answers() {
			seen := *n.Look
			seen.Is = is
			err = f.then(o, Reply{Is: is}, f.See(seen), err)
		}
		return o, err
	}
	for _, b := range f.bins(*n.Pair) {
		err = f.then(o, Reply{Upto: b.upto}, f.Add(b.shows), err)
	}
	return o, err
}

// then enters what is asked after a reply that was just told, and takes the reply back.
func (f *Finder) then(o *Opening, r Reply, told, before error) error {
	if before != nil || told != nil {
		return cmp.Or(before, told)
	}
	if n := f.Next(Suggested); n != nil {
		r.Step = Step{n.Pair, n.Look}
	}
	o.Then = append(o.Then, r)
	_, err := f.Back()
	return err
}

// bin is a range of a reading, with the reading that is likeliest in it.
type bin struct {
	upto  float64 // V or ohm
	shows meter.Reading
}

// bins are the ranges by which the likeliest suspects part at a pair.
func (f *Finder) bins(p meter.Pair) []bin {
	w := weigher{book: f.book, guesses: f.guesses(mostGuesses)}
	if !w.expect(f.book.Index(p)) {
		return nil
	}
	w.cut()
	var all []bin
	for i := range len(w.edges) + 1 {
		b := bin{upto: math.MaxFloat64}
		low, high := math.Inf(-1), math.Inf(1)
		if i > 0 {
			low = w.edges[i-1]
		}
		if i < len(w.edges) {
			high = w.edges[i]
			b.upto = valueOf(p.Quantity, high)
		}
		at, most := 0.0, 0.0
		for _, c := range w.at {
			if q := c.p * w.guesses[c.guess].p; c.mean > low && c.mean <= high && q > most {
				at, most = c.mean, q
			}
		}
		if most == 0 {
			continue // between two edges with no suspect
		}
		b.shows = shows(p, at)
		all = append(all, b)
	}
	if len(all) > 0 {
		all[len(all)-1].upto = math.MaxFloat64
	}
	return all
}

// valueOf is what the meter shows at a point of a reading's space.
func valueOf(q meter.Quantity, at float64) float64 {
	if q == meter.Ohms {
		return math.Exp(at) - 1
	}
	return at
}

// shows is the reading at a point of its space.
func shows(p meter.Pair, at float64) meter.Reading {
	if v := valueOf(p.Quantity, at); p.Quantity == meter.Volts || at < pointOf(p.Quantity, 0, true).at {
		return p.Shows(v)
	}
	return p.ShowsOpen()
}

// Begin takes an opening that was kept; false when it was worked out for another plan, meter or catalogue, which leaves the
// finder without. It lasts until the plan changes under the finder, as by a measured loop.
func (f *Finder) Begin(o *Opening) bool {
	f.opening = nil
	if o != nil && o.Of == f.fingerprint() {
		f.opening = o
	}
	return f.opening != nil
}

// fresh says that nothing was told yet.
func (f *Finder) fresh() bool {
	return len(f.trail) == 0 && !slices.ContainsFunc(f.suspects, func(s *suspect) bool { return s.mended })
}

// opened is the suggestion that the opening has for what was told; nil where it has none, or a skipped one.
func (f *Finder) opened(guesses []guess, skipped func(*Next) bool) *Next {
	if f.opening == nil || len(f.trail) > 1 || slices.ContainsFunc(f.suspects, func(s *suspect) bool { return s.mended }) {
		return nil
	}
	step := f.opening.First
	if len(f.trail) == 1 {
		r := f.reply()
		if r == nil {
			return nil
		}
		step = r.Step
	}
	var n *Next
	switch {
	case step.Pair != nil && f.book.Index(*step.Pair) >= 0:
		w := weigher{book: f.book, guesses: guesses}
		n = f.asNext(*step.Pair, w.gain(f.book.Index(*step.Pair)))
	case step.Look != nil && f.book.Stop(step.Look.In) >= 0:
		n = f.asLook(*step.Look, f.lookGain(guesses, f.book.Stop(step.Look.In), step.Look.What))
	default:
		return nil
	}
	if n.Gain < enough || skipped != nil && skipped(n) {
		return nil
	}
	f.explain(n, guesses)
	return n
}

// reply is the reply of the opening that holds the one thing that was told; nil when something else was told.
func (f *Finder) reply() *Reply {
	o := f.opening
	if f.trail[0] {
		r := f.readings[0]
		if o.First.Pair == nil || r.Pair() != *o.First.Pair {
			return nil
		}
		y := pointOf(r.Quantity, r.Value, r.Open).at
		for i := range o.Then {
			if y <= pointOf(r.Quantity, o.Then[i].Upto, false).at {
				return &o.Then[i]
			}
		}
		return nil
	}
	seen := f.seen[0]
	if o.First.Look == nil || seen.Called || seen.What != o.First.Look.What || seen.In != o.First.Look.In {
		return nil
	}
	i := slices.IndexFunc(o.Then, func(r Reply) bool { return r.Is == seen.Is })
	if i < 0 {
		return nil
	}
	return &o.Then[i]
}

// fingerprint tells one set of suspects, with all that they would show, from any other.
func (f *Finder) fingerprint() string {
	h := sha256.New()
	var block []byte
	number := func(v float64) { block = binary.LittleEndian.AppendUint64(block, math.Float64bits(v)) }
	text := func(s string) { block = append(append(block, s...), 0) }
	for _, p := range f.book.Pairs {
		text(p.At)
		text(p.To)
		text(p.In.String())
		text(string(p.Quantity))
	}
	for _, s := range f.suspects {
		text(s.id)
		number(s.prior)
		for i := range s.beliefs {
			number(s.beliefs[i].weight)
			for _, x := range s.beliefs[i].row.Shown {
				number(x.Value)
			}
		}
		h.Write(block)
		block = block[:0]
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}
