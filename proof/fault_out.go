package proof

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/fault"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// hardWays are the causes that let people out without any program.
var hardWays = []string{"release", "fire", "no-battery"}

func isHard(way string) bool { return slices.Contains(hardWays, way) }

// atDoor says that a cause is a hard way out of this door that does not wait for the supplies to fail: of these one must
// be left whatever single fault there is.
func (t *trial) atDoor(way string) bool {
	switch way {
	case "release", "fire":
		return true
	case "exit":
		return slices.ContainsFunc(t.door.Exits, func(e *job.Exit) bool { return e.Breaks })
	}
	return false
}

// waysOut says which ways out a fault takes away, and judges whether it may.
func (t *trial) waysOut(s *FaultSeen, views []*verdict) {
	if !needsWayOut(t.door) {
		return
	}
	var left bool
	s.Lost, left = t.lostWays(views)
	if len(s.Lost) > 0 {
		t.judgeOut(s, left)
	}
}

// lostWays lists the causes that no longer let people out as they do at the sound door, in some view, and says whether
// in every view a hard way is left at it.
func (t *trial) lostWays(views []*verdict) (lost []string, left bool) {
	left = true
	for _, d := range views {
		here := false
		for q, gone := range d.gone {
			id := t.causes[q].ID
			if gone && !slices.Contains(lost, id) {
				lost = append(lost, id)
			}
			here = here || !gone && t.atDoor(id) && d.view.hasWay(q)
		}
		left = left && here
	}
	return lost, left
}

// hasWay says that a cause is a way out of the sound door.
func (v *view) hasWay(q int) bool {
	for k := range v.sound[q] {
		if v.isWay(q, k) {
			return true
		}
	}
	return false
}

// judgeOut judges the loss of ways out.
//
// A fault inside a way may take that way if it shows at once, or is found by the periodic test; the family may demand
// more. A fault outside of a way must never take it.
func (t *trial) judgeOut(s *FaultSeen, left bool) {
	hard := slices.ContainsFunc(s.Lost, isHard)
	rule := ruleOf(s)
	switch {
	case !hard:
		// An exit device or a controller that is dead: the hard ways are as they were.
	case !left && !t.inside(s) && !jammed(s.Fault):
		t.breaks(s, reqFaultNoWay, rule)
	case jammed(s.Fault):
		s.Tested = true
	case t.inside(s) && (s.Notice == AtOnce || !t.family.SingleFault.Value):
		s.Tested = s.Notice == OnTest
	case (rule == "R-04" || rule == "R-05") && !t.family.SingleFault.Value:
		t.breaks(s, reqFaultShort, rule)
	default:
		t.breaks(s, reqFaultOut, rule)
	}
}

// breaks notes that a fault breaks a requirement. All faults that break the same one at a door are one finding: each is
// in the table of faults.
func (t *trial) breaks(s *FaultSeen, req *Requirement, rule string) {
	s.Broken = req.ID
	if s.Accepted = t.acceptedByJob(s.Fault); s.Accepted != "" {
		return // it stays in the table
	}
	t.broken = append(t.broken, brokenBy{req, rule, s.Fault, "these no longer let people out: " + t.named(s.Lost)})
}

// acceptedByJob is the reason for which the job accepts a fault at this door; empty for one that it does not.
func (t *trial) acceptedByJob(f *fault.Fault) string {
	for _, a := range t.door.Accepts {
		if a.Fault == f.ID {
			return a.Reason
		}
	}
	return ""
}

// brokenBy is a fault that breaks a requirement.
type brokenBy struct {
	req   *Requirement
	rule  string
	fault *fault.Fault
	says  string // what comes of it
}

// tell makes one finding of all faults that break the same rule of the same requirement.
func (t *trial) tell() {
	type key struct {
		req  *Requirement
		rule string
	}
	var keys []key
	by := map[key][]brokenBy{}
	for _, b := range t.broken {
		k := key{b.req, b.rule}
		if by[k] == nil {
			keys = append(keys, k)
		}
		by[k] = append(by[k], b)
	}
	for _, k := range keys {
		all := by[k]
		t.order++
		t.book.note(entry{
			door: t.door.ID, req: k.req, rule: k.rule, where: all[0].fault.ID, figure: float64(len(all)), limit: 0,
			margin: -float64(len(all)), order: t.order, what: toldOf(all), limcase: situation.Nominal().Name,
			subject: Subject{Lock: t.door.Locks[0].ID},
		})
	}
}

// toldOf words the faults that break a rule: how many, and the first.
func toldOf(all []brokenBy) string {
	first := fmt.Sprintf("when %s, %s", all[0].fault.Name, all[0].says)
	switch {
	case len(all) == 1:
		return first
	case all[0].req == reqShortStays:
		return fmt.Sprintf("%d shorts at this door take other doors along; %s", len(all), first)
	}
	return fmt.Sprintf("%d single faults take away ways out; %s", len(all), first)
}

// named are the titles of causes.
func (t *trial) named(ids []string) string {
	var all []string
	for _, c := range t.causes {
		if slices.Contains(ids, c.ID) {
			all = append(all, c.Title)
		}
	}
	return strings.Join(all, "; ")
}

// ruleOf is the rule that a fault breaks which takes a hard way out.
func ruleOf(s *FaultSeen) string {
	if n := len(s.Fault.At); n > 1 && s.Fault.At[0].Door != s.Fault.At[n-1].Door {
		return "R-05" // the way round leads over another door, or over what several share
	}
	switch s.Fault.Class {
	case fault.Open, fault.High:
		return "R-02"
	case fault.Source:
		return "R-03"
	case fault.Output, fault.Setting:
		return "R-06"
	}
	return "R-04"
}

// jammed says that a fault is a release that cannot be worked: no wiring helps against that.
func jammed(f *fault.Fault) bool {
	return len(f.Of) == 1 && f.Of[0].Role == job.RoleRelease && f.Edits[0].Op == fault.Force
}

// inside says that a fault is in every hard way that it takes: in the contacts of a release or of the fire signal, or of
// the relay they stand in line with.
func (t *trial) inside(s *FaultSeen) bool {
	switch s.Fault.Class {
	case fault.Part, fault.Output, fault.Setting, fault.Source:
	default:
		return false
	}
	for _, way := range s.Lost {
		if !isHard(way) {
			continue // what the controller does is no hard way
		}
		if !slices.ContainsFunc(s.Fault.Of, func(d *wiring.Device) bool { return t.wayHas(way, d) }) {
			return false
		}
	}
	return true
}

// wayHas says that a device is what a way out acts by: a release, a fire interface or the board that it releases, the
// supply or its battery.
func (t *trial) wayHas(way string, d *wiring.Device) bool {
	switch way {
	case "release":
		return d.Role == job.RoleRelease
	case "fire":
		return d.Role == job.RoleFire || d.Role == job.RoleBoard
	}
	return d.Role == job.RoleSupply || d.Role == job.RoleBattery
}
