package journal

import (
	"cmp"
	"fmt"
	"strings"

	"doorwright/mend"
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
		says = fmt.Sprintf("%s %s: %s", b.Object, b.Field, b.Value)
		if b.Value == "" {
			says = fmt.Sprintf("%s %s taken away", b.Object, b.Field)
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
		if b.Condition == record.FirstFix && b.Black == "" {
			return fmt.Sprintf("measured %s: %s of %s, %s", b.Shows, b.Red, b.Device, b.Condition)
		}
		return fmt.Sprintf("measured %s %s, %s", b.Shows, leads(b.Reading, plan), b.Condition)
	case Tested:
		says := fmt.Sprintf("test %s at %s: %s", b.Step, b.Door, b.Outcome)
		if b.Witness != "" {
			says += ", witnessed by " + b.Witness
		}
		return says
	case Sighted:
		return fmt.Sprintf("seen at %s: %s", b.Door, b.Say())
	case Fitted:
		return "battery fitted: " + b.Device
	case Snagged:
		says := fmt.Sprintf("snag %s at %s: %s", b.ID, b.Door, b.What)
		if !b.Open() {
			says += " (closed)"
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
		return fmt.Sprintf("question at %s: %s %s", b.Door, b.Question, b.Answer)
	}
	return ""
}

// leads says where the leads were. Without a plan the black one may be at another device.
func leads(r record.Reading, plan *wiring.Plan) string {
	if plan == nil || plan.Device(r.Device) == nil {
		return fmt.Sprintf("between %s and %s at %s", r.Red, r.Black, r.Device)
	}
	red, black := r.Leads(plan)
	if black == "" {
		return "in line with " + red
	}
	return "between " + red + " and " + black
}
