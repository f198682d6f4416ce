package wiring

// Effect is what is seen when a conductor is missing. A test removes each conductor of the demo job and looks for it.
type Effect string

// The effects.
const (
	LockDead     Effect = "lock without power"
	UnitDead     Effect = "unit without power"
	InputWrong   Effect = "input reads wrong"
	DataLost     Effect = "data not understood"
	KickFree     Effect = "coil without suppressor"
	BatteryAway  Effect = "battery does not carry"
	ZeroLoose    Effect = "zero volts not tied to earth"
	LineEchoes   Effect = "line not terminated"
	ScreenLoose  Effect = "screen not tied to earth"
	OutputAway   Effect = "output does not act"
	RelayDropped Effect = "relay does not pull in"
)

// Reason says why a conductor or component is there.
type Reason struct {
	Purpose string `json:"purpose"` // what it is, in a few words: "lock feed +"
	Why     string `json:"why"`
	Without string `json:"without"` // what happens without it
	Basis   string `json:"basis"`   // rule or figure, with its source
	Effect  Effect `json:"effect"`
}

// The reasons, by purpose. Basis names rule ids of package rules, a standard, or common practice.
var (
	whyControllerFeed = Reason{
		"controller supply", "The controller works from this supply.",
		"The controller is dead; the door stays as an unpowered controller leaves it.",
		"data sheet of the controller", UnitDead,
	}
	whyDeviceFeed = Reason{
		"device supply", "The device works from this supply.",
		"The device is dead.", "data sheet of the device", UnitDead,
	}
	whyLamp = Reason{
		"reader lamp", "The controller pulls this line to 0 V while the door is unlocked, and the reader shows it.",
		"The reader does not show that the door is unlocked.", "data sheet of the reader", OutputAway,
	}
	whyBoardFeed = Reason{
		"board supply", "The board hands this supply on through its fuses.",
		"Every output of the board is dead.", "data sheet of the board", UnitDead,
	}
	whyLockSource = Reason{
		"lock feed +", "The lock's power goes through the relay contact, so the controller can give it and take it away.",
		"The lock gets no power.", "wet contact: supply output linked to relay common (common practice)", LockDead,
	}
	whyLockFeed = Reason{
		"lock feed +", "Brings the lock the power that the relay contact gives and takes.",
		"The lock gets no power.", "R-13", LockDead,
	}
	whyFireInFeed = Reason{
		"lock feed + through fire contact", "The fire contact stands in the lock feed itself, closed while all is well: fire, or a cut line, takes the power away with no software in the way.",
		"The lock gets no power; bridged, the lock would stay on in a fire.", "R-06, R-07", LockDead,
	}
	whyWatchInFeed = Reason{
		"lock feed + through watch relay", "The relay lets go when the controller's supply is lost, so a dead controller cannot keep the lock on.",
		"The lock gets no power; bridged, a dead controller would keep the lock on.", "R-14", LockDead,
	}
	whyExitInFeed = Reason{
		"lock feed + through exit device", "The exit device breaks the lock feed itself, so leaving does not depend on the controller.",
		"The lock gets no power; bridged, only the controller would let people out.", "R-06, R-15", LockDead,
	}
	whyReleaseFirst = Reason{
		"lock feed + through manual release", "The manual release breaks the lock feed by hand, with no software in the way.",
		"The lock gets no power; bridged, the release would do nothing.", "R-01, R-06", LockDead,
	}
	whyReleaseSecond = Reason{
		"lock feed - through manual release", "The second pole breaks the return as well, so one bridge or one earth fault cannot keep the lock on.",
		"The lock gets no power; bridged, one fault could keep the lock on.", "R-04; both poles are common practice", LockDead,
	}
	whyLockReturn = Reason{
		"lock feed -", "Current returns to the supply it came from.",
		"The lock gets no power.", "R-05", LockDead,
	}
	whyInterposeCoil = Reason{
		"interposing relay coil", "The relay keeps the lock's current off the controller's contact.",
		"The relay never pulls in; the lock stays as without power.", "R-23", RelayDropped,
	}
	whyWatchCoil = Reason{
		"watch relay coil", "The coil watches the controller's supply.",
		"The relay never pulls in; the lock gets no power.", "R-14", RelayDropped,
	}
	whyExit = Reason{
		"exit request", "The controller learns here that somebody wants to leave.",
		"The request is not seen, or reads as a fault.", "data sheet of the controller", InputWrong,
	}
	whyContact = Reason{
		"door contact", "The controller learns here whether the door stands open.",
		"The door reads open, or as a fault.", "data sheet of the controller", InputWrong,
	}
	whyAux = Reason{
		"auxiliary input", "The controller learns here what the contact tells.",
		"The contact is not seen, or reads as a fault.", "data sheet of the controller", InputWrong,
	}
	whyFuseSeen = Reason{
		"fuses watched", "The controller learns here that a fuse of the board has opened.",
		"A fuse that opens is seen only by what it fed.", "common practice", InputWrong,
	}
	whyReleaseSeen = Reason{
		"release monitor", "The controller learns here that the release was operated.",
		"Operating the release is not reported.", "common practice", InputWrong,
	}
	whySeries = Reason{
		"end-of-line resistor in series", "At the device, so that a short anywhere in the line reads as a fault and not as a closed contact.",
		"The line reads cut.", "R-26", InputWrong,
	}
	whyParallel = Reason{
		"end-of-line resistor across the contact", "At the device, so that a cut line reads as a fault and not as an open contact.",
		"An open contact reads as a cut line.", "R-26", InputWrong,
	}
	whyReaderFeed = Reason{
		"reader supply", "The reader works from the controller's reader port.",
		"The reader is dark.", "data sheet of the reader", UnitDead,
	}
	whyPulse = Reason{
		"data line", "Card numbers come in pulses on two lines, one for zeros and one for ones.",
		"Numbers are lost or read as another number.", "SIA AC-01-1996.10", DataLost,
	}
	whyCrossed = Reason{
		"serial line, crossed", "Each side's transmitter lands on the other's receiver.",
		"The two cannot talk.", "TIA-232-F", DataLost,
	}
	whyBus = Reason{
		"RS-485 line", "A goes to A and B to B all along the line.",
		"Units beyond this point are not heard.", "TIA-485-A", DataLost,
	}
	whyCommon = Reason{
		"common 0 V", "Data is measured against 0 V, and the two units hang on different supplies. Joined once, here.",
		"Levels float: data is lost, or comes when nobody sent it.", "R-27", DataLost,
	}
	whyTerminator = Reason{
		"line terminator", "120 ohm at each of the two ends of the line swallows what would come back as an echo.",
		"Echoes spoil fast or long lines.", "R-28; TIA-485-A", LineEchoes,
	}
	whySuppressor = Reason{
		"suppressor", "It takes the kick of the coil when the contact opens, at the lock where it arises.",
		"The kick of hundreds of volts burns the contact and upsets the electronics.", "R-24", KickFree,
	}
	whySounder = Reason{
		"sounder", "The controller sounds door alarms here.",
		"Alarms are silent at the door.", "data sheet of the controller", OutputAway,
	}
	whyBattery = Reason{
		"standby battery", "The battery carries the load while mains is lost.",
		"Everything on this supply is dead the moment mains fails.", "R-30", BatteryAway,
	}
	whyZeroEarth = Reason{
		"0 V to earth", "The supply's 0 V is tied to earth, at this one point.",
		"Nothing at first; an earth fault is then not noticed.", "as stated in the job", ZeroLoose,
	}
	whyZeroGranted = Reason{
		"0 V to earth, not stated", "Nobody stated whether the supply's 0 V is tied to earth. Readings take for granted that it is, at this " +
			"one point; the proof tries it with and without.",
		"Nothing at first; an earth fault is then not noticed.", "not stated in the job: look on site, and state earthed or floating", ZeroLoose,
	}
	whyFireInput = Reason{
		"fire signal to the board", "The board lets its outputs go when this contact opens.",
		"The board takes it for a fire and lets go.", "R-07", InputWrong,
	}
	whyReset = Reason{
		"reset of the board", "An authorised person resets here what the fire signal has latched.",
		"The outputs stay off after a fire alarm.", "R-08", InputWrong,
	}
	whyScreen = Reason{
		"screen", "Tied to earth at one end only, so that no current flows in it.",
		"The screen catches noise and hands it on.", "UFC 4-021-02NF 9-6.13: bond the screen at the panel end only", ScreenLoose,
	}
)

// Why junction terminals are added. What happens without one is what happens without the conductors it joins.
const (
	whyThrough = "The way goes over this place, where one run meets the next."
	whyCrowded = "The screw would get more cores than it takes."
	whyOddSize = "The core does not suit the size the screw takes."
	whyFanOut  = "Several locks share one feed, and it divides here."
)
