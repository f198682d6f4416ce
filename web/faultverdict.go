package web

import (
	"fmt"
	"net/http"
	"strings"

	"doorwright/proof"
	"doorwright/rules"
)

// faultVerdict is what single faults come to at a door, for its page.
type faultVerdict struct {
	At       string // where this part of the page is to be had
	Says     string // in a sentence; empty while nothing is known
	Class    string
	Of       string // which plan it belongs to
	Findings []findingView
	Waiting  bool // something more will come
}

// faultsAt is the verdict on single faults at a door. What is not known yet is tried now.
func (h *handler) faultsAt(at *atDoor) faultVerdict {
	run := h.tryFaults(at.atJob, at.door.ID)
	v := faultVerdict{At: at.at + "/faults", Of: "The plan as it is now is being tried with every single fault."}
	x, present := run.resultAt(at.door.ID)
	if run.failed() {
		v.Of = "Single faults could not be tried: it is a mistake in the program."
		return v
	}
	v.Waiting = !present || !x.mended
	if x == nil {
		return v
	}
	v.Says, v.Class = x.words(errorsOf(at.desk.exam.Findings, at.door.ID))
	if !present {
		v.Of = fmt.Sprintf("This is of an older plan, %s as it was before the last changes. %s", revisionOf(x.revision), v.Of)
	} else {
		v.Of = fmt.Sprintf("Of the plan as it is now, %s.", revisionOf(x.revision))
	}
	for _, f := range x.findings {
		w := at.told(f)
		if present {
			w = h.findingOf(at, f, !x.mended)
		}
		v.Findings = append(v.Findings, w)
	}
	return v
}

// errorsOf counts the errors by calculation at a door.
func errorsOf(findings []proof.Finding, door string) int {
	n := 0
	for _, f := range findings {
		if f.Door == door && f.Severity == rules.Error {
			n++
		}
	}
	return n
}

// words say what the faults come to, and the class of it: nothing is called good at a door that has errors as it is, since a
// fault can only break what holds without it.
func (x *faultResult) words(already int) (says, class string) {
	says = fmt.Sprintf("%s and %s from outside tried. ", counted(x.seen, "single fault", "single faults"), counted(x.attacks, "attempt", "attempts"))
	switch errors, advice := x.levels(); {
	case errors+advice == 0 && already > 0:
		says += "None breaks a requirement that holds without it, but the door has " + counted(already, "error", "errors") + " by calculation as it is."
	case errors+advice == 0:
		says, class = says+"None breaks a requirement.", "good"
	case errors == 0:
		says, class = says+fmt.Sprintf("None is an error, %s.", counted(advice, "piece of advice", "pieces of advice")), "advice"
	default:
		says, class = says+counted(errors, "error", "errors")+fmt.Sprintf(", %s.", counted(advice, "piece of advice", "pieces of advice")), "error"
	}
	says += fmt.Sprintf(" %d show at once, %d in use, %d on test only, %d nothing shows. %d take one of the ways out%s. %s", x.notices[proof.AtOnce], x.notices[proof.InUse],
		x.notices[proof.OnTest], x.notices[proof.Never], x.lost, x.breaks(), x.outside())
	return strings.TrimSpace(says), class
}

// breaks says how many break a requirement; empty for none.
func (x *faultResult) breaks() string {
	if x.broken == 0 {
		return ""
	}
	return "; " + counted(x.broken, "breaks", "break") + " a requirement"
}

func (x *faultResult) levels() (errors, advice int) {
	for _, f := range x.findings {
		if f.Severity == rules.Error {
			errors++
		} else {
			advice++
		}
	}
	return errors, advice
}

// shortOf is the verdict on a door in a few words, for the register.
func shortOf(r *faultRun, door string, already int) (says, class string) {
	x, present := r.resultAt(door)
	switch {
	case x == nil && r.failed():
		return "not tried", ""
	case x == nil:
		return "being tried", ""
	}
	says, class = verdict(x.levels())
	if class == "good" && already > 0 {
		says, class = "nothing more", "" // a fault can only break what holds without it
	}
	if x.lost > 0 {
		says += fmt.Sprintf("; %d take a way out", x.lost)
	}
	if !present {
		says += ", of an older plan"
	}
	return says, class
}

// faultsPart gives the part of a door's page that waits for single faults.
func (h *handler) faultsPart(w http.ResponseWriter, r *http.Request) {
	if at, ok := h.doorOf(w, r); ok {
		h.show(w, r, faultsFound(h.faultsAt(at)))
	}
}
