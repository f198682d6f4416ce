package rules

// Every source that a rule or a figure names, once. Clause numbers belong to the edition that is named; they move.
var (
	ibcOperation = Source{"IBC 2018, 1010.1.9: one action, no key, hardware 34 to 48 in high", SecondHand}
	ibcHardware  = Source{"IBC 2018, 1010.1.9.10, door hardware release", Verified}
	ibcSensor    = Source{"IBC 2018, 1010.1.9.9, sensor release", SecondHand}
	ibcSensorOff = Source{"IBC 2018, 1010.1.9.9, sensor release: loss of power to the sensor", Memory}
	ibcReset     = Source{"IBC 2018, 1010.1.9.9, sensor release: unlocked until the fire alarm is reset", Memory}
	ibcFire      = Source{"IBC 2018, 1010.1.9.9, sensor release: fire alarm, sprinklers and detection unlock", SecondHand}
	ibcDelayed   = Source{"Delayed egress, New York City building code 1010.1.9.7: one such door on a path", Verified}
	ibcStairs    = Source{"Stairway doors, New York City building code 1010.1.9.11: unlocked together", Verified}
	localStandby = Source{"US ordinance amending IBC 1008.1.4.4: standby batteries only when approved", Verified}

	nfpaSensor     = Source{"NFPA 101, 7.2.1.6.2 (2012 and 2015 numbering), sensor release", SecondHand}
	nfpaPower      = Source{"NFPA 101, 7.2.1.6.2, loss of power to the sensor or to the part that locks", Memory}
	nfpaStairs     = Source{"NFPA 101, 7.2.1.5.8 (2012 and 2015 numbering), stair re-entry", SecondHand}
	nfpa72         = Source{"NFPA 72:2007, 6.16.7, and NFPA 72:2010, 21.9, door unlocking", SecondHand}
	nfpa72Supply   = Source{"NFPA 72:2010, 21.9: fire panel batteries do not keep doors locked", SecondHand}
	nfpa80Strike   = Source{"NFPA 80, fail-safe strikes on fire doors", SecondHand}
	nfpa80Holes    = Source{"NFPA 80, 4.1.3.4, job-site holes in a fire door", SecondHand}
	nec725         = Source{"NEC (NFPA 70), 725.136, separation of Class 2 and 3 circuits", SecondHand}
	ufcPerimeter   = Source{"UFC 4-021-02NF, 9-6.13.2: cabling stays inside the protected perimeter", Verified}
	ufcBattery     = Source{"UFC 4-021-02NF, 9-6.3: battery calculation and standby hours", Verified}
	nfpaRecharge   = Source{"NFPA 731 (2008 edition): battery charged again within 48 h", Verified}
	ufcSupervision = Source{"UFC 4-021-02NF, 9-6.8.1: supervised lines", Verified}

	adbRelease   = Source{"Approved Document B volume 2, section 5: fire, power loss or error, override", SecondHand}
	adbSides     = Source{"Approved Document B volume 2, section 5: override on each side of escape", SecondHand}
	bsCategoryA  = Source{"BS 7273-4:2015+A2:2023, category A, critical actuation", Memory}
	bsCategoryB  = Source{"BS 7273-4:2015+A2:2023, category B, standard actuation", Memory}
	bsCategoryC  = Source{"BS 7273-4:2015+A2:2023, category C, indirect actuation", Memory}
	bsManual     = Source{"BS 7273-4:2015+A2:2023, 11.2, manual release beside the door", SecondHand}
	bsHold       = Source{"BS 7273-4 practice: released until deliberately reset", SecondHand}
	bsTwoPoles   = Source{"Double-pole break at a manual release (BS 7273-4 practice)", CommonPractice}
	ukHeight     = Source{"Fire call point practice, about 1400 mm (older BS 5839-1 practice)", Memory}
	ukFireReset  = Source{"BS 7273-4 practice: fire signal stays until the fire alarm is reset", CommonPractice}
	enSystem     = Source{"EN 13637:2015, fail-safe principle of electrically controlled exit systems", Memory}
	enHeights    = Source{"EN 13637:2015, height of the operating element", MemoryLow}
	enLatch      = Source{"EN 13637:2015, stays released until reset", MemoryLow}
	deSystem     = Source{"M-EltVTR 1997: control, emergency button, lock held by current", Verified}
	deSingle     = Source{"M-EltVTR 1997: no single fault prevents or delays release", SecondHand}
	deRelock     = Source{"M-EltVTR 1997: locked again only by hand at the door", SecondHand}
	deButton     = Source{"M-EltVTR 1997: positively opening contact in the emergency button", SecondHand}
	deHeight     = Source{"M-EltVTR 1997: button at most 1200 mm high, 850 mm recommended", SecondHand}
	deFire       = Source{"M-EltVTR 1997, fire signal as practised in Germany", Memory}
	enFire       = Source{"EN 13637:2015, scope: use on fire doors needs a fire test of its own", Verified}
	en54Charger  = Source{"EN 54-4, 5.3.1, of fire alarm supplies: 80 % of the capacity within 24 h", SecondHand}
	en50174      = Source{"EN 50174-2:2000, table 1, separation of data and power cables", SecondHand}
	enPriority   = Source{"EN 60839-11-2:2015: emergency release has priority over security", Memory}
	enGrades     = Source{"EN 60839-11-1:2013, power supply by grade: 2 h grade 3, 4 h grade 4", MemoryLow}
	iecStop      = Source{"IEC 60204-1: energy removed, broken wire safe, positively opened contacts", SecondHand}
	iecPoE       = Source{"IEEE 802.3-2022, clauses 33 and 145, power classes", SecondHand}
	tia485       = Source{"TIA-485-A: one terminator at each of the two ends of the line", SecondHand}
	dataSheet    = Source{"Data sheet of the device", Verified}
	trade        = Source{"Common practice: no published source", CommonPractice}
	standbyTrade = Source{"Common practice: standby before the release contacts; local rules may forbid", CommonPractice}
	releaseTrade = Source{"Common practice: the leaf is free within 1 s of the contact opening", CommonPractice}
	heightTrade  = Source{"Common practice: about 1000 to 1200 mm suits most reach rules", CommonPractice}
	carefulTrade = Source{"Careful default: taken from what most families demand", CommonPractice}
	notDemanded  = Source{"Nothing said about it in the rules of this family that were seen", MemoryLow}
	freeHandle   = Source{"IBC 2018, 1010.1.9: the handle opens the door, so the lock needs no release", SecondHand}

	adaReach     = Source{"ADA 2010 standards, 308.2.1 and 308.3.1: 15 to 48 in, unobstructed", Verified}
	admReach     = Source{"Approved Document M volume 2, 4.30: controls 750 to 1200 mm", SecondHand}
	dinReach     = Source{"DIN 18040-1: controls at 850 mm, up to 1050 mm where there are several", Memory}
	leverHeight  = Source{"BS 8300-2: lever handles 800 to 1050 mm", Memory}
	readerTrade  = Source{"Common practice: latch side, 1000 to 1100 mm high, 100 to 300 mm from the frame", CommonPractice}
	sensorTrade  = Source{"Common practice: above the door, 2.1 to 2.5 m high, aimed at the handle", CommonPractice}
	contactTrade = Source{"Common practice: at the head, 75 to 150 mm from the leading edge", CommonPractice}
)
