package proof

import "doorwright/rules"

// Requirement is a promise a door must keep.
type Requirement struct {
	ID     string
	Title  string
	Rule   string // rule it belongs to; empty for one of the data sheets or of plain sense
	Advice bool   // a preferred number: never an error
	Why    string // one sentence a technician understands
	Source rules.Source
	// Asks is where the rules of a door's family ask for it; nil when it does not depend on the family.
	Asks func(rules.Family) rules.Source
}

// Sources that several requirements share.
var (
	dataSheet = rules.Source{Text: "data sheet of the unit, as given in its model", Mark: rules.Verified}
	practice  = rules.Source{Text: "common practice", Mark: rules.CommonPractice}
	computed  = rules.Source{Text: "plain sense: the model computed no steady state", Mark: rules.CommonPractice}
)

// The requirements, each judged in one place.
var (
	reqVoltage = &Requirement{
		ID: "lock-voltage", Title: "Lock within its voltage window", Rule: "R-21",
		Why:    "Below its window a lock lets go or does not work; above it, it overheats.",
		Source: dataSheet,
	}
	reqOutRelease = &Requirement{
		ID: "out-by-release", Title: "Manual release lets people out", Rule: "R-01",
		Why:  "Whoever works the manual release must find the door open, whatever the electronics do.",
		Asks: func(f rules.Family) rules.Source { return f.ManualRelease.Source },
	}
	reqOutFire = &Requirement{
		ID: "out-by-fire", Title: "Fire signal lets people out", Rule: "R-07",
		Why:  "In a fire the door must be open before people reach it.",
		Asks: func(f rules.Family) rules.Source { return f.FireSignal.Source },
	}
	reqStaysOut = &Requirement{
		ID: "stays-open-in-fire", Title: "Stays open while the fire signal lasts", Rule: "R-08",
		Why:  "A door that locks again shuts out those who come later.",
		Asks: func(f rules.Family) rules.Source { return f.Relock.Source },
	}
	reqOutPower = &Requirement{
		ID: "out-by-power-loss", Title: "Loss of power lets people out", Rule: "R-03",
		Why:  "Supplies fail first of all; then the door must stand open, not locked.",
		Asks: func(f rules.Family) rules.Source { return f.LockPowerLoss.Source },
	}
	reqOutController = &Requirement{
		ID: "out-by-controller-loss", Title: "Dead controller lets people out", Rule: "R-14",
		Why:  "With the controller dead no reader and no exit button works; the lock must then let go by itself.",
		Asks: func(f rules.Family) rules.Source { return f.ControllerPowerLoss.Source },
	}
	reqOutExit = &Requirement{
		ID: "out-by-exit", Title: "Exit request lets people out",
		Why:    "This is the way everybody leaves every day.",
		Source: rules.Source{Text: "plain sense: an exit device is fitted to open the door", Mark: rules.CommonPractice},
	}
	reqOutCut = &Requirement{
		ID: "out-by-cut", Title: "A cut conductor of the lock feed lets people out", Rule: "R-02",
		Why: "Screws work loose and cables get cut; the door must then stand open, not locked.",
	}
	reqOutSensor = &Requirement{
		ID: "out-by-sensor-loss", Title: "Dead exit sensor lets people out", Rule: "R-15",
		Why:  "A sensor without power sees nobody; it must then ask to open by itself.",
		Asks: func(f rules.Family) rules.Source { return f.SensorPowerLoss.Source },
	}
	reqKeepsOut = &Requirement{
		ID: "keeps-out", Title: "Holds while nobody is let through",
		Why:    "A door that is not held is not locked.",
		Source: rules.Source{Text: "plain sense: the lock is fitted to hold the door", Mark: rules.CommonPractice},
	}
	reqLetsIn = &Requirement{
		ID: "lets-through", Title: "Opens for who is let through", Rule: "R-13",
		Why: "A valid card or exit request must open the door.",
	}
	reqReads = &Requirement{
		ID: "input-reads", Title: "Input reads what the contact does",
		Why:    "On a wrong reading the controller alarms for nothing, or does not act at all.",
		Source: dataSheet,
	}
	reqData = &Requirement{
		ID: "data-understood", Title: "Reader and controller understand each other",
		Why:    "Without data no card opens the door.",
		Source: rules.Source{Text: "levels of SIA AC-01 (from memory), TIA-232-F, TIA-485-A", Mark: rules.Memory},
	}
	reqAlarm = &Requirement{
		ID: "alarm-raised", Title: "Door alarms are raised",
		Why:    "Nobody comes when the door is forced or held open.",
		Source: rules.Source{Text: "NFPA 731 6.1.6: the contact monitors forced and held open", Mark: rules.Verified},
	}
	reqNoAlarm = &Requirement{
		ID: "no-false-alarm", Title: "No alarm when all is in order",
		Why:    "People learn to ignore alarms that mean nothing.",
		Source: practice,
	}
	reqUnitVoltage = &Requirement{
		ID: "unit-voltage", Title: "Unit within its voltage window",
		Why:    "Outside its window a unit resets, drops out or is damaged.",
		Source: dataSheet,
	}
	reqContact = &Requirement{
		ID: "contact-rating", Title: "Contact within its rating", Rule: "R-23",
		Why:    "An overloaded contact burns or welds, and a welded contact no longer releases.",
		Source: dataSheet,
	}
	reqOutput = &Requirement{
		ID: "output-rating", Title: "Output within its limit",
		Why:    "Beyond its limit an output folds back and everything on it goes down.",
		Source: dataSheet,
	}
	reqReserve = &Requirement{
		ID: "supply-reserve", Title: "Supply with a fifth in reserve", Rule: "R-22", Advice: true,
		Why: "A supply run at its limit ages fast and has nothing left for the battery.",
	}
	reqCable = &Requirement{
		ID: "cable-current", Title: "Core within its current",
		Why:    "An overloaded core warms the whole bundle.",
		Source: rules.Source{Text: "current by cross-section for flexible cords, IEC 60335-1 table 11, read as a bound", Mark: rules.Memory},
	}
	reqSettles = &Requirement{
		ID: "settles", Title: "Comes to a steady state",
		Why:    "What keeps restarting does no work and wears out.",
		Source: computed,
	}
	reqFailSecure = &Requirement{
		ID: "opens-without-power", Title: "Opens without power, or by the handle", Rule: "R-11",
		Why: "A lock that needs power to open shuts people in when the power is gone.",
	}
	reqFireDoor = &Requirement{
		ID: "fire-door-latched", Title: "Fire door stays latched", Rule: "R-12",
		Why: "A fire door that swings free lets fire and smoke through.",
	}
	reqRelease = &Requirement{
		ID: "release-fitted", Title: "Manual release fitted", Rule: "R-01",
		Why:  "Without one, getting out depends on electronics.",
		Asks: func(f rules.Family) rules.Source { return f.ManualRelease.Source },
	}
	reqReleases = &Requirement{
		ID: "release-each-way", Title: "A release for each way people escape", Rule: "R-18",
		Why:  "People reach the door from this side too and find nothing to press.",
		Asks: func(f rules.Family) rules.Source { return f.ReleasesPerWay.Source },
	}
	reqPoles = &Requirement{
		ID: "release-both-poles", Title: "Release breaks both conductors", Rule: "R-04",
		Why:  "One bridge past a single pole keeps the lock on while somebody pushes the release.",
		Asks: func(f rules.Family) rules.Source { return f.SingleFault.Source },
	}
	reqPolesAdvised = &Requirement{
		ID: "release-both-poles-advised", Title: "Release breaks both conductors", Rule: "R-04", Advice: true,
		Why: "One bridge past a single pole keeps the lock on while somebody pushes the release.",
	}
	reqFireSignal = &Requirement{
		ID: "fire-signal-fitted", Title: "Fire signal acts on the lock", Rule: "R-07",
		Why:  "Without it the door stays locked in a fire until somebody finds the release.",
		Asks: func(f rules.Family) rules.Source { return f.FireSignal.Source },
	}
	reqSuppressor = &Requirement{
		ID: "suppressor", Title: "Suppressor across the winding", Rule: "R-24", Advice: true,
		Why: "The kick of the winding burns the contacts and upsets the electronics.",
	}
	reqTime = &Requirement{
		ID: "release-time", Title: "Lets go in time", Rule: "R-24",
		Why:  "Somebody pushes against the leaf before it is free.",
		Asks: func(f rules.Family) rules.Source { return f.ReleaseTime.Source },
	}
	reqDuty = &Requirement{
		ID: "duty", Title: "Powered no longer than it may be",
		Why:    "A winding for short duty burns out when it is powered all day.",
		Source: dataSheet,
	}
	reqLine = &Requirement{
		ID: "data-length", Title: "Data line within its length",
		Why: "Beyond its length a line loses frames, on some days and not on others.",
	}
	reqEnds = &Requirement{
		ID: "line-ends", Title: "Line terminated at its two ends", Rule: "R-28", Advice: true,
		Why: "Too few or too many terminators spoil fast or long lines.",
	}
	reqBuildings = &Requirement{
		ID: "between-buildings", Title: "Isolated and guarded between buildings", Advice: true,
		Why:    "Earths of two buildings differ, and lightning finds the cable between them.",
		Source: rules.Source{Text: "surge protection and isolation between buildings: IEC 62305-4, from memory", Mark: rules.Memory},
	}
	reqExitTold = &Requirement{
		ID: "exit-told", Title: "Leaving by the handle is told", Advice: true,
		Why:    "The contact sees the door open and nobody has asked: every exit raises forced open.",
		Source: practice,
	}
	reqWired = &Requirement{
		ID: "wired", Title: "Can be wired as written",
		Why:    "A terminal, input or core that is not there cannot be landed on.",
		Source: rules.Source{Text: "the wiring plan", Mark: rules.Verified},
	}
)

// Requirements lists all requirements that are judged here.
func Requirements() []*Requirement {
	return []*Requirement{
		reqOutRelease, reqOutFire, reqStaysOut, reqOutPower, reqOutController, reqOutExit, reqOutCut, reqOutSensor,
		reqRelease, reqReleases, reqPoles, reqPolesAdvised, reqFireSignal, reqFailSecure, reqFireDoor, reqTime,
		reqKeepsOut, reqLetsIn, reqReads, reqData, reqAlarm, reqNoAlarm,
		reqVoltage, reqUnitVoltage, reqContact, reqOutput, reqReserve, reqCable, reqSettles, reqDuty, reqSuppressor,
		reqLine, reqEnds, reqBuildings, reqExitTold, reqWired,
	}
}

// source is where a requirement comes from: its own source, else where the door's family asks for it, else the first
// basis of the rule.
func (r *Requirement) source(rule string, f rules.Family) rules.Source {
	if r.Source.Text != "" {
		return r.Source
	}
	if r.Asks != nil {
		if asked := r.Asks(f); asked.Text != "" {
			return asked
		}
	}
	if found, ok := rules.Find(rule); ok && len(found.Basis) > 0 {
		return found.Basis[0]
	}
	return practice
}
