package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"doorwright/draw"
	"doorwright/situation"
	"doorwright/tryout"
	"doorwright/unit"
	"doorwright/wiring"
)

// tryView is what the try-out of a door shows. A play is written in the address, so that the page before is the step
// before, and a play can be sent to somebody.
type tryView struct {
	Wrong        string // why the play cannot be shown
	Effect       string
	EffectClass  string
	Locks        []tryLock
	Alarms       string
	Unsteady     string
	Controls     []tryControl
	Waits        []option
	Steps        []tryout.Step
	Back, Fresh  string
	Drawing      string
	PickURL      string
	Picked       *pick
	Altered      []tryControl
	Catalogue    []optionGroup
	Kept         []field
	KeptAround   []field
	Heat         string
	Cells        []option
	Cell, Supply string
	Inputs       []tryInput
	Power        []tryPower
	Wires        []tryWire
}

type (
	tryLock    struct{ ID, Volts, Amps, Why string }
	tryControl struct {
		Says, URL string
		On, Life  bool
	}
	option      struct{ Value, Title string }
	optionGroup struct {
		Title   string
		Options []option
	}
	tryInput struct {
		Name, Use, Reads, Volts string
		Active, Fault           bool
	}
	tryPower struct{ Name, Says, Volts, Amps string }
	tryWire  struct{ Name, From, To, For, Volts, Amps, Do, URL, Pick string }
	// pick is the core that was touched.
	pick struct {
		Title, Says, Figures      string
		CutURL, CutSays, CloseURL string
		Kept                      []field
		Ends, Others              []option
	}
)

// played is a play as an address says it.
type played struct {
	at     string // of the page
	acts   []string
	wrong  []string
	heat   string
	cell   string
	supply string
	pick   string
}

func playedOf(r *http.Request, at string) played {
	v := r.URL.Query()
	p := played{at: at, acts: filled(v["do"]), wrong: filled(v["wrong"]), heat: strings.TrimSpace(v.Get("heat")), cell: v.Get("cell"), supply: v.Get("supply"), pick: v.Get("pick")}
	if from, to := v.Get("from"), v.Get("to"); from != "" && to != "" {
		p.wrong = append(p.wrong, "join "+from+" "+to)
	}
	return p
}

func filled(all []string) []string {
	return slices.DeleteFunc(slices.Clone(all), func(s string) bool { return s == "" })
}

// fields are what a form must hand on.
func (p played) fields() []field {
	var all []field
	for _, a := range p.acts {
		all = append(all, field{"do", a})
	}
	for _, a := range p.wrong {
		all = append(all, field{"wrong", a})
	}
	return all
}

func (p played) around() []field {
	var all []field
	for _, f := range []field{{"heat", p.heat}, {"cell", p.cell}, {"supply", p.supply}} {
		if f.Value != "" {
			all = append(all, f)
		}
	}
	return all
}

// url is the address of the play.
func (p played) url() string {
	v := url.Values{}
	for _, f := range append(p.fields(), p.around()...) {
		v.Add(f.Name, f.Value)
	}
	if p.pick != "" {
		v.Set("pick", p.pick)
	}
	if len(v) == 0 {
		return p.at
	}
	return p.at + "?" + v.Encode()
}

func (p played) and(act string) string {
	p.acts, p.pick = append(slices.Clone(p.acts), act), ""
	return p.url()
}

func (p played) altered(text string) string {
	p.wrong, p.pick = append(slices.Clone(p.wrong), text), ""
	return p.url()
}

func (p played) without(text string) string {
	p.wrong, p.pick = slices.DeleteFunc(slices.Clone(p.wrong), func(s string) bool { return s == text }), ""
	return p.url()
}

func (p played) touching(id string) string {
	p.pick = id
	return p.url()
}

