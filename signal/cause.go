package signal

// Cause is one thing that makes a card number come out wrong.
type Cause struct {
	ID    string   `json:"id"`
	What  string   `json:"what"`  // the verdict, in one line
	Wire  string   `json:"wire"`  // what it means on the wire
	Check []string `json:"check"` // what to look at or do, in order
	prior float64  // how often it is the cause of a call about a number, against the others
}

// The causes by name. How often each is met is common practice, no source; it only orders causes that fit equally well.
const (
	causeSame      = "same"
	causeSwapped   = "swapped-lines"
	causeReversed  = "reversed-bits"
	causeBoth      = "swapped-and-reversed"
	causeOpenD0    = "open-d0"
	causeOpenD1    = "open-d1"
	causeLost      = "lost-bits"
	causeAdded     = "added-bits"
	causeShifted   = "shifted-bits"
	causeChanged   = "changed-bits"
	causeTwice     = "two-reads"
	causeFormat    = "wrong-format"
	causeSplit     = "other-split"
	causeFacility  = "facility"
	causeOther     = "another-card"
	causeByteOrder = "byte-order"
	causeBitOrder  = "bit-order-in-bytes"
	causeCut       = "cut-off"
	causeDisplay   = "display"
)

// D0 and D1 rest high and a pulse pulls one of them low; what that means at a meter (about 5 V against the common at
// rest) is common practice, no source.
const (
	deadPair  = "Mains, battery and network power off, plugs pulled, 0 V measured: "
	idleVolts = "Live: D0 and D1 each rest near 5 V against the reader's common; a line near 0 V is shorted, one " +
		"that floats is open."
	anotherTry = "Show the same card again, then a second card whose number is known: the explanation must fit both."
	askFormat  = "Ask whoever ordered the cards which format they have (bits, facility, first and last number)."
)

