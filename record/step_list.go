package record

// The published sources of figures and duties in the list. Clauses of IEC 60364-6 and BS 7273-4 are from memory, those
// of
// the building code as editions of 2018 number them.
const (
	insulationSource = "IEC 60364-6:2016, table 6.1: SELV and PELV 250 V d.c., 0.5 Mohm (from memory)"
	oneActionSource  = "IBC 2018, 1010.1.9: one operation, no key, tool or special knowledge"
	sensorSource     = "IBC 2018, 1010.1.9.9: sensor release of electrically locked egress doors"
	hardBreakSource  = "IBC 2018, 1010.1.9.9: the manual unlocking device interrupts the lock power by itself"
	delaySource      = "IBC 2018, 1010.1.9.8: delayed egress, 15 s or 30 s, 15 lbf for at most 3 s"
	fireSource       = "BS 7273-4:2015: release of doors by a fire alarm (from memory)"
	stairSource      = "IBC 2018, 1010.1.9.12: stairway doors unlocked together"
	standbySource    = "IEC 60839-11-1:2013, 6.9: power supply"
	alarmSource      = "IEC 60839-11-1:2013, 6.3: annunciation"
	tamperSource     = "IEC 60839-11-1:2013, 6.8: self-protection"
)

// Steps is the whole list, in the order of the work.
func Steps() []Step {
	all := func(fitted) bool { return true }
	var list []Step
	for _, part := range [][]Step{
		doorSteps(all), deadSteps(all), powerSteps(all), userSteps(), releaseSteps(),
		fireSteps(), lossSteps(), lastSteps(all),
	} {
		list = append(list, part...)
	}
	return list
}

func doorSteps(all func(fitted) bool) []Step {
	return []Step{
		{
			"T01", false, "door hung, closer set, no power", "Open to 75 mm, 45 and 90 degrees and let go",
			"closes and latches each time, no rub", "3 results; force in N", practice, all,
		},
		{
			"T02", true, "no power at all", "Leave from the escape side with the normal hardware",
			"opens with one action, or is free", "pass; picture of the hardware", oneActionSource,
			func(f fitted) bool { return f.escape },
		},
		{
			"T03", false, "fire label present", "Compare holes, gaps and hardware with the fire data of the door",
			"no alteration that is not listed", "picture; certificate number", practice,
			func(f fitted) bool { return f.fireRated },
		},
		{
			"T04", false, "containment done", "Inspect segregation from mains, filling and firestops", "as designed",
			"picture", practice, all,
		},
		{
			"T05", false, "cable pulled, devices off", "Continuity and identity of each core from end to end",
			"each core rings to its own label only", "cable; ohm", practice, all,
		},
	}
}

func deadSteps(all func(fitted) bool) []Step {
	return []Step{
		{
			"T06", false, "devices off", "Loop resistance of the lock feed and of the release pair",
			"within the band of the sheet", "ohm; length", practice, all,
		},
		{
			"T07", false, "devices off", "Insulation at 250 V d.c.: core to core, to earth, to screen", "0.5 Mohm or more",
			"Mohm each; meter", insulationSource, all,
		},
		{
			"T08", false, "screen cut back at the device", "Continuity of the screen to earth",
			"one bond only, at the panel", "ohm", practice, func(f fitted) bool { return f.busReaders },
		},
		{
			"T09", false, "terminated", "Look at and tug every core", "none moves, no loose strand, no bare copper",
			"initials for each device", practice, all,
		},
		{"T10", false, "battery out, supply off", "Ohms across each supply output", "no short", "ohm", practice, all},
		{
			"T11", false, "lock connected, supply off", "Ohms of the coil; swap the leads to see the suppressor",
			"value of the coil; a diode conducts one way only", "ohm both ways", practice, all,
		},
		{
			"T12", true, "supply off", "Manual release healthy and operated, each pole by itself",
			"closed and open on every pole; stays operated until reset", "ohm", practice,
			func(f fitted) bool { return f.releases },
		},
		{
			"T13", true, "supply off, fire interface on test", "Fire contact healthy and in alarm", "closed and open",
			"ohm", fireSource, func(f fitted) bool { return f.fire },
		},
		{
			"T14", false, "supply off", "Each supervised input normal, active, cut, shorted at the device",
			"four distinct readings", "4 values in ohm", practice, func(f fitted) bool { return f.supervised },
		},
	}
}

