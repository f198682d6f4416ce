package meter

import (
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

// ReadFile reads what was measured and seen, with all problems at once.
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
	broken := func(path string) bool {
		return slices.ContainsFunc(problems, func(p document.Problem) bool { return p.Where == path || strings.HasPrefix(p.Where, path+".") })
	}
	for i, r := range f.Readings {
		path := document.Path("readings", i)
		if broken(path) {
			continue
		}
		if x, want := r.reading(); want != "" {
			problems = append(problems, src.Problem(path, "", want))
		} else {
			n.Readings = append(n.Readings, x)
		}
	}
	for i, o := range f.Seen {
		path := document.Path("seen", i)
		if broken(path) {
			continue
		}
		if x, err := ParseObservation(o.What, string(o.Is), o.In); err != nil {
			problems = append(problems, src.Problem(path, "", err.Error()))
		} else {
			n.Seen = append(n.Seen, x)
		}
	}
	if len(problems) > 0 {
		return nil, problems.Sorted()
	}
	return n, nil
}

// reading understands a reading, or says what would be right.
func (d *ReadingDoc) reading() (Reading, string) {
	r := Reading{At: d.At, To: d.To, In: d.In}
	given := 0
	if d.Volts != nil {
		given++
		r.Quantity, r.Value = Volts, float64(*d.Volts)
	}
	if d.Ohms != nil {
		given++
		r.Quantity, r.Value, r.Open = Ohms, float64(d.Ohms.Value), d.Ohms.Open
	}
	if d.Diode != nil {
		given++
		r.Quantity, r.Value, r.Open = Diode, float64(d.Diode.Value), d.Diode.Open
	}
	switch {
	case given != 1:
		return r, "give exactly one of volts, ohms and diode"
	case r.Quantity != Volts && !r.In.Dead():
		return r, "ohms and diode are read with everything off; write the condition as \"off\", \"off, release\" ..."
	case r.Quantity == Ohms && r.Value < 0:
		return r, "a resistance is not below 0 ohm"
	}
	return r, ""
}

// ParseObservation understands an observation.
func ParseObservation(what, is string, in Condition) (Observation, error) {
	var known []string
	for _, s := range Sights() {
		known = append(known, string(s))
		if string(s) != what {
			continue
		}
		if s == NumberRead && in.Act != Card {
			return Observation{}, fmt.Errorf("a number is read when a card is shown, not %q; write the condition as %q", in, "card")
		}
		if slices.Contains(s.Answers(), is) {
			return Observation{What: s, Is: is, In: in}, nil
		}
		if s != NumberRead {
			return Observation{}, fmt.Errorf("%q is no answer to %q; write %s", is, what, strings.Join(s.Answers(), " or "))
		}
		if _, _, err := parseNumbers(is); err != nil {
			return Observation{}, fmt.Errorf("%q is no answer to %q; write %s, or both numbers: %w", is, what, strings.Join(s.Answers(), ", "), err)
		}
		return Observation{What: s, Is: is, In: in}, nil
	}
	return Observation{}, fmt.Errorf("%q %s", what, document.Unknown(what, "observation", known))
}
