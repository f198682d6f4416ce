package signal

import (
	"fmt"

	"doorwright/document"
)

// Format is how a card number is laid into the bits of a read.
type Format struct {
	ID     string                  `yaml:"-"`
	Title  string                  `yaml:"title" need:"say what people call it" doc:"what people call it"`
	Bits   int                     `yaml:"bits" need:"say how many bits a read has" doc:"bits of a read, at most 256"`
	Fields document.Map[Positions] `yaml:"fields" need:"name the numbers in it, as \"card: 10-25\"" doc:"the numbers, each with its bits"`
	Parity []Parity                `yaml:"parity,omitempty" doc:"parity bits, each with the bits it covers"`
}

// Parity is one parity bit: together with the bits it covers it makes the count of ones even or odd.
type Parity struct {
	Bit   int       `yaml:"bit" need:"say which bit holds the parity" doc:"position of the parity bit, from 1"`
	Sense string    `yaml:"sense" need:"say even or odd" one:"even|odd" doc:"what the count of ones is, the parity bit included"`
	Over  Positions `yaml:"over" need:"say which bits it covers" doc:"the bits covered, without the parity bit"`
}

// mostField is the widest field, in bits: what a number of this program holds.
const mostField = 64

// Check gives what is wrong with a format read from a document, by the path of the value.
func (f *Format) Check(source *document.Source, path string) document.Problems {
	c := formatCheck{source: source, path: path, f: f, owner: map[int]string{}}
	if f.Bits < 1 || f.Bits > MostBits {
		c.add("bits", fmt.Sprint(f.Bits), fmt.Sprintf("a read has 1 to %d bits", MostBits))
		return c.problems
	}
	if len(f.Fields) == 0 {
		c.add("fields", "", "is empty; name at least one field, as \"card: 10-25\"")
	}
	for _, e := range f.Fields {
		c.field(e.Key, e.Value)
	}
	for i, p := range f.Parity {
		c.own(document.Path("parity", i, "bit"), p.Bit, "another parity check")
	}
	for i, p := range f.Parity {
		c.parity(i, p)
	}
	var free Positions
	for i := range f.Bits {
		if c.owner[i+1] == "" {
			free = append(free, i+1)
		}
	}
	if len(free) > 0 {
		c.add("fields", "bits "+free.String()+" in no field and no parity check", "give them to a field, such as \"spare\"")
	}
	return c.problems
}

// formatCheck gathers the problems of one format.
type formatCheck struct {
	source   *document.Source
	path     string
	f        *Format
	owner    map[int]string // what a bit belongs to
	problems document.Problems
}

func (c *formatCheck) add(part, found, want string) {
	c.problems = append(c.problems, c.source.Problem(c.path+"."+part, found, want))
}

// own gives a bit to a field or a parity check, which must be in the read and the only one.
func (c *formatCheck) own(part string, bit int, by string) {
	switch {
	case !c.inside(part, bit):
	case c.owner[bit] != "":
		c.add(part, fmt.Sprintf("bit %d", bit), "was given to "+c.owner[bit]+" before; a bit has one meaning")
	default:
		c.owner[bit] = by
	}
}

func (c *formatCheck) inside(part string, bit int) bool {
	ok := bit >= 1 && bit <= c.f.Bits
	if !ok {
		c.add(part, fmt.Sprintf("bit %d", bit), fmt.Sprintf("the read has bits 1 to %d", c.f.Bits))
	}
	return ok
}

func (c *formatCheck) field(name string, bits Positions) {
	part := document.Path("fields", name)
	if len(bits) > mostField {
		c.add(part, fmt.Sprintf("%d bits", len(bits)), fmt.Sprintf("a field has at most %d; split it", mostField))
	}
	for _, b := range bits {
		c.own(part, b, "the field "+name)
	}
}

// parity checks what a parity check covers: itself never, and of other parity bits only those that stand before it, so
// that they can be worked out one after another.
func (c *formatCheck) parity(i int, p Parity) {
	part := document.Path("parity", i, "over")
	seen := map[int]bool{}
	for _, b := range p.Over {
		if !c.inside(part, b) {
			continue
		}
		if seen[b] {
			c.add(part, fmt.Sprintf("bit %d twice", b), "name each bit once")
		}
		seen[b] = true
		if b == p.Bit {
			c.add(part, fmt.Sprintf("bit %d", b), "is the parity bit itself; name only the bits it covers")
			continue
		}
		for _, later := range c.f.Parity[i+1:] {
			if later.Bit == b {
				c.add(part, fmt.Sprintf("bit %d", b), "is worked out by a check further down; put that check first")
			}
		}
	}
}

// dataBits are the positions of all fields, in the order of the fields.
func (f *Format) dataBits() Positions {
	var all Positions
	for _, e := range f.Fields {
		all = append(all, e.Value...)
	}
	return all
}

// Encode lays values, one for each field in order, into a read and works out the parity. It errs on a wrong number of
// values and on a value too large, all at once.
func (f *Format) Encode(values []uint64) (Bits, error) {
	if len(values) != len(f.Fields) {
		return "", fmt.Errorf("format %s has %s, found %d values", f.ID, f.fieldNames(), len(values))
	}
	var wrong document.Problems
	b := []byte(zeros(f.Bits))
	for i, e := range f.Fields {
		if n := len(e.Value); n < mostField && values[i]>>n != 0 {
			wrong = append(wrong, document.Problem{
				Where: e.Key, Found: fmt.Sprint(values[i]),
				Want: fmt.Sprintf("is too large for its %d bits in format %s; the most is %d", n, f.ID, uint64(1)<<n-1),
			})
			continue
		}
		for j, at := range e.Value {
			b[at-1] = '0' + byte(values[i]>>(len(e.Value)-1-j)&1)
		}
	}
	if len(wrong) > 0 {
		return "", wrong
	}
	for _, p := range f.Parity {
		if !p.holds(Bits(b)) {
			b[p.Bit-1] = '1'
		}
	}
	return Bits(b), nil
}

// holds says whether the count of ones is as the check wants it.
func (p Parity) holds(b Bits) bool { return p.ones(b)%2 == p.want() }

// ones counts the ones of the covered bits and the parity bit.
func (p Parity) ones(b Bits) int {
	n := int(b.at(p.Bit) - '0')
	for _, at := range p.Over {
		n += int(b.at(at) - '0')
	}
	return n
}

func (p Parity) want() int {
	if p.Sense == "odd" {
		return 1
	}
	return 0
}
