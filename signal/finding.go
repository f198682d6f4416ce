package signal

import (
	"fmt"
	"strings"
)

// Finding is what a capture means on the wire.
type Finding struct {
	ID    string   `json:"id"`
	Fault bool     `json:"fault"` // false for what is only worth knowing
	What  string   `json:"what"`  // the verdict, in one line
	Wire  string   `json:"wire"`
	Check []string `json:"check,omitempty"`
}

// The findings by name.
const (
	findUnreadable = "unreadable"
	findInverted   = "inverted"
	findCrossedTap = "crossed-at-the-tap"
	findSpeed      = "speed-of-the-tap"
	findSilence    = "no-replies"
	findNoAnswer   = "unit-silent"
	findOneSide    = "only-replies"
	findChecks     = "check-errors"
	findGarbage    = "unreadable-replies"
	findCollision  = "two-units"
	findDeaf       = "controller-deaf"
	findRepeats    = "reply-lost"
	findRestarts   = "restarts"
	findJumps      = "numbers-jump"
	findStray      = "stray-replies"
	findLate       = "late"
	findNak        = "refused"
	findTamper     = "tamper"
	findPower      = "power"
	findKnownKey   = "published-key"
	findOpen       = "open-channel"
	findNoise      = "noise"
	findComset     = "new-address"
	findSound      = "sound"
)

// What to look at for a pair that carries badly. Resistances of terminators: two of 120 ohm in parallel are 60 ohm
// (TIA-485-A: a terminator at each end of the line, of the cable's impedance).
const (
	checkPower   = "Is the unit on, and is its voltage right at its own terminals?"
	checkAddress = "Address and speed set in the unit and in the controller: equal? If the unit's are unknown, " +
		"connect it alone " +
		"and try every speed."
	checkCross = "A and B at that unit: swap the two once and watch for a reply."
	checkEnds  = "Mains, battery and network power off, plugs pulled, 0 V measured first: A to B then reads about " +
		"60 ohm with " +
		"a terminator at both ends, 120 with one, 40 with one too many."
	checkBias   = "Live and at rest: A to B well above 0.2 V, biased at one place only."
	checkCommon = "Is the common or screen landed from unit to unit, so that the units share a 0 V?"
)

// Explain says what a capture means on the wire, the worst first. There is always at least one finding.
func (b *Bytes) Explain(t Traffic) []Finding {
	right := 0
	for _, f := range t.Frames {
		if f.State == Right {
			right++
		}
	}
	if right == 0 {
		return b.unreadable(t)
	}
	units := t.Units()
	var all []Finding
	add := func(f Finding, ok bool) {
		if ok {
			all = append(all, f)
		}
	}
	add(silence(units))
	add(oneSide(units))
	for _, u := range units {
		add(collision(u))
		add(noAnswer(u, units))
		add(garbled(u))
	}
	add(checks(t, units))
	for _, u := range units {
		add(deaf(u))
		add(repeats(u))
		add(late(u))
		add(restarts(u))
		add(jumps(u))
		add(strays(u, all))
		all = append(all, u.refusals()...)
		all = append(all, u.reports()...)
	}
	add(noise(t))
	all = append(all, secrecy(units)...)
	return faultsFirst(all, t, units)
}

// faultsFirst puts faults before the rest, and says so when there is none.
func faultsFirst(all []Finding, t Traffic, units []Unit) []Finding {
	var faults, rest []Finding
	for _, f := range all {
		if f.Fault {
			faults = append(faults, f)
		} else {
			rest = append(rest, f)
		}
	}
	if len(faults) == 0 {
		rest = append([]Finding{sound(t, units)}, rest...)
	}
	return append(faults, rest...)
}

// sound is for a capture without fault; of a few frames it only says that these are right.
func sound(t Traffic, units []Unit) Finding {
	commands, answered, damaged := 0, 0, 0
	for _, u := range units {
		commands += u.Commands
		answered += u.Answered
		damaged += u.Damaged
	}
	f := Finding{
		ID: findSound, What: "The traffic is sound.",
		Wire: fmt.Sprintf("Of %d frames %d are damaged; of %d commands %d were answered.", len(t.Frames), damaged,
			commands, answered),
	}
	if answered < fewest {
		f.What = "Nothing is wrong in these few frames."
		f.Wire += " Too few for a verdict on the line: capture for some seconds."
	}
	return f
}

