package journal

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"

	"doorwright/record"
)

// Body is what an entry says. Its kinds stand in kinds.
type Body interface{ about() string } // the id of the job it is about; empty for the workspace

type (
	// Ref names an entry.
	Ref struct {
		Log string
		Seq int64
	}

	// Imported is a job document that was brought in whole. It takes the place of what was there.
	Imported struct {
		Job, File, Document string
		Over                string `json:",omitempty"` // mark of the document it took the place of; filled in by Write
	}

	// Edited is a change of one field of one object.
	Edited struct {
		Job    string
		Object string // its map in the document and its permanent id: "doors/staff"; empty for the job itself
		Field  string // key of the object's document
		Value  string // in YAML; empty: the field is taken away
		Was    string // what stood there when it was written; filled in by Write
		Change string // the same for edits that were made together; empty: alone
		Undoes Ref    `json:",omitzero"` // the change that it takes back
	}

	// Removed is an object that was taken out of the document. Write fills in what it was.
	Removed struct{ Job, Object, Was string }

	// Planned is a wiring plan that was given to site, by value.
	Planned struct {
		Job, Revision string
		Cores         []Core
	}

	// Ticked is one core that was landed at one end, or whose tick was taken back. It is about that core and no other: when
	// the plan has another one there, the tick stays with the one that was landed.
	Ticked struct {
		Job, Door string
		Core      Core
		End       string // the node it was landed on, one of the two of the core
		Off       bool
		record.Act
	}

	// Measured is a reading.
	Measured struct {
		Job string
		record.Reading
	}

	// Tested is a test that was made.
	Tested struct {
		Job string
		record.Test
	}

	// Sighted is something that was seen.
	Sighted struct {
		Job string
		record.Sight
	}

	// Fitted is a battery that was fitted.
	Fitted struct {
		Job string
		record.Fitting
	}

	// Snagged is a snag, new or as it is now.
	Snagged struct {
		Job, ID string
		record.Snag
	}

	// Accepted is a finding that somebody accepts.
	Accepted struct {
		Job string
		record.Acceptance
	}

	// HandedOver is a door that somebody has taken over.
	HandedOver struct {
		Job string
		record.Handover
	}

	// Photographed is a picture. Its bytes are kept by their hash.
	Photographed struct {
		Job, Door, Blob, Type, Caption string
		record.Act
	}

	// Asked is an open question of a survey, or its answer.
	Asked struct {
		Job, Door, ID, Question, Answer string
		record.Act
	}

	// Stopped is the place where somebody stopped working at a door.
	Stopped struct{ Job, Door, Page string }

	// Named is a person who works here.
	Named struct {
		Initials string
		record.Person
	}

	// Seated says who works at the device that writes it, from now on.
	Seated struct{ Initials string }

	// Owned is a meter that is used here.
	Owned struct {
		Meter string
		record.Instrument
	}

	// Withdrawn says that an earlier entry counts no more.
	Withdrawn struct {
		Job string
		Log string
		Seq int64
		Why string
	}

	// Unknown is an entry of a later version: it is kept as it is and does nothing.
	Unknown struct {
		Kind string
		Raw  json.RawMessage
	}
)

func (b Imported) about() string     { return b.Job }
func (b Edited) about() string       { return b.Job }
func (b Removed) about() string      { return b.Job }
func (b Planned) about() string      { return b.Job }
func (b Ticked) about() string       { return b.Job }
func (b Measured) about() string     { return b.Job }
func (b Tested) about() string       { return b.Job }
func (b Sighted) about() string      { return b.Job }
func (b Fitted) about() string       { return b.Job }
func (b Snagged) about() string      { return b.Job }
func (b Accepted) about() string     { return b.Job }
func (b HandedOver) about() string   { return b.Job }
func (b Photographed) about() string { return b.Job }
func (b Asked) about() string        { return b.Job }
func (b Stopped) about() string      { return b.Job }
func (b Named) about() string        { return "" }
func (b Seated) about() string       { return "" }
func (b Owned) about() string        { return "" }
func (b Withdrawn) about() string    { return b.Job }
func (b Unknown) about() string      { return "" }

// kinds is the one list of what an entry may say, by the name it has in a store. A name never changes its meaning.
func kinds() []struct {
	name string
	zero Body
} {
	return []struct {
		name string
		zero Body
	}{
		{"import", Imported{}},
		{"edit", Edited{}},
		{"remove", Removed{}},
		{"plan", Planned{}},
		{"tick", Ticked{}},
		{"reading", Measured{}},
		{"test", Tested{}},
		{"sight", Sighted{}},
		{"battery", Fitted{}},
		{"snag", Snagged{}},
		{"accept", Accepted{}},
		{"handover", HandedOver{}},
		{"photo", Photographed{}},
		{"question", Asked{}},
		{"stop", Stopped{}},
		{"person", Named{}},
		{"seat", Seated{}},
		{"meter", Owned{}},
		{"withdraw", Withdrawn{}},
	}
}

// kindOf is the name of a body's kind.
func kindOf(b Body) (string, error) {
	if u, ok := b.(Unknown); ok {
		return u.Kind, nil
	}
	for _, k := range kinds() {
		if reflect.TypeOf(k.zero) == reflect.TypeOf(b) {
			return k.name, nil
		}
	}
	return "", fmt.Errorf("%T is no kind of entry", b)
}

// encode writes a body.
func encode(b Body) (json.RawMessage, error) {
	if u, ok := b.(Unknown); ok {
		return u.Raw, nil
	}
	return json.Marshal(b)
}

// decode reads a body strictly. One of a kind that is not known here is kept as it is.
func decode(kind string, raw json.RawMessage) (Body, error) {
	for _, k := range kinds() {
		if k.name != kind {
			continue
		}
		into := reflect.New(reflect.TypeOf(k.zero))
		d := json.NewDecoder(bytes.NewReader(raw))
		d.DisallowUnknownFields()
		if err := d.Decode(into.Interface()); err != nil {
			return nil, fmt.Errorf("an entry of kind %s cannot be read: %w", kind, err)
		}
		return into.Elem().Interface().(Body), nil
	}
	return Unknown{kind, bytes.Clone(raw)}, nil
}
