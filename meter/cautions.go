package meter

// The cautions. They accompany every list of readings.
const (
	CautionOhms = "Ohms only on a pair that is dead: mains, battery, any second supply and network power off, and 0 V read on " +
		"that pair first. Plugs come off where the line says so; insulation only with every unit unplugged."
	CautionMains   = "Never at mains terminals: they are work for a licensed electrician."
	CautionRelease = "Never bridge a release or a fire contact, not for a moment and not for a test."
	CautionPeople  = "Before taking power away or giving it, see that nobody is shut in and somebody watches the door."
	CautionBattery = "A battery feeds a short with hundreds of amperes: insulated tools, no rings, one lead at a time."
	CautionLabel   = "Calculated from the plan, not measured. Local codes and licensed practice go before this list."
)

// Cautions lists the cautions in the order to print them.
func Cautions() []string {
	return []string{CautionOhms, CautionMains, CautionRelease, CautionPeople, CautionBattery, CautionLabel}
}
