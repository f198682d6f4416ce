package journal

import (
	"cmp"
	"fmt"
	"strings"

	"doorwright/mend"
	"doorwright/meter"
	"doorwright/record"
	"doorwright/wiring"
)

// Words says what an entry is about, in one line, with terminals as they are labelled in a plan of its job; without a plan
// by their pins.
func Words(body Body, plan *wiring.Plan) string {
	var says string
	switch b := body.(type) {
	case Imported:
		says = "job document brought in: " + b.File
	case Edited:
		says = fmt.Sprintf("%s %s: %s", cmp.Or(b.Object, "job"), b.Field, b.Value)
		switch {
		case b.Field == "":
			says = b.Object + " put in"
		case b.Value == "":
			says = fmt.Sprintf("%s %s taken away", cmp.Or(b.Object, "job"), b.Field)
		}
		if b.Undoes != (Ref{}) {
			says += " (taken back)"
		}
	case Removed:
		says = b.Object + " taken out"
	case Planned:
		says = "plan issued, revision " + b.Revision
	case Ticked:
		what := "landed"
		if b.Off {
			what = "tick taken back"
		}
		device, pin := b.Core.end(b.End)
		says = fmt.Sprintf("%s: %s, at %s", what, b.Core.Way(plan), endName(plan, device, pin))
	case Stopped:
		says = fmt.Sprintf("works at %s: %s", b.Door, stageTitle(b.Page))
	case Named:
		says = fmt.Sprintf("%s is %s", b.Initials, b.Name)
	case Seated:
		says = b.Initials + " works at this device"
	case Owned:
		says = fmt.Sprintf("meter %s: %s, number %s", b.Meter, b.Title, b.Number)
	case Withdrawn:
		says = fmt.Sprintf("entry %v withdrawn: %s", Ref{b.Log, b.Seq}, b.Why)
	case Unknown:
		says = "an entry of a later version: " + b.Kind
	default:
		says = doneWords(body, plan)
	}
	return strings.Join(strings.Fields(says), " ")
}

func doneWords(body Body, plan *wiring.Plan) string {
	switch b := body.(type) {
	case Measured:
		return fmt.Sprintf("measured %s %s, %s", b.Shows, leads(b.Reading, plan), inWords(b.Condition))
	case Tested:
		says := fmt.Sprintf("test %s at %s: %s", b.Step, b.Door, b.Said())
		if b.Witness != "" {
			says += ", witnessed by " + b.Witness
		}
		return joined(says, ", ", b.Result, b.Note)
	case Sighted:
		return fmt.Sprintf("seen at %s: %s", b.Door, b.Say())
	case Fitted:
		return "battery fitted: " + b.Device
	case Snagged:
		says := fmt.Sprintf("snag %s at %s: %s", b.ID, b.Door, b.What)
		if !b.Open() {
			says = joined(says+"; closed", ": ", b.Fix)
		}
		return says
	case Accepted:
		where := cmp.Or(b.Door, b.Supply)
		if where != "" {
			where = " at " + where
		}
		return fmt.Sprintf("accepted%s: %s, because %s", where, cmp.Or(mend.TitleOf(b.Finding), b.Finding), b.Reason)
	case HandedOver:
		says := fmt.Sprintf("%s handed over to %s, built to revision %s", b.Door, b.To, b.Revision)
		if len(b.Handover.Open) > 0 {
			says += "; open then: " + strings.Join(b.Handover.Open, "; ")
		}
		return says
	case Photographed:
		return fmt.Sprintf("photo of %s: %s", b.Door, b.Caption)
	case Asked:
		return joined(fmt.Sprintf("question at %s: %s", b.Door, b.Question), " Answered: ", b.Answer)
	}
	return ""
}

// joined is a line with what more there is to say, each after a mark.
func joined(says, mark string, more ...string) string {
	for _, x := range more {
		if x != "" {
			says += mark + x
		}
	}
	return says
}

// inWords is the condition of a reading for people.
func inWords(condition string) string {
	if in, err := meter.ParseCondition(condition); err == nil {
		return in.Say()
	}
	return condition
}

// leads says where the leads were, of a run what of it was measured. Without a plan the black one may be at another device.
func leads(r record.Reading, plan *wiring.Plan) string {
	switch {
	case r.Condition == record.FirstFix && r.Black == "":
		return fmt.Sprintf("at %s, %s", r.Device, r.Red)
	case r.Condition == record.FirstFix:
		return fmt.Sprintf("at %s, loop of %s and %s", r.Device, r.Red, r.Black)
	}
	if plan == nil || plan.Device(r.Device) == nil {
		if r.Black == "" {
			return fmt.Sprintf("in line with %s at %s", r.Red, r.Device)
		}
		return fmt.Sprintf("between %s and %s at %s", r.Red, r.Black, r.Device)
	}
	red, black := r.Leads(plan)
	if black == "" {
		return "in line with " + red
	}
	return "between " + red + " and " + black
}