// unreadable is for a capture without one right frame.
func (b *Bytes) unreadable(t Traffic) []Finding {
	for _, f := range b.inverted().Split().Frames {
		if f.State == Right {
			return []Finding{{
				findInverted, true, "Every bit of the capture is inverted.",
				"The frames are right once all bits are turned round: the tap inverts. A pair with A and B swapped looks " +
					"different.",
				[]string{"Look for an inverting adapter or a setting of polarity at the tap."},
			}}
		}
	}
	if m, ok := b.Misheard(); ok {
		return []Finding{m.finding()}
	}
	if damaged := len(t.Frames); damaged >= 2 && !t.mostlyNoise() {
		return []Finding{{
			findChecks, true, "Not one frame has a right check value.", "The bytes look like frames, and every one of " +
				"them is damaged.",
			[]string{checkEnds, checkBias, checkCommon, "Is the capture complete? Some programs leave out bytes such as " +
				"0D, 0A or 00."},
		}}
	}
	if len(t.Frames) == 1 && !t.mostlyNoise() {
		return []Finding{t.Frames[0].alone()}
	}
	return []Finding{{
		findUnreadable, true, fmt.Sprintf("No frame of the protocol is in these %d bytes.", b.Len()),
		"Wrong speed, A and B swapped, another protocol, or nothing but noise.",
		[]string{
			"Capture again at 9600, 19200, 38400, 57600, 115200 and 230400 baud, 8 data bits, no parity, 1 stop bit.",
			"Swap A and B at the tap and capture again.", checkBias,
		},
	}}
}

// alone is for a capture of one frame that is not right: too little to tell the line by.
func (f *Frame) alone() Finding {
	x := Finding{
		findChecks, true, "One frame, damaged: its check value is wrong.",
		"Bytes were altered or lost on the way, or the check value was copied wrongly. One frame is too little for a verdict on the line.",
		[]string{"Capture for some seconds, and look whether other frames are damaged, too."},
	}
	if f.State == Cut {
		x.What = "One frame, cut short."
		x.Wire = fmt.Sprintf("Of its %d bytes %d are there. One frame is too little for a verdict on the line.", f.Length, len(f.Raw))
	}
	return x
}

func (t *Traffic) mostlyNoise() bool {
	n := 0
	for _, x := range t.Noise {
		n += len(x.Raw)
	}
	return 2*n > t.Bytes
}

// finding words a way of mishearing.
func (m Mishearing) finding() Finding {
	speed := ""
	switch {
	case m.Times > m.Over:
		speed = fmt.Sprintf("the line is %s times slower than the tap", ratio(m.Times, m.Over))
	case m.Times < m.Over:
		speed = fmt.Sprintf("the line is %s times faster than the tap", ratio(m.Over, m.Times))
	}
	seen := fmt.Sprintf("%d polls of a controller are recognised in it that way.", m.Found)
	switch {
	case !m.Crossed:
		return Finding{findSpeed, true, "The capture was made at a wrong speed: " + speed + ".", seen, []string{
			"Set the tap to the controller's speed and capture again.",
			"If a unit, not a tap, listens at this speed, it is deaf for the same reason.",
		}}
	case speed == "":
		return Finding{findCrossedTap, true, "A and B are swapped where this was captured.", seen, []string{
			"Swap A and B at the tap and capture again.",
			"If the tap is at a unit's terminals with the unit's own labels, the unit itself is probably swapped.",
		}}
	}
	return Finding{findCrossedTap, true, "A and B are swapped where this was captured, and " + speed + ".", seen, []string{
		"Swap A and B at the tap, set its speed, and capture again.",
	}}
}

func ratio(a, b int) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", float64(a)/float64(b)), ".0")
}

// fewest is how many commands or replies a verdict on the other side takes.
const fewest = 3

// silence is for a line on which only the controller speaks.
func silence(units []Unit) (Finding, bool) {
	commands, garbage := 0, 0
	for _, u := range units {
		if u.Replies > 0 || u.Damaged > 0 {
			return Finding{}, false
		}
		commands += u.Commands
		garbage += u.Garbage
	}
	if garbage > 0 {
		return Finding{}, false
	}
	return Finding{
		findSilence, true, fmt.Sprintf("Only the controller speaks; nothing answers (%s).", plural(commands,
			"one command", "commands")),
		"The controller's side of the line works. A unit that is off, has A and B swapped, another address or another " +
			"speed stays silent; " +
			"the capture looks the same for all four.",
		[]string{checkPower, checkCross, checkAddress, "Is the pair open between here and the unit? Tap at the unit's " +
			"terminals."},
	}, commands >= fewest
}

// oneSide is for a tap that hears replies only.
func oneSide(units []Unit) (Finding, bool) {
	replies := 0
	for _, u := range units {
		if u.Commands > 0 {
			return Finding{}, false
		}
		replies += u.Replies
	}
	return Finding{
		findOneSide, true, "Only replies are heard, no command of a controller.",
		"On two wires a tap hears both sides; this one hears one, or the capture left the other out.",
		[]string{
			"Does the line have two wires or four? Tap the pair the controller sends on as well.",
			"Does the program filter by direction?",
		},
	}, replies >= fewest
}

