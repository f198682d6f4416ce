package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Size is the size of a conductor as it is sold: a metric cross-section or an American wire gauge. The two are kept
// apart because their resistance comes from different standards. The zero Size is "not given".
type Size struct {
	MM2 float64 // nominal cross-section in mm2, for metric sizes; 0 for gauges
	AWG int     // gauge number, meaningful when MM2 is 0
	set bool
}

// MM2 is a metric size of a mm2; what is not above zero is no size.
func MM2(a float64) Size {
	if !(a > 0) {
		return Size{}
	}
	return Size{MM2: a, set: true}
}

// AWG is the gauge n, 0 to 40.
func AWG(n int) Size { return Size{AWG: n, set: true} }

// IsZero says that no size was given.
func (s Size) IsZero() bool { return !s.set }

// Metric says that the size is a nominal cross-section.
func (s Size) Metric() bool { return s.MM2 > 0 }

// Diameter is that of the solid wire, in millimetres: for gauges 0.127 x 92^((36-n)/39) (ASTM B258, from memory; all
// seventeen sizes 10 to 26 agree with the printed table of an open textbook).
func (s Size) Diameter() float64 {
	if s.Metric() {
		return math.Sqrt(4 * s.MM2 / math.Pi)
	}
	return 0.127 * math.Pow(92, float64(36-s.AWG)/39)
}

// Area is the cross-section in mm2: nominal for metric sizes, by the gauge formula otherwise.
func (s Size) Area() float64 {
	if s.Metric() {
		return s.MM2
	}
	d := s.Diameter()
	return math.Pi * d * d / 4
}

// UnmarshalText reads "0.5 mm2" or "24 AWG".
func (s *Size) UnmarshalText(b []byte) error {
	text := strings.Trim(string(b), blanks)
	bad := fmt.Errorf("%q is not a conductor size; write it like \"0.5 mm2\" or \"24 AWG\"", text)
	if n, ok := strings.CutSuffix(text, "AWG"); ok {
		g, err := strconv.Atoi(strings.Trim(n, blanks))
		if err != nil || g < 0 || g > 40 {
			return bad
		}
		*s = AWG(g)
		return nil
	}
	for _, suffix := range []string{"mm2", "mm²"} {
		n, ok := strings.CutSuffix(text, suffix)
		if !ok {
			continue
		}
		n = strings.Trim(n, blanks)
		a, err := strconv.ParseFloat(n, 64)
		if err != nil || strings.ContainsAny(n, "xXpP_") || !(a > 0) || a > 1000 {
			return bad
		}
		*s = MM2(a)
		return nil
	}
	return bad
}

// String writes the size as it is printed on a drum.
func (s Size) String() string {
	switch {
	case !s.set:
		return "-"
	case s.Metric():
		return strconv.FormatFloat(s.MM2, 'g', -1, 64) + " mm2"
	}
	return strconv.Itoa(s.AWG) + " AWG"
}

// MarshalText writes what UnmarshalText reads.
func (s Size) MarshalText() ([]byte, error) {
	if !s.set {
		return nil, nil
	}
	return []byte(s.String()), nil
}
