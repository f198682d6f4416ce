package signal

import "sync"

// ear is how somebody listens to the line: how many times faster than it is spoken, and with A and B crossed or not.
type ear struct {
	times, over int // speed of the listener against that of the line, as a fraction
	crossed     bool
}

// heard is what a listener takes for bytes when frame is sent without pauses on a line at rest: ten bits for each byte,
// one start bit (space), eight data bits with the least first, one stop bit (mark), as IEC 60839-11-5 has them. The
// listener looks for a change from mark to space, and then in the middle of every bit. With A and B crossed mark and
// space change places.
func (e ear) heard(frame []byte) []byte {
	end := 10 * len(frame) // bits sent; the line rests after them
	level := func(at int) bool {
		bit := at / e.times // time is counted in 1/times of a bit sent
		mark := true
		if at >= 0 && bit < end {
			switch k := bit % 10; k {
			case 0:
				mark = false
			case 9:
			default:
				mark = frame[bit/10]>>(k-1)&1 == 1
			}
		}
		return mark != e.crossed
	}
	length := e.over // of one bit as the listener counts, in the same time
	var out []byte
	for t := 0; t < end*e.times; t++ {
		if !level(t-1) || level(t) {
			continue
		}
		var b byte
		for k := range 8 {
			if level(t + length*(2*k+3)/2) {
				b |= 1 << k
			}
		}
		out = append(out, b)
		t += length*19/2 - 1 // the middle of the stop bit; from there on the next change counts
	}
	return out
}

// Mishearing is a way of listening that would make the capture what it is.
type Mishearing struct {
	Crossed     bool // A and B
	Times, Over int  // the listener's speed is Times/Over that of the line
	Found       int  // how many polls were recognised
}

// leastHeard is how many bytes a poll must leave to be recognised: fewer could be chance.
const leastHeard = 4

// Misheard tries whether the bytes are polls heard with A and B crossed or at a wrong speed, and gives the way of
// listening that explains most. Any poll will do: they are most of what is on a line, and short enough to list them
// all.
func (b *Bytes) Misheard() (Mishearing, bool) {
	var best Mishearing
	for _, h := range heardPolls() {
		if n := b.count(h.starts); n > best.Found {
			best = Mishearing{h.crossed, h.times, h.over, n}
		}
	}
	return best, best.Found >= 2
}

// heardBy is what one ear takes polls for, by the first bytes.
type heardBy struct {
	ear
	starts map[string][][]byte
}

// heardPolls is a table of constants, worked out when it is first needed.
var heardPolls = sync.OnceValue(func() []heardBy {
	var all []heardBy
	for _, e := range ears() {
		by := heardBy{e, map[string][][]byte{}}
		for _, p := range polls() {
			// The last bytes depend on when the next frame follows.
			if h := e.heard(p); len(h) >= leastHeard {
				h = h[:max(len(h)-2, leastHeard)]
				by.starts[string(h[:leastHeard])] = append(by.starts[string(h[:leastHeard])], h)
			}
		}
		all = append(all, by)
	}
	return all
})

// count tells how often one of the known patterns stands in the capture.
func (b *Bytes) count(known map[string][][]byte) int {
	n := 0
	for i := 0; i+leastHeard <= len(b.data); i++ {
		for _, h := range known[string(b.data[i:i+leastHeard])] {
			if i+len(h) <= len(b.data) && string(b.data[i:i+len(h)]) == string(h) {
				n++
				i += len(h) - 1
				break
			}
		}
	}
	return n
}

// ears lists the ways to mishear: crossed at the right speed, and at every other speed of the protocol, crossed or not.
func ears() []ear {
	all := []ear{{1, 1, true}}
	seen := map[[2]int]bool{}
	for _, line := range Speeds() {
		for _, listener := range Speeds() {
			a, c := int(listener)/1200, int(line)/1200
			g := divisor(a, c)
			if r := [2]int{a / g, c / g}; a != c && !seen[r] {
				seen[r] = true
				all = append(all, ear{r[0], r[1], false}, ear{r[0], r[1], true})
			}
		}
	}
	return all
}

func divisor(a, b int) int {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}

// polls lists every poll there is: all addresses, numbers and both kinds of check value.
func polls() [][]byte {
	var all [][]byte
	for address := range AnyUnit {
		for sequence := range 4 {
			for _, crc := range []bool{true, false} {
				m := Message{Address: address, Sequence: sequence, CRC: crc, Code: cmdPoll}
				b := m.body()
				b[2] = byte(len(b))
				all = append(all, seal(b, crc))
			}
		}
	}
	return all
}

// inverted is the bytes with every bit turned round.
func (b *Bytes) inverted() *Bytes {
	turned := *b
	turned.data = make([]byte, len(b.data))
	for i, x := range b.data {
		turned.data[i] = ^x
	}
	return &turned
}
