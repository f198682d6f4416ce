package meter

import (
	"errors"
	"fmt"
	"strings"

	"doorwright/unit"
)

// parted takes a line with semicolons apart.
func parted(text string, n int, example string) ([]string, error) {
	parts := strings.Split(text, ";")
	if len(parts) != n {
		has := fmt.Sprintf("%d parts between semicolons", len(parts))
		if len(parts) == 1 {
			has = "no semicolon"
		}
		return nil, fmt.Errorf("%q has %s; write it like %q", text, has, example)
	}
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts, nil
}

// ParseReading reads "C1 NC1; C1 0V; idle; volts 0.02 V". All that is wrong in it comes back at once, joined, with what is
// understood of it.
func ParseReading(text string) (Reading, error) {
	parts, err := parted(text, 4, "C1 NC1; C1 0V; idle; volts 0.02 V")
	if err != nil {
		return Reading{}, err
	}
	d := ReadingDoc{At: parts[0], To: parts[1]}
	in, unclear := ParseCondition(parts[2])
	d.In = in
	word, figure, _ := strings.Cut(parts[3], " ")
	return d.understood(unclear, d.figure(Quantity(word), strings.TrimSpace(figure)))
}

// understood is what is understood of the reading, with what was wrong before and what is wrong now.
func (d *ReadingDoc) understood(wrong ...error) (Reading, error) {
	r, wants := d.reading()
	for _, want := range wants {
		wrong = append(wrong, errors.New(want))
	}
	return r, errors.Join(wrong...)
}

// figure enters what was shown.
func (d *ReadingDoc) figure(q Quantity, text string) error {
	switch q {
	case Volts:
		d.Volts = new(unit.Volt)
		return d.Volts.UnmarshalText([]byte(text))
	case Ohms:
		d.Ohms = &Over[unit.Ohm]{}
		return d.Ohms.UnmarshalText([]byte(text))
	case Diode:
		d.Diode = &Over[unit.Volt]{}
		return d.Diode.UnmarshalText([]byte(text))
	}
	return fmt.Errorf("%q is nothing a meter is set to; write volts, ohms or diode, and then what it showed", q)
}

// ParseShown reads what a meter showed at a pair, with or without its unit: "26.4", "26.4 V", "open".
func ParseShown(p Pair, text string) (Reading, error) {
	text = strings.TrimSpace(text)
	if text == "open" || text == "OL" {
		if p.Quantity == Volts {
			return Reading{}, fmt.Errorf("%q is no voltage; write it like %q", text, "12.3 V")
		}
		return p.ShowsOpen(), nil
	}
	if !strings.ContainsFunc(text, func(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' }) {
		text += map[Quantity]string{Volts: " V", Diode: " V", Ohms: " ohm"}[p.Quantity]
	}
	d := ReadingDoc{At: p.At, To: p.To, In: p.In}
	return d.understood(d.figure(p.Quantity, text))
}

// ParseSeen reads "lock holds; idle; no". All that is wrong in it comes back at once, joined, with the condition if that is
// understood.
func ParseSeen(text string) (Observation, error) {
	parts, err := parted(text, 3, "lock holds; idle; no")
	if err != nil {
		return Observation{}, err
	}
	in, unclear := ParseCondition(parts[1])
	o, err := ParseObservation(parts[0], parts[2], in)
	return o, errors.Join(unclear, err)
}

// ParseLoop reads "W7; 1.2 ohm".
func ParseLoop(text string) (Loop, error) {
	parts, err := parted(text, 2, "W7; 1.2 ohm")
	if err != nil {
		return Loop{}, err
	}
	l := Loop{Run: parts[0]}
	if err := l.Ohms.UnmarshalText([]byte(parts[1])); err != nil {
		return l, err
	}
	if !(l.Ohms > 0) {
		return l, fmt.Errorf("%q is no loop; it is above 0 ohm", text)
	}
	return l, nil
}
