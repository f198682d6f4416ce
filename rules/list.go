package rules

// entries is the one list of rules, in the order of ids. "The release contacts" are those of the manual release, of the
// fire signal and of whatever else must take the power from the lock.
var entries = []entry{
	{Rule: Rule{
		ID: "R-00", Title: "Life before security", Level: Error,
		Says: "Where letting people out and keeping people out contradict each other, letting people out wins.",
		Why:  "A door that is hard to break in is worth nothing to somebody who cannot get out of a fire.",
		LookAt: "Every setting and lock added for security on the way out: does it ever hold the door against a person " +
			"leaving?",
		Basis: []Source{enPriority, trade},
	}},
	{applies: held, Rule: Rule{
		ID: "R-01", Title: "Manual release in every feed", Level: Error, Judged: true,
		Says:   "Every path from every source to the lock runs through a contact that a person at the door opens by hand.",
		Why:    "A feed that goes round the release keeps the door locked while somebody pushes the button.",
		LookAt: "Work the manual release with everything else healthy: the lock must lose its voltage at once.",
		Basis:  []Source{ibcHardware, ibcSensor, nfpaSensor, adbRelease},
	}},
	{applies: held, Rule: Rule{
		ID: "R-02", Title: "A cut conductor releases", Level: Error, Judged: true,
		Says:   "Cutting any one conductor or terminal of the release contacts leaves the lock without power.",
		Why:    "Screws work loose and cables get cut; the door must then stand open, not locked.",
		LookAt: "Lift each conductor of the release contacts in turn and try the door.",
		Basis:  []Source{bsCategoryA, bsCategoryB, enSystem, deSingle, iecStop},
	}},
	{applies: held, Rule: Rule{
		ID: "R-03", Title: "A lost supply does not hold the door", Level: Error, Judged: true,
		Says:   "Losing any one supply (lock, controller, sensor, fire relay, network power) never keeps the door locked.",
		Why:    "Supplies fail first of all, often in the very fire that people run from.",
		LookAt: "Switch each supply off in turn, batteries too, and try the door.",
		Basis:  []Source{ibcHardware, ibcSensor, ibcSensorOff, nfpaPower, adbRelease},
	}},
	{applies: held, level: faultLevel, Rule: Rule{
		ID: "R-04", Title: "A short in the release cable does not hold the door", Level: Advice, Judged: true,
		Says: "Any two conductors of one release cable joined together end in release, a blown fuse, or a fault that " +
			"is shown.",
		Why:    "A nail or a crushed cable can bridge the release contact, and nobody notices until it is needed.",
		LookAt: "Does the manual release break both conductors of the feed, or is the cable watched for shorts?",
		Basis:  []Source{bsCategoryA, bsTwoPoles, enSystem, deSingle},
	}},
	{applies: held, Rule: Rule{
		ID: "R-05", Title: "No way round the release contacts", Level: Error, Judged: true,
		Says:   "No second path leads current from any source to the lock past the release contacts.",
		Why:    "A second supply, a bypass switch, a lamp or a forgotten test link can keep the lock on.",
		LookAt: "Look for links, key switches, lamps and second supplies on the lock side of the release contacts.",
		Basis:  []Source{iecStop, trade},
	}},
	{applies: held, Rule: Rule{
		ID: "R-06", Title: "No program between the hand and the lock", Level: Error, Judged: true,
		Says: "A release or fire signal takes the lock power by contacts alone, not only through a processor, a " +
			"network or a bus.",
		Why:    "A controller that hangs, restarts or is set wrong must not decide whether people get out.",
		LookAt: "Trace the release and the fire contact to the lock feed: an input of a controller alone is not enough.",
		Basis:  []Source{ibcHardware, ibcSensor, iecStop},
	}},
	{applies: fire, Rule: Rule{
		ID: "R-07", Title: "Fire contact closed when healthy", Level: Error, Judged: true,
		Says:   "The fire contact is closed, or its relay held in, while all is well, and opens on alarm.",
		Why:    "A contact that closes on fire does nothing once its cable is burnt or loose.",
		LookAt: "Unplug the fire signal cable: the door must be released.",
		Basis:  []Source{ibcFire, nfpa72, adbRelease},
	}},
	{applies: relocks, Rule: Rule{
		ID: "R-08", Title: "Stays released until the fire alarm is reset", Level: Advice, Judged: true,
		Says: "Nothing gives the lock power again while the fire contact is open or before the reset that the rules " +
			"ask for.",
		Why:    "A controller that locks again after its few seconds shuts out those who come later.",
		LookAt: "Hold the fire signal on, show a credential, let every time run out: the lock must stay off until the reset.",
		Basis:  []Source{ibcReset, nfpa72, deRelock},
	}},
	{applies: held, Rule: Rule{
		ID: "R-09", Title: "Stored energy before the release contacts", Level: Error, Judged: true,
		Says:   "Batteries, capacitors and second supplies join the feed before the release contacts, never after them.",
		Why:    "A battery beside the lock keeps it on after the release has opened.",
		LookAt: "Is there a battery, a big capacitor or a network power device on the lock side of the release contacts?",
		Basis:  []Source{trade, localStandby},
	}},
	{applies: fire, Rule: Rule{
		ID: "R-10", Title: "Lock not fed by the fire panel", Level: Error, Judged: true,
		Says: "The lock does not take its power from the fire panel, unless exits are shown to unlock within 10 minutes of " +
			"losing primary power.",
		Why:    "The panel's batteries keep such a lock on for a day after the mains has gone.",
		LookAt: "Where does the lock supply come from? If from the fire panel, who has approved it and how is the time met?",
		Basis:  []Source{nfpa72Supply},
	}},
	{Rule: Rule{
		ID: "R-11", Title: "Lock that opens without power, or a free handle", Level: Error, Judged: true,
		Says: "An escape door either has a handle that always opens it by hand, or a lock that unlocks when its " +
			"power goes.",
		Why:    "A lock that needs power to open shuts people in when the power is gone.",
		LookAt: "Take the power from the lock and leave by the inside handle alone.",
		Basis:  []Source{ibcOperation, ibcHardware, adbRelease, deSystem},
	}},
	{Rule: Rule{
		ID: "R-12", Title: "Fire door stays latched", Level: Error, Judged: true,
		Says: "On a fire-rated door the leaf stays latched when released: no fail-safe strike, no magnet as its only " +
			"fastening.",
		Why:    "A fire door that swings free lets fire and smoke through.",
		LookAt: "The label of the door, and the latch: does it still hold the closed leaf with the power off?",
		Basis:  []Source{nfpa80Strike, enFire, nfpaStairs},
	}},
	{Rule: Rule{
		ID: "R-13", Title: "Relay contact fits the lock", Level: Error, Judged: true,
		Says: "Contact and relay setting together keep a fail-safe lock powered, and a fail-secure lock without power, " +
			"until somebody is let through.",
		Why:    "On the wrong contact the door is open all day and locks when somebody shows a credential.",
		LookAt: "Lock action on its label, contact it is wired to (NO or NC), and the relay sense set in the controller.",
		Basis:  []Source{trade},
	}},
	{applies: controller, Rule: Rule{
		ID: "R-14", Title: "A dead controller releases", Level: Error, Judged: true,
		Says:   "When the controller loses its supply while the lock supply lives, the lock loses its power too.",
		Why:    "On the resting contact of a dead relay the lock stays on, and no reader or exit button works any more.",
		LookAt: "Switch off the controller alone and try the door.",
		Basis:  []Source{ibcHardware, ibcSensor, adbRelease},
	}},
	{applies: sensor, Rule: Rule{
		ID: "R-15", Title: "A dead sensor releases", Level: Error, Judged: true,
		Says: "A sensor that releases the door holds its relay in while nobody is there, so that losing its power " +
			"releases.",
		Why:    "A sensor that lost its power sees nobody; if that means locked, people stand in front of a shut door.",
		LookAt: "Unplug the sensor and try the door.",
		Basis:  []Source{ibcSensorOff, nfpaPower},
	}},
	{applies: holds, Rule: Rule{
		ID: "R-16", Title: "Release holds by itself", Level: Error, Judged: true,
		Says: "After one push the release keeps the door unlocked for the time demanded, by itself and not by the " +
			"controller.",
		Why:    "People need both hands for the door; a release that ends with the push locks them in again.",
		LookAt: "Push once, let go, and take the time until the lock has voltage again.",
		Basis:  []Source{ibcSensor, nfpaSensor, bsHold},
	}},
	{applies: placed, level: placeLevel, Rule: Rule{
		ID: "R-17", Title: "Release within reach and sight", Level: Error,
		Says: "The manual release sits at the height and distance that the rules ask for and is not hidden by the " +
			"open leaf.",
		Why:    "People look for it beside the door, at hand height, and some reach it from a wheelchair.",
		LookAt: "Measure height above the floor and distance from the leaf; open the door and see whether it stays in view.",
		Basis:  []Source{ibcSensor, nfpaSensor, deHeight},
	}},
	{applies: directions, Rule: Rule{
		ID: "R-18", Title: "A release for each way people escape", Level: Error, Judged: true,
		Says:   "Each direction in which people escape through the door has its own manual release.",
		Why:    "Somebody on the side without one cannot get through.",
		LookAt: "The escape plan: do people come from both sides?",
		Basis:  []Source{adbSides},
	}},
	{Rule: Rule{
		ID: "R-19", Title: "Delayed doors on one path", Level: Error,
		Says:   "No path out meets more delayed or staff-controlled doors than the rules permit, usually one.",
		Why:    "Delays add up, and people turn back at the second door that does not open.",
		LookAt: "Walk every way out to the open air and count the doors that make people wait.",
		Basis:  []Source{ibcDelayed},
	}},
	{Rule: Rule{
		ID: "R-20", Title: "Stair doors unlock together and stay latched", Level: Error,
		Says:   "All locked doors of a stair unlock on one signal, and those in a fire-rated wall stay latched.",
		Why:    "Smoke in a stair drives people back to a floor, and the doors must still hold the fire.",
		LookAt: "Give the signal, try every door of the stair from inside it, and see that each one still latches.",
		Basis:  []Source{ibcStairs, nfpaStairs, nfpa80Strike},
	}},
	{Rule: Rule{
		ID: "R-21", Title: "Enough voltage at every lock", Level: Error, Judged: true,
		Says: "Every lock has at least its lowest working voltage with all loads on, the supply low, the copper warm " +
			"and the battery old.",
		Why:    "A lock that starves holds badly or does not let go, and only on the worst day.",
		LookAt: "Measure at the lock with every lock of the supply on, running on battery.",
		Basis:  []Source{dataSheet},
	}},
	{Rule: Rule{
		ID: "R-22", Title: "Supply and fuses with reserve", Level: Advice, Judged: true,
		Says: "Steady load stays under 80 % of supply and outputs, inrush under the peak rating, and the nearest " +
			"fuse goes first.",
		Why:    "A supply at its limit runs hot and dies early; a main fuse that goes first takes every door with it.",
		LookAt: "Add up the currents on each output and compare fuse values along the feed.",
		Basis:  []Source{trade},
	}},
	{Rule: Rule{
		ID: "R-23", Title: "Contacts strong enough", Level: Error, Judged: true,
		Says:   "Every contact that switches the lock is rated for its direct current and for a coil.",
		Why:    "A contact that welds keeps the door locked for good.",
		LookAt: "Direct-current rating on the label of each contact in the lock feed.",
		Basis:  []Source{dataSheet},
	}},
	{Rule: Rule{
		ID: "R-24", Title: "Suppressor at the lock, the right way round", Level: Advice, Judged: true,
		Says: "Each coil has a suppressor across its own terminals, with the right polarity, that does not slow " +
			"release beyond the target.",
		Why: "Without it the kick of the coil burns contacts and upsets readers; a plain diode makes a magnet let " +
			"go late.",
		LookAt: "Is it at the lock, which kind is it, and to which side does its ring point?",
		Basis:  []Source{trade, releaseTrade},
	}},
	{Rule: Rule{
		ID: "R-25", Title: "Nothing outside unlocks the door", Level: Error, Judged: true,
		Says:   "No conductor in reach on the unsecured side unlocks the door when it is cut, joined to another or fed.",
		Why:    "Whoever lifts the reader off the wall would open the door with a bent wire.",
		LookAt: "Open every box and reader on the unsecured side: which conductors can be reached there?",
		Basis:  []Source{trade, ufcPerimeter},
	}},
	{Rule: Rule{
		ID: "R-26", Title: "End-of-line resistors at the far end", Level: Advice, Judged: true,
		Says:   "Resistors that supervise a line sit at the contact, not at the controller.",
		Why:    "At the controller they watch nothing: a cut or bridged cable looks healthy.",
		LookAt: "Open the contact's box and find the resistors there.",
		Basis:  []Source{ufcSupervision, trade},
	}},
	{Rule: Rule{
		ID: "R-27", Title: "Common 0 V between supplies", Level: Advice, Judged: true,
		Says:   "Two devices on different supplies that exchange a single-wire signal share a 0 V conductor.",
		Why:    "Without it the signal has no return and works by chance.",
		LookAt: "Is there a 0 V core beside the data cores, landed at both ends?",
		Basis:  []Source{trade},
	}},
	{Rule: Rule{
		ID: "R-28", Title: "Data bus in one line with two ends", Level: Advice, Judged: true,
		Says:   "An RS-485 bus is one line with one terminator at each of its two ends.",
		Why:    "Stars and missing or extra terminators make echoes, and devices drop out now and then.",
		LookAt: "Power off, measure across the pair: about 60 ohm plus the cable means both are fitted.",
		Basis:  []Source{tia485},
	}},
	{Rule: Rule{
		ID: "R-29", Title: "Kept apart from mains", Level: Error,
		Says:   "Extra-low-voltage conductors share no undivided enclosure, cable or conduit with mains.",
		Why:    "One loose mains core puts every reader and handle at the door at mains voltage.",
		LookAt: "Every enclosure and conduit with mains in it: is there a barrier or the distance the local rules ask for?",
		Basis:  []Source{nec725, en50174},
	}},
	{Rule: Rule{
		ID: "R-30", Title: "Standby long enough", Level: Advice, Judged: true,
		Says:   "The battery lasts the hours that the job or the grade asks for.",
		Why:    "After that the door is open, or nobody gets in.",
		LookAt: "The hours asked for in the contract, the age of the battery, and a test with the mains off.",
		Basis:  []Source{enGrades, ufcBattery},
	}},
	{Rule: Rule{
		ID: "R-31", Title: "Network power within class", Level: Advice, Judged: true,
		Says:   "What a door takes from a network port stays within the class of the port and the budget of the switch.",
		Why:    "A port over its class switches off, and the door with it.",
		LookAt: "Class of the port, power of everything behind it, and the budget of the whole switch.",
		Basis:  []Source{iecPoE},
	}},
	{Rule: Rule{
		ID: "R-32", Title: "Fire door not cut beyond its listing", Level: Advice,
		Says:   "Holes and cut-outs in a fire door or its frame are covered by its listing or test evidence.",
		Why:    "One wrong hole and the door no longer counts as a fire door.",
		LookAt: "Every hole made for cable and hardware, against the door's label or certificate.",
		Basis:  []Source{nfpa80Holes, enFire, trade},
	}},
	{Rule: Rule{
		ID: "R-33", Title: "Battery charged again in time", Level: Advice, Judged: true,
		Says: "Once mains is back, what the charger gives and the doors leave of the supply brings the battery from empty " +
			"to 80 % within 24 h.",
		Why:    "A second power cut on the next day finds the battery half empty.",
		LookAt: "The charging current on the data sheet of the supply, against the capacity of the battery that is fitted.",
		Basis:  []Source{en54Charger, nfpaRecharge},
	}},
}
