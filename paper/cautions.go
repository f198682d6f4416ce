package paper

import (
	"doorwright/job"
	"doorwright/meter"
	"doorwright/record"
	"doorwright/rules"
)

// Cautions of site work beyond those of the meter (common practice, no source).
const (
	cautionFireDoor = "Fire door: no hole, rebate or groove without the agreement of the holder of its test " +
		"evidence or label; " +
		"every hole is written down."
	cautionExit = "Keep one usable exit at all times. Never leave a door that cannot be opened from the escape side."
	cautionFire = "Before any test of the fire signal, tell whoever watches the fire alarm; confirm afterwards that " +
		"it is back."
	cautionWork = "Look for hidden cables, water and asbestos before drilling. Work from a firm stand; close off " +
		"the swing of the leaf."
)

// cautionsOf are the cautions of one door.
func cautionsOf(d *job.Door) []string {
	all := []string{rules.Caution, cautionExit}
	if d.FireRated {
		all = append(all, cautionFireDoor)
	}
	if record.FireSignal(d) {
		all = append(all, cautionFire)
	}
	return append(all, cautionWork, meter.CautionOhms, meter.CautionMains, meter.CautionRelease, meter.CautionPeople, meter.CautionBattery)
}
