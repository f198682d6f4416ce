package signal

import (
	"bytes"
	"fmt"
	"slices"

	"doorwright/unit"
)

// Unit is what one address did in a capture.
type Unit struct {
	Address  int `json:"address"`
	Commands int `json:"commands"` // sent to it
	Answered int `json:"answered"`
	Replies  int `json:"replies"`  // right ones from it, asked for or not
	Damaged  int `json:"damaged"`  // frames with its address that are not right
	Garbage  int `json:"garbage"`  // commands after which came bytes that are no frame
	Missing  int `json:"missing"`  // commands after which came nothing at all before the next one
	Repeats  int `json:"repeats"`  // commands sent again with the same number
	Deaf     int `json:"deaf"`     // repeats although a right reply had come
	Restarts int `json:"restarts"` // returns to number 0
	Jumps    int `json:"jumps"`    // numbers out of order
	Strays   int `json:"strays"`   // replies nobody asked for, or with another number than the command
	Late     int `json:"late"`     // replies later than allowed

	Slowest  unit.Second `json:"slowest_s"`         // of the replies whose times are known
	IDs      []string    `json:"ids,omitempty"`     // different identity reports seen, in hexadecimal
	Refused  []int       `json:"refused,omitempty"` // reasons of NAK
	Cards    int         `json:"cards"`             // card reads sent in the open
	Busy     int         `json:"busy"`
	Tamper   bool        `json:"tamper"`
	Failing  bool        `json:"power_failing"`
	Secure   bool        `json:"secure"`        // used the secure channel
	KnownKey bool        `json:"published_key"` // on the published key
	Comset   bool        `json:"comset"`        // was told a new address or speed
}

// replyTime is how long a unit may take to answer (IEC 60839-11-5).
const replyTime unit.Second = 0.2

// talk follows the conversation of a capture.
type talk struct {
	units   []*Unit
	last    map[int]*Frame // last command to an address
	pending *Frame         // the command that waits for its reply
	replied bool           // it had one
	heard   bool           // something came that is no right reply
}

// Units follows the conversation and tells what each address did, in the order of addresses.
func (t *Traffic) Units() []Unit {
	k := talk{last: map[int]*Frame{}}
	noise := 0
	for i := range t.Frames {
		for ; noise < len(t.Noise) && t.Noise[noise].After <= i; noise++ {
			k.garbage()
		}
		f := &t.Frames[i]
		switch {
		case f.State != Right:
			k.broken(f)
		case f.Reply:
			k.reply(f)
		default:
			k.command(f)
		}
	}
	for ; noise < len(t.Noise); noise++ {
		k.garbage()
	}
	slices.SortFunc(k.units, func(a, b *Unit) int { return a.Address - b.Address })
	all := make([]Unit, len(k.units))
	for i, u := range k.units {
		all[i] = *u
	}
	return all
}

// unit is the record of an address. A capture has at most 128.
func (k *talk) unit(address int) *Unit {
	for _, u := range k.units {
		if u.Address == address {
			return u
		}
	}
	u := &Unit{Address: address}
	k.units = append(k.units, u)
	return u
}

func (k *talk) garbage() {
	if k.pending != nil && !k.replied {
		k.heard = true
		k.unit(k.pending.Address).Garbage++
	}
}

// broken counts a frame that is not right for the address it seems to have. A damaged reply right behind a command is
// that unit's, whatever its address byte says.
func (k *talk) broken(f *Frame) {
	address := f.Address
	if k.pending != nil && !k.replied && f.Reply {
		address = k.pending.Address
	}
	k.heard = true
	k.unit(address).Damaged++
}

func (k *talk) command(f *Frame) {
	u := k.unit(f.Address)
	before := k.last[f.Address]
	if before != nil && before == k.pending && !k.replied && echo(before, f) {
		return
	}
	if k.pending != nil && !k.replied && !k.heard {
		k.unit(k.pending.Address).Missing++
	}
	u.Commands++
	u.Secure = u.Secure || f.Security != nil
	switch {
	case before == nil:
	case f.Sequence == 0 && before.Sequence == 0:
	case f.Sequence == 0:
		u.Restarts++
	case f.Sequence == before.Sequence:
		u.Repeats++
		if k.pending == before && k.replied {
			u.Deaf++
		}
	case f.Sequence != before.Sequence%3+1:
		u.Jumps++
	}
	if f.Code == cmdComset {
		u.Comset = true
	}
	k.last[f.Address] = f
	k.pending, k.replied, k.heard = f, false, false
}

// echo says that a command is only what a tap heard of itself: the same bytes at once, marked with the other direction.
func echo(a, b *Frame) bool {
	return a.Mark != "" && b.Mark != "" && a.Mark != b.Mark && bytes.Equal(a.Raw, b.Raw)
}

func (k *talk) reply(f *Frame) {
	u := k.unit(f.Address)
	u.Replies++
	u.Secure = u.Secure || f.Security != nil
	p := k.pending
	switch {
	case p == nil || k.replied || p.Address != f.Address && p.Address != AnyUnit:
		u.Strays++
	case p.Sequence != f.Sequence && f.Code != rplNak && f.Code != rplBusy:
		u.Strays++
		k.replied = true
	default:
		k.replied = true
		k.unit(p.Address).Answered++
		k.delay(u, p, f)
	}
	u.note(f)
}

// delay compares the times of a command and its reply, when both have one.
func (k *talk) delay(u *Unit, p, f *Frame) {
	if !p.Timed || !f.Timed || f.At < p.At {
		return
	}
	d := f.At - p.At
	u.Slowest = max(u.Slowest, d)
	if d > replyTime {
		u.Late++
	}
}

// note keeps what a reply tells of its unit.
func (u *Unit) note(f *Frame) {
	open := !f.Encrypted()
	switch {
	case f.Code == rplID && open && len(f.Data) == 12:
		if id := fmt.Sprintf("%X", f.Data); !slices.Contains(u.IDs, id) {
			u.IDs = append(u.IDs, id)
		}
	case f.Code == rplLocal && open && len(f.Data) == 2:
		u.Tamper = u.Tamper || f.Data[0] == 1
		u.Failing = u.Failing || f.Data[1] == 1
	case f.Code == rplNak && open && len(f.Data) > 0:
		if reason := int(f.Data[0]); !slices.Contains(u.Refused, reason) {
			u.Refused = append(u.Refused, reason)
		}
	case f.Code == rplBusy:
		u.Busy++
	case f.Code == rplRaw && open:
		u.Cards++
	case f.Code == rplCrypt && len(f.Security) > 1 && f.Security[0] == 0x12 && f.Security[1] == 0:
		u.KnownKey = true // block 12 with data 0 is an answer on the published key (from memory)
	}
}