func powerSteps(all func(fitted) bool) []Step {
	return []Step{
		{
			"T15", false, "dead tests passed", "Apply mains with no load",
			"volts and ripple within range, no earth fault shown", "V; mV", practice, all,
		},
		{
			"T16", false, "T15 passed", "Connect the battery, polarity checked first",
			"float volts within range, charging current falls", "V; A", practice,
			func(f fitted) bool { return f.battery },
		},
		{"T17", false, "loads added one by one", "Current of each output", "as the load schedule", "A", practice, all},
		{
			"T18", false, "lock on, all locks on", "Volts at the lock", "within the band of the sheet", "V", practice,
			all,
		},
		{
			"T19", false, "all locks operated together", "Volts at the controller while they switch",
			"no restart, no supply fault", "least V", practice, all,
		},
		{
			"T20", false, "magnet fitted", "Pull test at the working gap",
			"rated hold or the value agreed; the armature floats on its washers", "N", practice,
			func(f fitted) bool { return f.magnet },
		},
		{"T21", false, "lock off", "Push and pull the leaf", "free, nothing holds it still", "pass", practice, all},
	}
}

func userSteps() []Step {
	readers := func(f fitted) bool { return f.readers }
	return []Step{
		{
			"T22", false, "configured", "Show a valid credential in its hours",
			"unlocks, shows it, event with right name and time; under 1 s aimed at", "event; s", "NFPA 731: not " +
				"over 10 s (from a course on it); the rest common practice", readers,
		},
		{"T23", false, "T22 passed", "Do not open the door", "locks again after the time set", "s", practice, readers},
		{
			"T24", false, "T22 passed", "Open within the time and close", "locks again as configured", "event", practice,
			readers,
		},
		{"T25", false, "locked", "Show an unknown credential", "stays locked, event", "event", practice, readers},
		{
			"T26", false, "locked", "Show a credential without right for this door", "stays locked, event", "event",
			practice, readers,
		},
		{
			"T27", false, "locked", "Show a valid credential outside its hours", "stays locked, event", "event", practice,
			readers,
		},
		{
			"T28", false, "locked", "Show an expired or cancelled credential", "stays locked, event", "event", practice,
			readers,
		},
		{
			"T29", false, "keypad or two factors", "Wrong code up to the limit",
			"locked out and alert after the count set", "event", practice, nil,
		},
		{
			"T30", false, "two persons, or interlocked doors",
			"First credential only; both; second door while the first is open", "rule obeyed", "events", practice, nil,
		},
	}
}

func releaseSteps() []Step {
	exits := func(f fitted) bool { return f.exits }
	sensors := func(f fitted) bool { return f.sensors }
	releases := func(f fitted) bool { return f.releases }
	return []Step{
		{
			"T31", true, "locked, somebody inside", "Operate the request to exit", "door opens to leave; no forced alarm",
			"event; s", oneActionSource, exits,
		},
		{
			"T32", true, "sensor releases the door", "Walk up from several directions, crouch, at wheelchair height",
			"releases before the hand reaches the door", "table or film", sensorSource, sensors,
		},
		{
			"T33", true, "sensor releases the door", "Take the supply from the sensor", "lock releases", "pass",
			sensorSource, sensors,
		},
		{
			"T34", false, "sensor releases the door",
			"Try to trigger it from the unsecured side: gap, slot, under the leaf", "does not " +
				"release", "pass", practice, sensors,
		},
		{
			"T35", true, "locked", "Operate the manual release with the controller switched off", "lock releases at once",
			"s; V at the lock 0", hardBreakSource, releases,
		},
		{
			"T36", true, "locked, controller running", "Operate the manual release and let go",
			"stays released: 30 s or more, or until reset", "s", sensorSource, releases,
		},
		{
			"T37", true, "manual release operated", "Show a valid credential; send a lock command",
			"lock stays without power", "V at the lock", hardBreakSource, releases,
		},
		{
			"T38", false, "manual release operated", "Look for alert and event", "alert raised; sounder, where fitted",
			"event", alarmSource, releases,
		},
		{
			"T39", true, "delayed egress", "Push the hardware 1 s, then 3 s with 67 N",
			"starts within 3 s, sounds, free within 15 s (30 s if approved), does not stop", "N; s", delaySource, nil,
		},
		{
			"T40", true, "delayed egress, released", "Close the door", "does not lock again until armed by hand", "pass",
			delaySource, nil,
		},
	}
}

