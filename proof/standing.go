package proof

// notJudgedHere are rules of which a wiring plan alone, without faults, drawings or the building, tells too little.
var notJudgedHere = map[string]bool{
	"R-00": true,               // priority: a person judges every conflict
	"R-17": true,               // heights and distances
	"R-19": true, "R-20": true, // the building around the door
	"R-29": true, "R-31": true, "R-32": true,
}

// judgedAt says that a rule is judged at a door: some only where there is something to judge, or once faults were tried.
func judgedAt(d *DoorResult, id string, faulted bool) bool {
	switch id {
	case "R-25":
		return faulted
	case "R-15":
		for _, e := range d.Door.Exits {
			if len(e.Model.PortsOf("load")) > 0 {
				return true
			}
		}
		return false
	case "R-30":
		return d.Standby
	case "R-33":
		return d.Recharge
	}
	return !notJudgedHere[id]
}

// standings tells how each rule of a door's family stands.
func standings(d *DoorResult, findings []Finding, faulted bool) []RuleStanding {
	broken := map[string]bool{}
	for _, f := range findings {
		if f.Door == d.Door.ID || f.Door == "" && f.Subject.Supply != "" && hangsOn(d, f) {
			broken[f.Rule] = true
		}
	}
	var all []RuleStanding
	for _, rule := range d.Family.Rules() {
		s := RuleStanding{Rule: rule, Standing: HeldRule}
		switch {
		case broken[rule.ID]:
			s.Standing = Broken
		case d.Restless && judgedAt(d, rule.ID, faulted):
			s.Standing, s.LookAt = NotJudged, "Something here keeps restarting in some situation: mend that first, then this is judged."
		case !judgedAt(d, rule.ID, faulted):
			s.Standing, s.LookAt = NotJudged, rule.LookAt
		}
		all = append(all, s)
	}
	return all
}

// hangsOn says that a door depends on the supply that a finding is about.
func hangsOn(d *DoorResult, f Finding) bool {
	for _, s := range suppliesOf(d.Door) {
		if s.ID == f.Subject.Supply {
			return true
		}
	}
	return false
}
