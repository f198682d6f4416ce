package tryout

import (
	"fmt"
	"strings"

	"doorwright/unit"
)

// Act is one thing done at a door under try-out. Only the fields of its verb count.
type Act struct {
	Verb   Verb
	Device string // Card, On, Off
	Signal string // On, Off: what the world does to the device, such as "pressed"
	Wait   unit.Second
}

// Verb is what an act does.
type Verb string

// The verbs.
const (
	Card Verb = "card" // a valid card is shown at a reader
	On   Verb = "on"   // a signal of the world comes
	Off  Verb = "off"  // and goes
	Wait Verb = "wait" // time passes
)

// longestWait is a day: more teaches nothing.
const longestWait unit.Second = 24 * 3600

// ParseAct reads what Act.String writes: "card staff.entry", "on staff.exit1 pressed", "off PS1 mains", "wait 5 s". It
// errs on anything else.
func ParseAct(text string) (Act, error) {
	verb, rest, _ := strings.Cut(text, " ")
	a := Act{Verb: Verb(verb)}
	switch a.Verb {
	case Card:
		a.Device = rest
	case On, Off:
		at := strings.LastIndexByte(rest, ' ')
		if at < 0 {
			return Act{}, fmt.Errorf("%q: write device and signal, such as %q", text, "on staff.exit1 pressed")
		}
		a.Device, a.Signal = rest[:at], rest[at+1:]
	case Wait:
		if err := a.Wait.UnmarshalText([]byte(rest)); err != nil {
			return Act{}, fmt.Errorf("%q: %w", text, err)
		}
		if a.Wait <= 0 || a.Wait > longestWait {
			return Act{}, fmt.Errorf("%q: wait longer than 0 s and at most a day", text)
		}
	default:
		return Act{}, fmt.Errorf("%q: begin with card, on, off or wait", text)
	}
	if a.Verb != Wait && a.Device == "" {
		return Act{}, fmt.Errorf("%q: which device is missing", text)
	}
	return a, nil
}

// String writes the act as it is read.
func (a Act) String() string {
	switch a.Verb {
	case Wait:
		return fmt.Sprintf("wait %g s", float64(a.Wait))
	case Card:
		return "card " + a.Device
	}
	return string(a.Verb) + " " + a.Device + " " + a.Signal
}