// collision is for two units on one address.
func collision(u Unit) (Finding, bool) {
	var signs []string
	if len(u.IDs) > 1 {
		signs = append(signs, fmt.Sprintf("%d different identity reports came from it", len(u.IDs)))
	}
	if u.Strays > 0 && u.Commands > 0 {
		signs = append(signs, plural(u.Strays, "one reply came",
			"replies came")+" on top of another or with another number than the command")
	}
	bad := u.Damaged + u.Garbage
	if len(signs) == 0 || len(u.IDs) < 2 && u.Strays < 2 && bad == 0 {
		return Finding{}, false
	}
	if bad > 0 {
		signs = append(signs, plural(bad, "one answer was", "answers were")+" damaged, as by two that speak at once")
	}
	return Finding{
		findCollision, true, fmt.Sprintf("Two units answer at address %d.", u.Address), sentence(signs),
		[]string{
			"Unplug one unit after another: the trouble goes with one of two.",
			"Set a new address in one of them, connected alone, before both go back on the line.",
			"An echo of the tap, or a second controller, can look alike.",
		},
	}, true
}

// noAnswer is for an address without any reply on a line where others answer.
func noAnswer(u Unit, units []Unit) (Finding, bool) {
	others := 0
	for _, o := range units {
		if o.Address != u.Address {
			others += o.Replies
		}
	}
	if u.Commands == 0 || u.Replies > 0 || u.Damaged+u.Garbage > 0 || others == 0 || u.Address == AnyUnit {
		return Finding{}, false
	}
	return Finding{
		findNoAnswer, true, fmt.Sprintf("Address %d never answers (%s); others do.", u.Address, plural(u.Commands,
			"one command", "commands")),
		"Others answer, so the line carries. That unit is off, swapped, on another address or speed, or its branch is open.",
		[]string{checkPower, checkAddress, checkCross},
	}, true
}

// garbled is for a unit whose answers come, but not as frames.
func garbled(u Unit) (Finding, bool) {
	if u.Replies > 0 || u.Garbage == 0 {
		return Finding{}, false
	}
	return Finding{
		findGarbage, true, fmt.Sprintf("Something answers at address %d, but not readably.", u.Address),
		fmt.Sprintf("After %s came bytes that are no frame: two units that answer at once, a wrong speed, or noise.",
			plural(u.Garbage, "one command", "commands")),
		[]string{"Unplug all units but one.", checkAddress, checkCross, checkEnds},
	}, true
}

// checks is for frames that arrive damaged.
func checks(t Traffic, units []Unit) (Finding, bool) {
	damaged, cut, replies := 0, 0, 0
	var where []string
	for _, f := range t.Frames {
		switch {
		case f.State == Damaged:
			damaged++
		case f.State == Cut:
			cut++
		}
		if f.State != Right && f.Reply {
			replies++
		}
	}
	for _, u := range units {
		if u.Damaged > 0 {
			where = append(where, fmt.Sprintf("address %d (%s)", u.Address, plural(u.Damaged, "one frame", "frames")))
		}
	}
	if damaged+cut == 0 {
		return Finding{}, false
	}
	wire := "Hit: " + strings.Join(where[:min(len(where), 8)], ", ") + ". "
	switch {
	case replies == 0:
		wire += "Only commands are hit: the controller's end, or the tap."
	case len(where) == 1 && len(units) > 1:
		wire += "Only one unit is hit: its branch, its distance, its driver, or a second unit at its address."
	case replies == damaged+cut:
		wire += "Only replies are hit: weak at this end, from termination, bias or distance."
	default:
		wire += "Both directions are hit: the line itself."
	}
	last := len(t.Frames) - 1
	edge := damaged == 0 && cut == 1 && (t.Frames[0].State == Cut || t.Frames[last].State == Cut)
	if edge {
		wire = "It stands at the start or the end of the capture, where that means nothing."
	}
	return Finding{
		findChecks, !edge, fmt.Sprintf("%d of %d frames arrive damaged (%s).", damaged+cut, len(t.Frames),
			kinds(damaged, cut)), wire,
		[]string{checkEnds, checkBias, checkCommon, "Is the pair run beside the lock's or mains cable? Try the next " +
			"lower speed."},
	}, true
}

// kinds says how frames are damaged.
func kinds(damaged, cut int) string {
	var all []string
	if damaged > 0 {
		all = append(all, fmt.Sprintf("%d with a wrong check value", damaged))
	}
	if cut > 0 {
		all = append(all, fmt.Sprintf("%d cut short", cut))
	}
	return strings.Join(all, ", ")
}

// sentence joins signs to one sentence.
func sentence(signs []string) string {
	s := strings.Join(signs, "; ")
	return strings.ToUpper(s[:1]) + s[1:] + "."
}
