package cable

import (
	"math"

	"doorwright/unit"
)

// Limit is how long a data line may be, and who says so.
type Limit struct {
	Length unit.Metre `json:"length"`
	Source string     `json:"source"`
}

// RS485Limit is the length of a balanced TIA-485 line at speed b: 1200 m up to 100 kbaud, then falling as 1/b. The
// standard fixes no length. The line joins the end points printed in comparison tables of the TIA standards (100 kbit/s
// at 1200 m, 10 Mbit/s at 12 m); that it is straight between them is common practice. A speed that is not positive
// gives a length of zero.
func RS485Limit(b unit.Baud) Limit {
	l := Limit{Source: "TIA-485-A guideline: 1200 m to 100 kbit/s, then in inverse proportion (common practice)"}
	if b > 0 {
		l.Length = unit.Metre(min(1200, 1.2e8/float64(b)))
	}
	return l
}

// usualCapacitance is that of average unscreened cable, 50 pF/ft, the basis of the "15 m" of old serial practice: used
// when a type does not state its own.
const usualCapacitance FaradPerMetre = 50e-12 / 0.3048

// RS232Limit is the length of an unbalanced TIA-232 line in a cable of capacitance c: 2500 pF in all (TIA-232-F), the
// receiver not counted. A c that is not positive counts as 164 pF/m (50 pF/ft), which gives 15 m.
func RS232Limit(c FaradPerMetre) Limit {
	if !(c > 0) || math.IsInf(float64(c), 1) {
		c = usualCapacitance
	}
	return Limit{unit.Metre(2500e-12 / float64(c)), "TIA-232-F: 2500 pF on the line"}
}

// PulseLimit is the length of a two-wire pulse data line (data 0 and data 1 against common) from a reader.
func PulseLimit() Limit {
	return Limit{150, "SIA AC-01-1996.10 as quoted (150 m / 500 ft, second-hand)"}
}

// EthernetLimit is the length of a balanced four-pair channel: 90 m of fixed cable and 10 m of cords.
func EthernetLimit() Limit { return Limit{100, "TIA-568: 90 m of fixed cable and 10 m of cords"} }
