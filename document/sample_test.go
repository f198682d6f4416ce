package document

import (
	"fmt"
	"strings"

	"doorwright/unit"
)

// sheet is a made-up document that uses every shape a document can hold.
type sheet struct {
	Title  string      `yaml:"title" need:"give the job a title" doc:"Name of the site."`
	Site   site        `yaml:"site,omitempty"`
	Doors  Map[fitted] `yaml:"doors,omitempty"`
	Labels Map[screw]  `yaml:"labels,omitempty"`
	Notes  []string    `yaml:"notes,omitempty"`
	Sides  []side      `yaml:"sides,omitempty" one:"in|out|both"`
	Kinds  Map[side]   `yaml:"kinds,omitempty" one:"in|out|both"`
	Deep   *sheet      `yaml:"deep,omitempty"`
	Code   letterCode  `yaml:"code,omitempty"`
	Small  uint8       `yaml:"small,omitempty"`
	Tiny   int8        `yaml:"tiny,omitempty"`
	Hidden string      `yaml:"-"`
	Plain  string      // no tag: its key is the name in lower case
	//lint:ignore U1000 a field that is not exported is no key
	inner int
	Rails *unit.Volt    `yaml:"rails,omitempty"`
	Lists [][]unit.Ohm  `yaml:"lists,omitempty"`
	Runs  Map[Map[int]] `yaml:"runs,omitempty"`
}

type site struct {
	Town    string `yaml:"town,omitempty"`
	Storeys int    `yaml:"storeys,omitempty"`
}

type side string

type common struct {
	Note   string  `yaml:"note,omitempty"`
	Weight float64 `yaml:"weight,omitempty"`
}

type fitted struct {
	common `yaml:",inline"`
	Lock   lock                 `yaml:"lock" need:"say which lock is fitted"`
	Length unit.Metre           `yaml:"length,omitempty"`
	Core   unit.Size            `yaml:"core,omitempty"`
	Supply unit.Band[unit.Volt] `yaml:"supply,omitempty"`
	Side   side                 `yaml:"side,omitempty" one:"in|out|both"`
	Escape bool                 `yaml:"escape,omitempty"`
}

// lock has a short form, the current alone, and a full form.
type lock struct {
	Draw unit.Ampere `yaml:"draw" need:"take it from the data sheet"`
	Fail side        `yaml:"fail,omitempty" one:"safe|secure"`
}

func (l *lock) UnmarshalText(b []byte) error { return l.Draw.UnmarshalText(b) }
func (l *lock) SchemaText() (string, string) { return `^[0-9.]+ m?A$`, "500 mA" }

// screw is named as printed beside it, "+12V".
type screw string

func (screw) KeyText() (string, string) { return `^[!-~]{1,8}$`, "+12V" }

// letterCode is a text type that says nothing of its form.
type letterCode struct{ text string }

func (c *letterCode) UnmarshalText(b []byte) error {
	if strings.ToUpper(string(b)) != string(b) {
		return fmt.Errorf("%q is not in capitals", b)
	}
	c.text = string(b)
	return nil
}

func (c letterCode) MarshalText() ([]byte, error) { return []byte(c.text), nil }
func (c letterCode) IsZero() bool                 { return c.text == "" }
