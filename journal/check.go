package journal

import (
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"doorwright/meter"
	"doorwright/record"
)

// check says what is missing in a body, or cannot be: nil for nothing. It looks at the body alone, not at the plan.
func check(body Body) error {
	switch b := body.(type) {
	case Imported:
		return needs("a document", b.Job, "its job", b.Document, "its text")
	case Edited:
		return checkPath(b.Job, b.Object, b.Field)
	case Removed:
		return errors.Join(needs("a removal", b.Object, "its object"), checkPath(b.Job, b.Object, ""))
	case Planned:
		return checkCores(b)
	case Ticked:
		return checkTick(b)
	case Named:
		return needs("a person", b.Initials, "initials", b.Name, "a name")
	case Seated:
		return needs("a seat", b.Initials, "initials")
	case Owned:
		return needs("a meter", b.Meter, "an id", b.Title, "a title", b.Number, "a number", b.Calibrated.String(), "the date of its calibration")
	case Withdrawn:
		return needs("a withdrawal", b.Job, "its job", b.Log, "the log of the entry", b.Why, "its reason")
	case Unknown:
		return nil
	}
	return checkDone(body)
}

// checkDone checks what was done on site.
func checkDone(body Body) error {
	switch b := body.(type) {
	case Measured:
		return errors.Join(needs("a reading", b.Job, "its job", b.Device, "its device", b.Red, "the terminal of the red lead", b.Condition, "its condition", b.Shows.String(), "what the meter showed"),
			must(b.Black != "" || b.Shows.Quantity == meter.Amps || b.Condition == record.FirstFix, "a reading needs the terminal of the black lead"), checkAct(b.Act))
	case Tested:
		_, known := record.FindStep(b.Step)
		return errors.Join(needs("a test", b.Job, "its job", b.Door, "its door"), oneOf("outcome", b.Outcome, "pass", "fail", "not-applicable"),
			must(known, "there is no test %q", b.Step), checkAct(b.Act))
	case Sighted:
		return errors.Join(needs("what was seen", b.Job, "its job", b.What, "its words"), checkAct(b.Act))
	case Fitted:
		return errors.Join(needs("a battery", b.Job, "its job", b.Device, "its device"), checkAct(b.Act))
	case Snagged:
		return errors.Join(needs("a snag", b.Job, "its job", b.ID, "an id", b.What, "what is wrong"),
			oneOf("class", b.Class, "life", "security", "function", "looks"), checkAct(b.Act))
	case Accepted:
		return errors.Join(needs("an acceptance", b.Job, "its job", b.Finding, "the finding", b.Reason, "a reason"), checkAct(b.Act))
	case HandedOver:
		return errors.Join(needs("a handover", b.Job, "its job", b.Door, "its door", b.To, "who took it over"), checkAct(b.Act))
	case Photographed:
		sum, err := hex.DecodeString(b.Blob)
		return errors.Join(needs("a photo", b.Job, "its job"), must(err == nil && len(sum) == 32, "%q is no hash of a photo", b.Blob), checkAct(b.Act))
	case Asked:
		return errors.Join(needs("a question", b.Job, "its job", b.ID, "an id", b.Question, "its words"), checkAct(b.Act))
	case Stopped:
		return needs("a place where somebody stopped", b.Job, "its job", b.Door, "its door")
	}
	return fmt.Errorf("%T is no kind of entry", body)
}

// needs takes values and what they are by turns, and errs on the first that is empty.
func needs(what string, pairs ...string) error {
	for i := 0; i+1 < len(pairs); i += 2 {
		if strings.TrimSpace(pairs[i]) == "" {
			return fmt.Errorf("%s needs %s", what, pairs[i+1])
		}
	}
	return nil
}

func oneOf(what, word string, known ...string) error {
	return must(slices.Contains(known, word), "%s %q must be one of %s", what, word, strings.Join(known, ", "))
}

func must(holds bool, format string, values ...any) error {
	if holds {
		return nil
	}
	return fmt.Errorf(format, values...)
}

func checkAct(a record.Act) error {
	return errors.Join(needs("it", a.By, "who did it"), must(!a.On.IsZero(), "it needs the date"))
}

func checkPath(job, object, field string) error {
	if err := needs("a change", job, "its job"); err != nil {
		return err
	}
	path := PathOf(object, field)
	return must(len(path) > 0 && !slices.Contains(path, ""), "%q %q names no field of an object", object, field)
}

func checkCores(p Planned) error {
	for _, c := range p.Cores {
		if err := needs("a core of a plan", c.ID, "an id", c.A, "its first device", c.ATo, "its first pin"); err != nil {
			return err
		}
	}
	return needs("a plan", p.Job, "its job")
}

func checkTick(t Ticked) error {
	ends := []string{t.Core.A + "." + t.Core.ATo, t.Core.B + "." + t.Core.BTo}
	return errors.Join(needs("a tick", t.Job, "its job", t.Core.ID, "its core"),
		must(slices.Contains(ends, t.End), "%q is no end of core %s", t.End, t.Core.ID), checkAct(t.Act))
}

// checkText errs on bytes that are no text.
func checkText(raw []byte) error {
	// encoding/json writes bytes that are no UTF-8 as this escape, and U+FFFD itself as it is.
	return must(utf8.Valid(raw) && !strings.Contains(string(raw), `\ufffd`), "it holds bytes that are no text in UTF-8")
}
