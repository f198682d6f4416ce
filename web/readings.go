package web

import (
	"fmt"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"

	"doorwright/find"
	"doorwright/job"
	"doorwright/journal"
	"doorwright/meter"
	"doorwright/record"
	"doorwright/unit"
)

// bench is a door's finder with what was told to it. One request at a time uses it.
type bench struct {
	door    string
	readied sync.Once

	mu     sync.Mutex
	finder *find.Finder
	list   []find.Listed
	calls  []find.Call // what may be called for at the door
	first  *find.Next  // what to ask while nothing was told yet
	told   []string
}

// mostBenches bounds how many doors of a job are kept ready to be searched.
const mostBenches = 12

// benchFor is the bench of a door, whether it was made ready or not. The one that was used last stands at the end.
func (d *desk) benchFor(door string) *bench {
	d.mu.Lock()
	defer d.mu.Unlock()
	i := slices.IndexFunc(d.benches, func(b *bench) bool { return b.door == door })
	b := &bench{door: door}
	if i >= 0 {
		b = d.benches[i]
		d.benches = slices.Delete(d.benches, i, i+1)
	}
	d.benches = append(d.benches, b)
	if len(d.benches) > mostBenches {
		d.benches = slices.Delete(d.benches, 0, 1)
	}
	return b
}

// readied makes the door ready to be searched in the background: whoever works at it may soon want to know what to measure.
func (at *atDoor) readied() {
	b := at.desk.benchFor(at.door.ID)
	b.readied.Do(func() {
		go func() {
			if b, err := at.benchOf(); err == nil {
				b.mu.Unlock()
			}
		}()
	})
}

// benchOf is the bench of a door, locked; it takes about a second to make, and is kept with the desk.
func (at *atDoor) benchOf() (*bench, error) {
	b := at.desk.benchFor(at.door.ID)
	b.mu.Lock()
	if b.finder == nil {
		f, err := at.finder()
		if err != nil {
			b.mu.Unlock()
			return nil, err
		}
		b.finder = f
		b.list, _, _ = f.List()
		b.calls = f.Calls()
		known := f.Begin(at.desk.openings.of(at.shelf.ID, at.door.ID))
		b.first = f.Next(find.Suggested)
		if !known {
			go b.prepare(at.desk.openings, at.shelf.ID)
		}
	}
	return b, nil
}

// prepare works out what to ask first at the door, and what next for each way it may come out, while whoever asked looks at
// the first question. Once something was told it is too late for that.
func (b *bench) prepare(kept *openings, of string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if o, err := b.finder.Opening(); err == nil && b.finder.Begin(o) {
		kept.keep(of, b.door, o)
	}
}

// finder makes the finder of the door: of one that nobody planned here, with all that may be otherwise.
func (at *atDoor) finder() (*find.Finder, error) {
	if at.shelf.File == asFoundFile {
		return find.NewAsFound(at.desk.site, at.door.ID, meter.Default())
	}
	return find.New(at.desk.site, at.door.ID, meter.Default())
}

// note is one thing that was told: a reading, something seen, or a fault that was mended.
type note struct {
	text  string // the same for the same
	from  *journal.Entry
	enter func(*find.Finder) error
	seen  *meter.Observation // nil for a reading or a fault that was mended
}

// called says of what is told before anything else that somebody called for it: it is of the list that is asked before all
// questions, or is no answer to the first of them.
func (b *bench) called(n note) bool {
	if n.seen == nil {
		return false
	}
	ofList := slices.ContainsFunc(b.calls, func(c find.Call) bool {
		return c.Seen.What == n.seen.What && c.Seen.Is == n.seen.Is && c.Seen.In == n.seen.In
	})
	return ofList || b.first == nil || b.first.Look == nil || b.first.Look.What != n.seen.What || b.first.Look.In != n.seen.In
}

// tell brings the finder to what was told, and to nothing else. What does not fit the door is left out and said.
func (b *bench) tell(notes []note) (left []string) {
	known := 0
	for known < len(b.told) && known < len(notes) && b.told[known] == notes[known].text {
		known++
	}
	if known < len(b.told) {
		b.finder.Forget()
		b.told, known = nil, 0
	}
	for i, n := range notes[known:] {
		if known+i == 0 && b.called(n) {
			n.seen.Called = true
		}
		if err := n.enter(b.finder); err != nil {
			left = append(left, n.text+": "+err.Error())
		}
		b.told = append(b.told, n.text)
	}
	return left
}

