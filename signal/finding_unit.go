package signal

import "fmt"

// deaf is for a controller that asks again although a right reply is in the capture.
func deaf(u Unit) (Finding, bool) {
	return Finding{
		findDeaf, true, fmt.Sprintf("The controller does not hear address %d.", u.Address),
		fmt.Sprintf("%s sent again with the same number although a right reply was on the line here.", plural(u.Deaf,
			"One command was", "commands were")),
		[]string{
			"Tap at the controller's own terminals: is the reply still right there?",
			"If it is: the controller's receiver, or its time for a reply is too short.", checkEnds, checkCommon,
		},
	}, u.Deaf > 0
}

// repeats is for replies that never came.
func repeats(u Unit) (Finding, bool) {
	n := max(u.Repeats-u.Deaf, u.Missing)
	return Finding{
		findRepeats, true, fmt.Sprintf("Replies of address %d get lost (%d of %s).", u.Address, n, plural(u.Commands,
			"one command", "commands")),
		"No reply is on the line, or a damaged one, and the controller asks again.",
		[]string{"Does it happen when the lock or a motor switches? Suppressor and supply.", checkPower, checkEnds},
	}, n > 0 && u.Replies > 0
}

// late is for replies slower than allowed.
func late(u Unit) (Finding, bool) {
	return Finding{
		findLate, true, fmt.Sprintf("Address %d answers too late.", u.Address),
		fmt.Sprintf("The slowest reply took %v from command to reply in this capture; %v are allowed (IEC "+
			"60839-11-5).", u.Slowest, replyTime),
		[]string{
			"Converters and networks between controller and unit add delay: take them out.",
			"Raise the controller's time for a reply, if it has one.",
		},
	}, u.Late > 0
}

// restarts is for a conversation begun anew.
func restarts(u Unit) (Finding, bool) {
	return Finding{
		findRestarts, u.Restarts > 1, fmt.Sprintf("The controller lost address %d and began anew (%s).", u.Address,
			plural(u.Restarts, "once", "times")),
		"The sequence number went back to 0: the unit or the controller restarted, or replies failed for seconds.",
		[]string{
			"Supply of the unit while the lock switches and the reader beeps.",
			"Loose cores at the unit: move them and watch.",
		},
	}, u.Restarts > 0
}

// jumps is for numbers that do not follow each other.
func jumps(u Unit) (Finding, bool) {
	return Finding{
		findJumps, u.Jumps > 1, fmt.Sprintf("Sequence numbers to address %d jump (%s).", u.Address, plural(u.Jumps,
			"once", "times")),
		"Commands are missing in the capture, or two controllers speak to the unit.",
		[]string{"Is a second controller, or a tool for setting up, still on the line?", "Does the tap lose bytes?"},
	}, u.Jumps > 0
}

// strays is for replies that belong to no command, where nothing else speaks for a second unit.
func strays(u Unit, others []Finding) (Finding, bool) {
	for _, f := range others {
		if f.ID == findCollision || f.ID == findOneSide {
			return Finding{}, false
		}
	}
	return Finding{
		findStray, false, fmt.Sprintf("Address %d sent what nobody asked for (%s).", u.Address, plural(u.Strays,
			"one reply", "replies")),
		"It came without a command, or with another number than the command: the capture lacks something, or it was " +
			"put together.",
		[]string{"Capture again; if it stays, look for a second unit on that address."},
	}, u.Strays > 0
}

// refusals tells every reason a unit gave for refusing.
func (u Unit) refusals() []Finding {
	var all []Finding
	reasons := nakReasons()
	for _, n := range u.Refused {
		what, check := fmt.Sprintf("reason %d", n), reasons[0].check
		if n < len(reasons) {
			what, check = reasons[n].what, reasons[n].check
		}
		all = append(all, Finding{
			findNak, true, fmt.Sprintf("Address %d refuses: %s.", u.Address,
				what), "The unit hears the controller and answers NAK.", []string{check},
		})
	}
	return all
}

// reports tells what a unit says of itself.
func (u Unit) reports() []Finding {
	var all []Finding
	if u.Tamper {
		all = append(all, Finding{
			findTamper, true, fmt.Sprintf("Address %d reports tamper.", u.Address), "Its cover or its wall contact is open.",
			[]string{"Close the cover; is the unit tight on the wall?"},
		})
	}
	if u.Failing {
		all = append(all, Finding{
			findPower, true, fmt.Sprintf("Address %d reports failing power.", u.Address), "Its supply is outside what it wants.",
			[]string{"Measure at the unit's own terminals while it beeps."},
		})
	}
	if u.Busy > 0 {
		all = append(all, Finding{
			ID: "busy", What: fmt.Sprintf("Address %d was busy (%s).", u.Address, plural(u.Busy, "once", "times")),
			Wire: "Allowed; the controller asks again.",
		})
	}
	if u.Comset {
		all = append(all, Finding{
			ID: findComset, What: fmt.Sprintf("Address %d was given a new address and speed.", u.Address),
			Wire: "From then on it answers there only.", Check: []string{"Write the new address on the unit and set it in " +
				"the controller."},
		})
	}
	return all
}

// noise is for bytes between the frames.
func noise(t Traffic) (Finding, bool) {
	n, alike := 0, 0
	for _, x := range t.Noise {
		for _, b := range x.Raw {
			n++
			if b == 0 || b == mark {
				alike++
			}
		}
	}
	wire := "They may be damaged frames, collisions, or the start of the capture."
	if 2*alike >= n {
		wire = "Most are 00 or FF: the line floats between frames, which receivers take for bytes."
	}
	return Finding{
		findNoise, false, fmt.Sprintf("%s between the frames belong to none.", plural(n, "One byte", "bytes")), wire,
		[]string{checkBias, checkEnds},
	}, n > 0
}

// secrecy tells whether the secure channel is in use.
func secrecy(units []Unit) []Finding {
	var all []Finding
	open := true
	answered := 0
	for _, u := range units {
		open = open && !u.Secure
		answered += u.Answered
		if u.KnownKey {
			all = append(all, Finding{
				findKnownKey, true, fmt.Sprintf("Address %d uses the published key.", u.Address),
				"Everybody has that key: who taps the line can read cards and speak as the controller.",
				[]string{"Give the unit a key of its own in the controller, then take it out of its mode for installing."},
			})
		}
	}
	if open && answered >= fewest {
		all = append(all, Finding{
			ID: findOpen, What: "The secure channel is not used.", Wire: "Cards and keys travel readably; who taps the " +
				"line has them.",
			Check: []string{"Switch it on in the controller once everything works, with a key of its own."},
		})
	}
	return all
}