// play reads the address as a play; every mistake is told.
func (p played) play() (tryout.Play, error) {
	var play tryout.Play
	var wrong []string
	for _, text := range p.acts {
		a, err := tryout.ParseAct(text)
		if err != nil {
			wrong = append(wrong, err.Error())
		}
		play.Acts = append(play.Acts, a)
	}
	play.Wrong = p.wrong
	if p.heat != "" {
		t, err := strconv.ParseFloat(strings.Replace(p.heat, ",", ".", 1), 64)
		if err != nil {
			wrong = append(wrong, fmt.Sprintf("cables at %q: write degrees Celsius, such as 45", p.heat))
		}
		c := unit.Celsius(t)
		play.Copper = &c
	}
	if p.cell != "" {
		each, err := strconv.ParseFloat(p.cell, 64)
		if err != nil {
			wrong = append(wrong, fmt.Sprintf("battery cells at %q: write volts, such as 1.95", p.cell))
		}
		play.Cell = unit.Volt(each)
	}
	if p.supply != "" {
		n, err := strconv.Atoi(p.supply)
		if err != nil {
			wrong = append(wrong, fmt.Sprintf("supply %q: -1 for low, 1 for high", p.supply))
		}
		play.Supply = n
	}
	if len(wrong) > 0 {
		return play, fmt.Errorf("this cannot be played: %s", strings.Join(wrong, "; "))
	}
	return play, nil
}

func (h *handler) tryout(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	p := playedOf(r, at.at+"/try")
	s := h.doorSheet(r, at, "Try-out")
	play, err := p.play()
	var scene *tryout.Scene
	if err == nil {
		scene, err = at.desk.tryOf(at.door).Show(play)
	}
	if err != nil {
		unfit(w)
		h.show(w, r, tryPage(s, tryView{Wrong: err.Error(), Fresh: p.at}))
		return
	}
	h.show(w, r, tryPage(s, at.tryView(p, scene)))
}

func (at *atDoor) tryView(p played, s *tryout.Scene) tryView {
	v := tryView{
		Effect: effectWords(s.Effect), EffectClass: s.Effect.String(), Steps: s.Steps, Fresh: p.at, Back: p.back(),
		Kept: append(p.fields(), p.around()...), KeptAround: p.fields(), Heat: p.heat, Cell: p.cell, Supply: p.supply, Cells: cells(),
		Waits:   []option{{"wait 2 s", "2 seconds"}, {"wait 10 s", "10 seconds"}, {"wait 60 s", "a minute"}, {"wait 3600 s", "an hour"}},
		PickURL: p.touching(""), Altered: p.alterations(), Catalogue: at.catalogue(),
	}
	for _, l := range s.Locks {
		v.Locks = append(v.Locks, tryLock{l.Lock.ID, volts(l.Volts), amps(l.Amps), whyOf(l)})
	}
	if len(s.Alarms) > 0 {
		v.Alarms = strings.Join(s.Alarms, ", ")
	}
	if len(s.Unsteady) > 0 {
		v.Unsteady = "It does not come to rest: " + strings.Join(s.Unsteady, ", ") + ". The figures are of one instant only."
	}
	for _, c := range s.Controls {
		v.Controls = append(v.Controls, tryControl{c.Says, p.and(c.Act.String()), c.On, c.Life})
	}
	for _, i := range s.Inputs {
		v.Inputs = append(v.Inputs, tryInput{i.Name, i.Use, i.Reads, volts(i.Volts), i.Active, i.Fault})
	}
	for _, x := range s.Supplies {
		v.Power = append(v.Power, tryPower{x.ID + " " + x.Title, x.Says, volts(x.Volts), amps(x.Amps)})
	}
	for _, x := range s.Units {
		says := "runs"
		if !x.Runs {
			says = "does not run"
		}
		v.Power = append(v.Power, tryPower{Name: x.ID + " " + x.Title, Says: says, Volts: volts(x.Volts)})
	}
	at.wires(&v, p, s)
	v.Drawing = string(draw.Inline(at.desk.wiringOf(at.door), classes(s, p.pick)))
	return v
}

func (p played) back() string {
	if len(p.acts) > 0 {
		p.acts = p.acts[:len(p.acts)-1]
	}
	p.pick = ""
	return p.url()
}

func (p played) alterations() []tryControl {
	var all []tryControl
	for _, text := range p.wrong {
		all = append(all, tryControl{Says: text, URL: p.without(text)})
	}
	return all
}

func effectWords(e situation.Effect) string {
	switch e {
	case situation.Held:
		return "The door is held"
	case situation.Released:
		return "The door is released"
	}
	return "Undecided: the data sheet promises neither"
}