// notesOf are what was read and seen at the door since something was mended last, in its order.
func (at *atDoor) notesOf() []note {
	var all []note
	for _, e := range at.shelf.History {
		if !at.shelf.Counts(e) {
			continue
		}
		switch b := e.Body.(type) {
		case journal.Measured:
			if r, ok := at.readingOf(b.Reading); ok {
				red, black := b.Leads(at.desk.plan)
				all = append(all, note{fmt.Sprintf("%s against %s, %s: %s", red, black, r.In.Say(), b.Shows.String()), e, func(f *find.Finder) error { return f.Add(r) }, nil})
			}
		case journal.Sighted:
			if b.Door != at.door.ID {
				continue
			}
			says := b.Say()
			if b.Mended != "" {
				all = []note{{says, e, func(f *find.Finder) error { return f.Mend(b.Mended) }, nil}}
				continue
			}
			if o, err := meter.ParseSeen(b.What); err == nil {
				seen := &o
				all = append(all, note{says, e, func(f *find.Finder) error { return f.See(*seen) }, seen})
			}
		}
	}
	return all
}

// readingOf is a recorded reading as the finder takes it; false for one of another door, or of first fix.
func (at *atDoor) readingOf(r record.Reading) (meter.Reading, bool) {
	p, ok := r.Pair(at.desk.plan)
	if !ok || !at.has(r.Device) {
		return meter.Reading{}, false
	}
	v := r.Shows.Figure()
	if math.IsInf(v, 1) {
		return p.ShowsOpen(), true
	}
	return p.Shows(v), true
}

// has says that a device belongs to the door or to what it hangs on.
func (at *atDoor) has(device string) bool {
	d := at.desk.plan.Device(device)
	if d == nil {
		return false
	}
	if d.Door == at.door.ID || device == at.door.Controller.ID || strings.HasPrefix(device, at.door.Controller.ID+".") {
		return true
	}
	return slices.ContainsFunc(at.door.Supplies(), func(s *job.Supply) bool { return device == s.ID || strings.HasPrefix(device, s.ID+".") })
}

type readingsView struct {
	Tabs     workTabsView
	Cautions []string
	Says     string
	Groups   []readingGroup

	Next, NextURL string // the first that is open; empty when none is
}

type readingGroup struct {
	group
	Rows []readingRow
}

type readingRow struct{ URL, Says, Why, Band, Showed, Class string }

// sort enters the rows in groups; those that are taken and good are folded away.
func (v *readingsView) sort(all []readingRow) {
	wrong := readingGroup{group: group{ID: "wrong", Title: "Not as it should be, or in doubt", Open: true}}
	todo := readingGroup{group: group{ID: "todo", Title: "To take", Open: true}}
	good := readingGroup{group: group{ID: "good", Title: "Taken and good"}}
	for _, row := range all {
		switch row.Class {
		case "good":
			good.Rows = append(good.Rows, row)
			continue
		case "":
			todo.Rows = append(todo.Rows, row)
		default:
			wrong.Rows = append(wrong.Rows, row)
		}
		if v.NextURL == "" {
			v.Next, v.NextURL = "Next: "+row.Says, row.URL
		}
	}
	for _, g := range []readingGroup{wrong, todo, good} {
		if g.Count = fmt.Sprint(len(g.Rows)); len(g.Rows) > 0 {
			v.Groups = append(v.Groups, g)
		}
	}
}

// readings lists the few readings that together show every fault that can be shown.
func (h *handler) readings(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	b, err := at.benchOf()
	if err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The readings cannot be worked out", err.Error())
		return
	}
	defer b.mu.Unlock()
	v := readingsView{Tabs: at.workTabs("/do/read"), Cautions: slices.Concat(at.amiss(), meter.Granted(at.desk.plan, at.door), meter.Cautions())}
	good := 0
	var rows []readingRow
	for _, l := range b.list {
		row := readingRow{URL: at.readingURL(l.Pair), Says: b.finder.Say(l.Pair), Why: l.Why, Band: bandWords(l.Pair.Quantity, l.Band)}
		if m, in := at.lastOf(l.Pair, l.Band); m != nil {
			row.Showed, row.Class = m.Shows.String()+", "+at.shelf.Record.Name(m.By)+", "+m.On.String(), "error"
			if in {
				row.Class = "good"
				good++
			}
		}
		rows = append(rows, row)
	}
	v.sort(rows)
	v.Says = fmt.Sprintf("%d readings together show every fault that a meter can show here. %d are taken and good.", len(b.list), good)
	h.show(w, r, readingsPage(h.doorSheet(r, at, "At work"), v))
}

