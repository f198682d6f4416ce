package journal

import (
	"fmt"
	"strings"

	"doorwright/record"
)

// Words says what an entry is about, in one line.
func Words(body Body) string {
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
		says = fmt.Sprintf("landed: %v at %s", b.Core, b.End)
		if b.Off {
			says = fmt.Sprintf("tick taken back: %v at %s", b.Core, b.End)
		}
	case Stopped:
		says = fmt.Sprintf("works at %s, %s", b.Door, b.Page)
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
		says = doneWords(body)
	}
	return strings.Join(strings.Fields(says), " ")
}

func doneWords(body Body) string {
	switch b := body.(type) {
	case Measured:
		if b.Condition == record.FirstFix && b.Black == "" {
			return fmt.Sprintf("measured %s: %s of %s, %s", b.Shows, b.Red, b.Device, b.Condition)
		}
		return fmt.Sprintf("measured %s between %s and %s at %s, %s", b.Shows, b.Red, b.Black, b.Device, b.Condition)
	case Tested:
		says := fmt.Sprintf("test %s at %s: %s", b.Step, b.Door, b.Outcome)
		if b.Witness != "" {
			says += ", witnessed by " + b.Witness
		}
		return says
	case Sighted:
		return fmt.Sprintf("seen at %s: %s", b.Door, b.What)
	case Fitted:
		return "battery fitted: " + b.Device
	case Snagged:
		says := fmt.Sprintf("snag %s at %s: %s", b.ID, b.Door, b.What)
		if !b.Open() {
			says += " (closed)"
		}
		return says
	case Accepted:
		return fmt.Sprintf("accepted at %s: %s, because %s", b.Door, b.Finding, b.Reason)
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