// cells are the states of a battery: from full to the end of its discharge, in equal steps of the voltage of a cell.
func cells() []option {
	full, end := situation.CellVolts()
	all := []option{{"", "full"}}
	for i, name := range []string{"worn", "low", "nearly at its end", "at its end"} {
		v := full - (full-end)*unit.Volt(i+1)/4
		all = append(all, option{strconv.FormatFloat(float64(v), 'f', 3, 64), fmt.Sprintf("%s, %.2f V a cell", name, float64(v))})
	}
	return all
}

// whyOf says why a lock has the power it has.
func whyOf(l tryout.Lock) string {
	var says string
	switch l.Power {
	case situation.Powered:
		says = "It has what its data sheet asks for"
	case situation.Undecided:
		says = "It has less than it needs and more than it certainly lets go at"
	default:
		says = "It has no power"
	}
	if l.Feed.Supply != "" {
		says += ", fed from " + l.Feed.Supply
	}
	for i, b := range l.Feed.Breaks {
		if i == 0 {
			says += ". Its way is open at "
		} else {
			says += "; and at "
		}
		says += b.Where + " (" + b.Why + ")"
	}
	return says + "."
}

// wires fills the table of cores, and the core that was touched.
func (at *atDoor) wires(v *tryView, p played, s *tryout.Scene) {
	for _, x := range s.Wires {
		c := x.Conductor
		w := tryWire{
			Name: wireName(c), From: c.A.Name(), To: c.B.Name(), For: c.Reason.Purpose,
			Volts: volts(x.A) + " and " + volts(x.B), Amps: amps(x.Amps), Do: "Cut", URL: p.altered("cut " + c.ID), Pick: p.touching(c.ID) + "#drawing",
		}
		if slices.Contains(p.wrong, "cut "+c.ID) {
			w.Do, w.URL = "Mend", p.without("cut "+c.ID)
		}
		v.Wires = append(v.Wires, w)
		if c.ID == p.pick || c.A.String() == p.pick || c.B.String() == p.pick {
			v.Picked = pickOf(p, w, c, s)
		}
	}
}

func pickOf(p played, w tryWire, c *wiring.Conductor, s *tryout.Scene) *pick {
	k := &pick{
		Title: w.Name, Says: fmt.Sprintf("from %s to %s: %s. %s", w.From, w.To, c.Reason.Purpose, c.Reason.Why),
		Figures: fmt.Sprintf("Calculated: %s at its ends, %s through it.", w.Volts, w.Amps),
		CutURL:  w.URL, CutSays: w.Do + " this core", CloseURL: p.touching(""),
		Ends: []option{{c.A.String(), c.A.Name()}, {c.B.String(), c.B.Name()}},
	}
	bare := p
	bare.pick = ""
	k.Kept = append(bare.fields(), bare.around()...)
	seen := map[string]bool{c.A.String(): true, c.B.String(): true}
	for _, x := range s.Wires {
		for _, e := range []wiring.End{x.Conductor.A, x.Conductor.B} {
			if id := e.String(); !seen[id] {
				seen[id] = true
				k.Others = append(k.Others, option{id, e.Name()})
			}
		}
	}
	slices.SortFunc(k.Others, func(a, b option) int { return strings.Compare(a.Title, b.Title) })
	k.Others = append(k.Others, option{"earth", "earth"})
	return k
}

// classes mark the drawing: what carries current, what is cut, the way of the lock's power, what was touched.
func classes(s *tryout.Scene, touched string) func(string) string {
	marks := map[string]string{}
	for _, l := range s.Locks {
		for _, id := range l.Feed.Path {
			marks[id] = " onway"
		}
	}
	for _, w := range s.Wires {
		id := w.Conductor.ID
		switch {
		case w.Cut:
			marks[id] += " cutwire"
		case w.Carries():
			marks[id] += " carries"
		}
	}
	return func(id string) string {
		text := marks[id]
		if id == touched && touched != "" {
			text += " touched"
		}
		return strings.TrimSpace(text)
	}
}

// catalogue lists the faults of the door by class.
func (at *atDoor) catalogue() []optionGroup {
	var groups []optionGroup
	for _, f := range at.desk.faults().Of(at.door.ID) {
		title := string(f.Class)
		if len(groups) == 0 || groups[len(groups)-1].Title != title {
			groups = append(groups, optionGroup{Title: title})
		}
		g := &groups[len(groups)-1]
		g.Options = append(g.Options, option{f.ID, f.Name})
	}
	return groups
}