func fireSteps() []Step {
	fire := func(f fitted) bool { return f.fire }
	return []Step{
		{
			"T41", true, "locked, fire panel on test", "Real alarm from a detector of the zone, and from a call point",
			"lock releases and stays released", "V; s", fireSource, fire,
		},
		{
			"T42", true, "fire alarm active", "Silence the sounders, then reset the panel",
			"stays released until reset, then as agreed", "sequence", fireSource, fire,
		},
		{
			"T43", true, "locked", "Disconnect one core of the fire signal at the panel", "lock releases", "pass",
			fireSource, fire,
		},
		{
			"T44", true, "locked; where the highest category applies", "Short the two cores of the fire signal where they end at the door, by agreement with whoever monitors it; take the short out at once after",
			"releases, or a supervised fault is raised", "pass or event", fireSource, fire,
		},
		{
			"T45", true, "locked; where the highest category applies", "Fire panel: mains and battery off",
			"lock releases", "pass", fireSource, fire,
		},
		{
			"T46", true, "locked; where the highest category applies", "Disable the zone or the output at the panel",
			"as the category demands", "pass", fireSource, fire,
		},
	}
}

func lossSteps() []Step {
	battery := func(f fitted) bool { return f.battery }
	return []Step{
		{
			"T47", true, "locked", "Switch off the mains of the lock supply, battery connected",
			"lock does what was agreed; event", "event", standbySource, battery,
		},
		{
			"T48", true, "mains off", "Take the battery off too",
			"a fail-safe lock releases; a handle that frees the door still does", "pass", oneActionSource,
			func(f fitted) bool { return f.escape },
		},
		{
			"T49", false, "standby required", "Run on battery, volts every 15 min", "time calculated is reached",
			"table of V and time", standbySource, battery,
		},
		{
			"T50", false, "after T49", "Restore mains", "charges, fault clears, no door unlocks", "event", standbySource,
			battery,
		},
		{
			"T51", true, "controller and lock on separate supplies", "Switch off the controller's supply only",
			"lock releases, or people get out by the handle", "pass", sensorSource,
			func(f fitted) bool { return f.twoFeeds && f.escape },
		},
		{
			"T52", false, "locked", "Open the door without credential or request", "alert: forced open", "event",
			alarmSource, func(f fitted) bool { return f.contact },
		},
		{
			"T53", false, "door opened validly", "Hold it open beyond the time set",
			"alert: held open; clears when closed", "event; s", alarmSource, func(f fitted) bool { return f.contact },
		},
		{
			"T54", false, "locked", "Open the covers of controller, supply and reader; take the reader off",
			"tamper alert each, lock unchanged", "event", tamperSource, func(f fitted) bool { return f.readers },
		},
	}
}

func lastSteps(all func(fitted) bool) []Step {
	return []Step{
		{
			"T55", false, "on line", "Unplug the network for 15 min, use 5 credentials, plug in",
			"works alone; events arrive with true times", "events", practice, func(f fitted) bool { return f.network },
		},
		{
			"T56", false, "on line", "Unplug the line of one reader", "alert: reader lost; other doors unaffected",
			"event", practice, func(f fitted) bool { return f.busReaders },
		},
		{
			"T57", false, "on line", "Set the clock wrong by 1 h and synchronise", "right again within the limit agreed",
			"before and after", practice, func(f fitted) bool { return f.network },
		},
		{
			"T58", false, "stairs", "Unlock the group from its command position",
			"all unlock together, latches still hold", "list", stairSource, nil,
		},
		{
			"T59", false, "accessible door", "Measure heights, opening force and hold-open time",
			"within the ranges that apply", "mm; N; s", "ADA 2010, 308 and 404, or the ranges of the rules that " +
				"apply", all,
		},
		{
			"T60", true, "all done", "Whole site: fire, mains lost, full reset; take out every test link",
			"every door is as the cause-and-effect matrix says", "signed matrix", practice,
			func(f fitted) bool { return f.escape },
		},
	}
}
