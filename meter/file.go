package meter

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"doorwright/document"
	"doorwright/unit"
)

// File is what was measured and seen at one door, as a document in YAML or JSON:
//
//	door: visitor
//	loops: {W7: 1.2 ohm}
//	readings:
//	  - {at: C1 C1, to: C1 0V, in: idle, volts: 13.4 V}
//	  - {at: C1 NC1, to: C1 0V, in: idle, volts: 13.4 V}
//	  - {at: C1.contact1.in, to: C1.contact1.common, in: "off, C1/P3 pulled", ohms: open}
//	seen:
//	  - {what: lock holds, is: no, in: idle}
//	  - {what: number read was, is: 165/65211 expected 90/324, in: card}
//	mended: ["open:visitor.head.p/1"]
//
// What was read before a fault was mended does not belong in it.
type File struct {
	Door     string                 `yaml:"door,omitempty" doc:"id of the door"`
	Loops    document.Map[unit.Ohm] `yaml:"loops,omitempty" doc:"measured loop resistance of a run, out and back; stands in place of its length"`
	Readings []ReadingDoc           `yaml:"readings,omitempty" doc:"what the meter showed"`
	Seen     []ObservationDoc       `yaml:"seen,omitempty" doc:"what was seen without a meter"`
	Mended   []string               `yaml:"mended,omitempty" doc:"ids of faults that were found and mended before these readings"`
}

// ReadingDoc is a reading in a document: exactly one of volts, ohms and diode.
type ReadingDoc struct {
	At    string           `yaml:"at" need:"the terminal of the red lead, such as C1 NC1" doc:"terminal of the red lead"`
	To    string           `yaml:"to" need:"the terminal of the black lead, such as C1 0V" doc:"terminal of the black lead"`
	In    Condition        `yaml:"in" need:"the condition, such as idle or off" doc:"condition it was read in"`
	Volts *unit.Volt       `yaml:"volts,omitempty" doc:"direct voltage"`
	Ohms  *Over[unit.Ohm]  `yaml:"ohms,omitempty" doc:"resistance, or open"`
	Diode *Over[unit.Volt] `yaml:"diode,omitempty" doc:"voltage in the diode range, or open"`
}

// ObservationDoc is an observation in a document.
type ObservationDoc struct {
	What string    `yaml:"what" need:"what was seen, such as lock holds" doc:"what was seen"`
	Is   Answer    `yaml:"is" need:"the answer, such as yes or no" doc:"yes or no; of a number read: right, none, complement, zeros, ones, wrong, or both numbers, as in 165/65211 expected 90/324"`
	In   Condition `yaml:"in" need:"the condition, such as idle or card" doc:"condition it was seen in"`
}

// Answer is the answer to a sight. YAML would take a plain yes for true.
type Answer string

// UnmarshalText reads an answer.
func (a *Answer) UnmarshalText(text []byte) error {
	switch s := string(text); s {
	case "yes", "true":
		*a = "yes"
	case "no", "false":
		*a = "no"
	case "":
		return fmt.Errorf("%q is no answer; write yes or no", s)
	default:
		*a = Answer(s)
	}
	return nil
}

// MarshalText writes an answer.
func (a Answer) MarshalText() ([]byte, error) { return []byte(a), nil }

// Over is a figure, or over range.
type Over[T ~float64] struct {
	Value T
	Open  bool
}

// UnmarshalText reads "open" or a figure with its unit.
func (o *Over[T]) UnmarshalText(text []byte) error {
	if string(text) == "open" {
		*o = Over[T]{Open: true}
		return nil
	}
	o.Open = false
	switch v := any(&o.Value).(type) {
	case *unit.Ohm:
		return v.UnmarshalText(text)
	case *unit.Volt:
		return v.UnmarshalText(text)
	}
	return fmt.Errorf("a figure of type %T cannot be read", o.Value)
}

// MarshalText writes "open" or the figure with its unit.
func (o Over[T]) MarshalText() ([]byte, error) {
	if o.Open {
		return []byte("open"), nil
	}
	return []byte(fmt.Sprint(o.Value)), nil
}

// Notes are a File understood, apart from the names of terminals, which only a door knows.
type Notes struct {
	Door     string
	Loops    []Loop
	Readings []Reading
	Seen     []Observation
	Mended   []string
}