// lastOf is the last reading of a pair, and whether it is within the band.
func (at *atDoor) lastOf(p meter.Pair, band meter.Band) (*record.Reading, bool) {
	for i := range slices.Backward(at.shelf.Record.Read) {
		m := &at.shelf.Record.Read[i]
		r, ok := at.readingOf(*m)
		if ok && r.Pair() == p {
			return m, holds(band, r)
		}
	}
	return nil, false
}

func holds(b meter.Band, r meter.Reading) bool {
	if r.Open {
		return b.Open
	}
	return b.Holds(r.Value)
}

func bandWords(q meter.Quantity, b meter.Band) string {
	switch {
	case b.Open && q == meter.Ohms:
		return "over range, or more than " + unit.Ohm(b.Low).String()
	case b.Open:
		return "over range, or more than " + meter.Show(q, b.Low)
	case b.Nominal == 0 && b.Low <= 0 && q == meter.Ohms:
		return "at most " + meter.Show(q, b.High)
	case meter.Show(q, b.Low) == meter.Show(q, b.High):
		return meter.Show(q, b.Nominal)
	}
	return fmt.Sprintf("%s (%s to %s)", meter.Show(q, b.Nominal), meter.Show(q, b.Low), meter.Show(q, b.High))
}

// readingURL is where a pair is read. The pair is written in the address: a list may change with the plan.
func (at *atDoor) readingURL(p meter.Pair) string {
	v := url.Values{"at": {p.At}, "to": {p.To}, "in": {p.In.String()}, "of": {string(p.Quantity)}}
	return at.at + "/do/read/one?" + v.Encode()
}

type readingView struct {
	Stale                     string
	Before                    []string
	Red, Black, In, Band, Why string
	Wrong, Value              string // a mistake, and what was typed
	Verdict, VerdictClass     string
	Units                     []string
	NextURL, FindURL, BackURL string
	Next, Back                string      // in words
	SearchURL                 string      // where a search goes on; empty at first fix
	Length                    *lengthView // of a measured loop; nil for none
}

// backKey takes the last figure back.
const backKey = "⌫"

func padKeys() []string {
	return []string{"7", "8", "9", "4", "5", "6", "1", "2", "3", "−", "0", "."}
}

// pairOf reads the pair of an address.
func pairOf(r *http.Request) (meter.Pair, error) {
	v := r.URL.Query()
	in, err := meter.ParseCondition(v.Get("in"))
	if err != nil {
		return meter.Pair{}, err
	}
	q := meter.Quantity(v.Get("of"))
	if q != meter.Volts && q != meter.Ohms && q != meter.Diode {
		return meter.Pair{}, fmt.Errorf("%q is nothing that a meter reads here", v.Get("of"))
	}
	return meter.Pair{At: v.Get("at"), To: v.Get("to"), In: in, Quantity: q}, nil
}

func (h *handler) reading(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	h.showReading(w, r, at, "")
}

// showReading shows one pair with its last reading.
func (h *handler) showReading(w http.ResponseWriter, r *http.Request, at *atDoor, wrong string) {
	b, p, i, ok := h.pair(w, r, at)
	if !ok {
		return
	}
	defer b.mu.Unlock()
	book := b.finder.Book()
	band := book.Band(i)
	v := readingView{
		Stale: at.staleWords(), Red: book.Label(p.At), Black: book.Label(p.To), In: p.In.Say(), Band: bandWords(p.Quantity, band),
		Before: before(p), BackURL: at.at + "/do/read", Wrong: wrong, Value: r.PostForm.Get("value"), Units: units(p.Quantity),
		Next: "Next reading", Back: "All readings", SearchURL: at.at + "/find",
	}
	here, title := -1, "Reading"
	for k, l := range b.list {
		if l.Pair == p {
			here, v.Why = k, l.Why
			title = fmt.Sprintf("Reading %d of %d", k+1, len(b.list))
		}
	}
	m, in := at.lastOf(p, band)
	if m != nil {
		v.Verdict, v.VerdictClass = m.Shows.String()+" is as it should be", "good"
		if !in {
			v.Verdict, v.VerdictClass, v.FindURL = m.Shows.String()+" is not as it should be", "error", at.at+"/find"
			read, ok := at.readingOf(*m)
			if says := find.Danger(read); ok && says != "" {
				v.Verdict, v.FindURL = m.Shows.String()+". "+says, ""
			} else if ok && band.Turned(read) {
				v.Verdict, v.VerdictClass = m.Shows.String()+" would be right with the leads the other way round: see that red and black are where they are said to be, and read again", "advice"
			}
		}
	}
	if here >= 0 && here+1 < len(b.list) && m != nil {
		v.NextURL = at.readingURL(b.list[here+1].Pair)
	}
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, readingPage(h.leafSheet(r, at, title, "/do/read"), v))
}

