package signal

import (
	"fmt"
	"strconv"
	"strings"
)

// Positions are bits of a read by their place, counted from 1 in the order sent. In a field the first weighs most.
type Positions []int

// UnmarshalText reads single positions and ranges: "2-9", "2, 5, 7", "9-2" for a field sent with its least bit first.
func (p *Positions) UnmarshalText(text []byte) error {
	var all Positions
	for part := range strings.SplitSeq(string(text), ",") {
		from, to, isRange := strings.Cut(part, "-")
		if !isRange {
			to = from
		}
		a, errA := position(from)
		b, errB := position(to)
		if errA != nil || errB != nil {
			return fmt.Errorf("%q is not a list of bits; write it like \"2-9\" or \"2, 5, 7-9\", counted from 1, at most %d",
				text, MostBits)
		}
		step := 1
		if b < a {
			step = -1
		}
		for i := a; i != b+step; i += step {
			all = append(all, i)
		}
		if len(all) > MostBits {
			return fmt.Errorf("%q names more than %d bits", text, MostBits)
		}
	}
	*p = all
	return nil
}

func position(text string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err == nil && (n < 1 || n > MostBits) {
		err = strconv.ErrRange
	}
	return n, err
}

// String writes what UnmarshalText reads.
func (p Positions) String() string {
	var parts []string
	for i := 0; i < len(p); {
		j := run(p, i)
		if j == i {
			parts = append(parts, strconv.Itoa(p[i]))
		} else {
			parts = append(parts, fmt.Sprintf("%d-%d", p[i], p[j]))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// run is where the run of neighbours, rising or falling, that starts at i ends.
func run(p Positions, i int) int {
	j := i
	for j+1 < len(p) && (p[j+1]-p[j] == 1 || p[j+1]-p[j] == -1) && (j == i || p[j+1]-p[j] == p[j]-p[j-1]) {
		j++
	}
	return j
}

// MarshalText writes what UnmarshalText reads.
func (p Positions) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// SchemaText is the form of the text, and an example.
func (Positions) SchemaText() (pattern, example string) {
	return `^\s*[0-9]+\s*(-\s*[0-9]+\s*)?(,\s*[0-9]+\s*(-\s*[0-9]+\s*)?)*$`, "2-9"
}