// ReadFile reads what was measured and seen, with all problems at once. Beside problems the notes hold, each in its place, what
// is understood of each reading and observation.
func ReadFile(file string, data []byte) (*Notes, document.Problems) {
	var f File
	src, problems := document.Read(file, data, &f)
	n := &Notes{Door: f.Door, Mended: f.Mended}
	for _, e := range f.Loops {
		n.Loops = append(n.Loops, Loop{e.Key, e.Value})
		if !(e.Value > 0) {
			problems = append(problems, src.Problem(document.Path("loops", e.Key), e.Value.String(), "is not a loop; it is above 0 ohm"))
		}
	}
	for i, r := range f.Readings {
		path := document.Path("readings", i)
		x, wants := r.reading()
		if r.figures() != 1 && !unclear(problems, path) {
			wants = append(wants, "give exactly one of volts, ohms and diode")
		}
		for _, want := range wants {
			problems = append(problems, src.Problem(path, "", want))
		}
		n.Readings = append(n.Readings, x)
	}
	for i, o := range f.Seen {
		path := document.Path("seen", i)
		x, err := ParseObservation(o.What, string(o.Is), o.In)
		if unclear(problems, path) {
			err = nil
		}
		for _, one := range document.Apart(err) {
			problems = append(problems, src.Problem(path, "", one.Error()))
		}
		n.Seen = append(n.Seen, x)
	}
	return n, problems.Sorted()
}

// unclear says that it is not clear what a reading or observation of the file says, terminals and condition apart.
func unclear(problems document.Problems, path string) bool {
	return slices.ContainsFunc(problems, func(p document.Problem) bool {
		rest, ok := strings.CutPrefix(p.Where+".", path+".")
		return ok && rest != "at." && rest != "to." && rest != "in."
	})
}

// figures is how many figures are given.
func (d *ReadingDoc) figures() int {
	n := 0
	for _, given := range []bool{d.Volts != nil, d.Ohms != nil, d.Diode != nil} {
		if given {
			n++
		}
	}
	return n
}

// reading understands a reading, and says all that would be right in place of what is not. A condition that could not be read
// is the zero one; nothing is held against that.
func (d *ReadingDoc) reading() (Reading, []string) {
	r := Reading{At: d.At, To: d.To, In: d.In}
	if d.Volts != nil {
		r.Quantity, r.Value = Volts, float64(*d.Volts)
	}
	if d.Ohms != nil {
		r.Quantity, r.Value, r.Open = Ohms, float64(d.Ohms.Value), d.Ohms.Open
	}
	if d.Diode != nil {
		r.Quantity, r.Value, r.Open = Diode, float64(d.Diode.Value), d.Diode.Open
	}
	var wants []string
	if (r.Quantity == Ohms || r.Quantity == Diode) && r.In != (Condition{}) && !r.In.Dead() {
		wants = append(wants, fmt.Sprintf("ohms and diode are read with everything off, not %q; write the condition as %q, %q ...", r.In, "off", "off, release"))
	}
	if r.Quantity == Ohms && r.Value < 0 {
		wants = append(wants, fmt.Sprintf("%v is below 0 ohm, which no resistance is; write what the meter shows, or open", unit.Ohm(r.Value)))
	}
	if want := Unshown(r.Quantity, r.Value); want != "" && r.Quantity != "" {
		wants = append(wants, want)
	}
	return r, wants
}

// ParseObservation understands an observation. All that is wrong in it comes back at once, joined, with the condition it was
// seen in; nothing is held against a condition that could not be read, the zero one.
func ParseObservation(what, is string, in Condition) (Observation, error) {
	o := Observation{What: Sight(what), Is: is, In: in}
	var known []string
	for _, s := range Sights() {
		known = append(known, string(s))
	}
	if !slices.Contains(known, what) {
		return o, fmt.Errorf("%q %s", what, document.Unknown(what, "observation", known))
	}
	var elsewhere error
	if o.What == NumberRead && in != (Condition{}) && in.Act != Card {
		elsewhere = fmt.Errorf("a number is read when a card is shown, not %q; write the condition as %q", in, "card")
	}
	return o, errors.Join(elsewhere, o.What.answered(is))
}

// answered says what would be right in place of what is no answer to a sight.
func (s Sight) answered(is string) error {
	if slices.Contains(s.Answers(), is) {
		return nil
	}
	if s != NumberRead {
		return fmt.Errorf("%q is no answer to %q; write %s", is, s, strings.Join(s.Answers(), " or "))
	}
	if _, _, err := parseNumbers(is); err != nil {
		return fmt.Errorf("%q is no answer to %q; write %s, or both numbers: %w", is, s, strings.Join(s.Answers(), ", "), err)
	}
	return nil
}