// pair finds the pair of an address in the book of the door; the bench is locked when it does.
func (h *handler) pair(w http.ResponseWriter, r *http.Request, at *atDoor) (*bench, meter.Pair, int, bool) {
	p, err := pairOf(r)
	var b *bench
	if err == nil {
		b, err = at.benchOf()
	}
	if err != nil {
		h.refuse(w, r, http.StatusUnprocessableEntity, "There is no such reading", err.Error())
		return nil, p, 0, false
	}
	i := b.finder.Book().Index(p)
	if i < 0 {
		b.mu.Unlock()
		h.refuse(w, r, http.StatusNotFound, "There is no such reading", "The door has no such pair of terminals in that condition: the plan may have changed.")
		return nil, p, 0, false
	}
	return b, p, i, true
}

// before says what must be done before a pair is read.
func before(p meter.Pair) []string {
	if !p.In.Dead() {
		return []string{"Power is on: one hand, insulated probes, nothing bridged. Never at mains terminals."}
	}
	all := []string{find.FirstOff, find.FirstDead}
	if p.In.Pulled != "" || p.In.Alone != "" {
		all = append(all, find.FirstPlug)
	}
	return all
}

func units(q meter.Quantity) []string {
	switch q {
	case meter.Volts:
		return []string{"V", "mV"}
	case meter.Diode:
		return []string{"V", overRange}
	}
	return []string{"ohm", "kohm", "Mohm", overRange}
}

const overRange = "over range"

// measured keeps what the meter showed.
func (h *handler) measured(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	b, p, _, ok := h.pair(w, r, at)
	if !ok {
		return
	}
	b.mu.Unlock()
	shows, err := shownOf(p.Quantity, r.PostForm.Get("value"), r.PostForm.Get("unit"))
	if err != nil {
		h.showReading(w, r, at, err.Error())
		return
	}
	s := record.SpotOf(at.desk.plan, p)
	m := record.Reading{
		Device: s.Device, Red: s.Red, Black: s.Black, Condition: s.Condition, Shows: shows, Meter: h.meter(), Act: h.act(r),
	}
	if h.write(w, r, append(h.stopped(r, at, "/do/read"), journal.Measured{Job: at.shelf.ID, Reading: m})...) {
		http.Redirect(w, r, at.readingURL(p), http.StatusSeeOther)
	}
}

// meter is the meter in use: the one that was named last; empty while none was.
func (h *handler) meter() string {
	all := h.Journal.State().Meters
	if len(all) == 0 {
		return ""
	}
	return all[len(all)-1].Key
}

// shownOf reads what somebody typed: a figure and the unit that was pressed.
func shownOf(q meter.Quantity, value, u string) (record.Value, error) {
	var v record.Value
	if !slices.Contains(units(q), u) {
		return v, fmt.Errorf("press one of %s", strings.Join(units(q), ", "))
	}
	text := overRange
	if u != overRange {
		value = strings.NewReplacer(",", ".", "−", "-", " ", "").Replace(value)
		if _, err := strconv.ParseFloat(value, 64); err != nil {
			return v, fmt.Errorf("%q is no figure: type what the meter shows, then press its unit", value)
		}
		text = value + " " + u
	}
	if q == meter.Diode {
		text += " diode"
	}
	if err := v.UnmarshalText([]byte(text)); err != nil {
		return v, err
	}
	return v, v.Unshown()
}