// Causes lists every cause that a wrong number is tried against.
func Causes() []Cause {
	return []Cause{
		{
			ID: causeSame, prior: 0.3,
			What: "The number is right.",
			Wire: "Nothing is wrong with this read on D0 and D1.",
			Check: []string{
				"If the door stays shut, look at the card's rights, times and doors in the system, not at the " +
					"wiring.",
			},
		},
		{
			ID: causeSwapped, prior: 0.3,
			What: "D0 and D1 are swapped.",
			Wire: "Every pulse comes on the other line, so each 0 is read as 1 and each 1 as 0.",
			Check: []string{
				"Swap the cores on D0 and D1 at one end only; go by the labels, not by the colours.",
				anotherTry,
			},
		},
		{
			ID: causeReversed, prior: 0.04,
			What: "The bits come in reverse order.",
			Wire: "Wires cannot turn a read round: it is a setting or a converter.",
			Check: []string{
				"Look for a setting of bit order in the reader, the converter and the controller.",
				anotherTry,
			},
		},
		{
			ID: causeBoth, prior: 0.01,
			What: "The bits come inverted and in reverse order.",
			Wire: "D0 and D1 are swapped, and on top of it a setting turns the read round. Parity cannot see the " +
				"two together.",
			Check: []string{
				"Swap D0 and D1 at one end.",
				"Look for a setting of bit order in the reader, the converter and the controller.",
				anotherTry,
			},
		},
		{
			ID: causeOpenD0, prior: 0.05,
			What: "D0 is dead: only the ones arrive.",
			Wire: "The zeros are sent on D0 and never reach the controller.",
			Check: []string{
				idleVolts,
				deadPair + "ring out D0 from end to end, and against the common for a short.",
			},
		},
		{
			ID: causeOpenD1, prior: 0.05,
			What: "D1 is dead: only the zeros arrive.",
			Wire: "The ones are sent on D1 and never reach the controller.",
			Check: []string{
				idleVolts,
				deadPair + "ring out D1 from end to end, and against the common for a short.",
			},
		},
		{
			ID: causeLost, prior: 0.1,
			What: "Pulses are lost.",
			Wire: "The reader sent them and the controller did not count them.",
			Check: []string{
				"Is the reader's common landed at the controller, also when the reader has a supply of its own?",
				"Length and size of the cable; reader voltage at the reader while it beeps.",
				idleVolts,
				anotherTry,
			},
		},
		{
			ID: causeAdded, prior: 0.06,
			What: "Pulses are counted that nobody sent.",
			Wire: "Noise or ringing on D0 or D1 passes for a pulse.",
			Check: []string{
				"Is the screen landed at one end, and only there? Is a suppressor fitted across the lock?",
				"D0 and D1 must not share one twisted pair; keep them away from the lock's cable.",
				anotherTry,
			},
		},
		{
			ID: causeShifted, prior: 0.04,
			What: "The read is shifted: bits are missing at one end and filled in at the other.",
			Wire: "The controller lost count at the start or the end of the read and filled up the rest.",
			Check: []string{
				"Pulse width and interval set in reader and controller; the controller's time for the end of a " +
					"read.",
				idleVolts,
				anotherTry,
			},
		},
		{
			ID: causeChanged, prior: 0.02,
			What: "Single bits are read wrong.",
			Wire: "A pulse was heard on the wrong line: D0 and D1 couple into each other, or one pulse was lost " +
				"and another one added.",
			Check: []string{
				"D0 and D1 must not share one twisted pair; pair each with the common.",
				"Length and capacitance of the cable.",
				anotherTry,
			},
		},
		{
			ID: causeTwice, prior: 0.06,
			What: "Two reads run together.",
			Wire: "The controller heard no pause between them: a card read twice, or two readers on one input.",
			Check: []string{
				"Is a second reader on the same D0 and D1, and can both see the card?",
				"The controller's time for the end of a read: well above the longest pulse interval of 20 ms " +
					"(SIA AC-01-1996.10).",
			},
		},
		{
			ID: causeFormat, prior: 0.1,
			What: "Reader and controller use different formats.",
			Wire: "The wiring is right; the bits are cut in the wrong places.",
			Check: []string{
				"Set the controller to the format of the card, or order cards of the controller's format.",
				askFormat,
			},
		},
		{
			ID: causeSplit, prior: 0.03,
			What: "The bits are right, but facility and card are split at another place.",
			Wire: "The wiring is right; only the format's fields differ.",
			Check: []string{
				"Set the controller's format: same bits, other boundary between facility and card.",
				askFormat,
			},
		},
		{
			ID: causeFacility, prior: 0.02,
			What: "The card number is right and the facility is not.",
			Wire: "The wiring is right.",
			Check: []string{
				"The card is of another batch or site, or reader or controller puts in a facility of its own.",
				askFormat,
			},
		},
		{
			ID: causeOther, prior: 0.2,
			What: "This is another card of the same kind.",
			Wire: "The wiring is right: facility and parity fit, only the card's number differs.",
			Check: []string{
				"Show the card again and compare its print: was it the card you meant?",
				"Show its neighbours: if all are off by the same step, print and content of the batch differ.",
			},
		},
		{
			ID: causeByteOrder, prior: 0.05,
			What: "The bytes are shown in reverse order.",
			Wire: "The wiring is right: one of the two counts the bytes from the other end.",
			Check: []string{
				"Set the byte order of reader or software, or enter the number the other way round.",
				anotherTry,
			},
		},
		{
			ID: causeBitOrder, prior: 0.01,
			What: "The bits of each byte are shown in reverse order.",
			Wire: "The wiring is right: reader or converter sends each byte the wrong way round.",
			Check: []string{
				"Look for a setting of bit order in the reader or the converter.",
				anotherTry,
			},
		},
		{
			ID: causeCut, prior: 0.05,
			What: "Only the last bits of a longer number arrive.",
			Wire: "The wiring is right: the format has no room for the whole number.",
			Check: []string{
				"Set reader and controller to a format long enough, or enter the cards as they are received.",
				"Cut numbers are not unique: two cards can come out alike.",
			},
		},
		{
			ID: causeDisplay, prior: 0.1,
			What: "It is the same number, written another way.",
			Wire: "Nothing is wrong with this read on D0 and D1.",
			Check: []string{
				"Compare both in one way of writing; enter the card as the controller shows it.",
			},
		},
	}
}

// causeOf is the cause with an id, which must be one of those above.
func causeOf(id string) Cause {
	for _, c := range Causes() {
		if c.ID == id {
			return c
		}
	}
	return Cause{ID: id}
}
