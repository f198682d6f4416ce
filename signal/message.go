package signal

import (
	"fmt"

	"doorwright/document"
)

// Bytes of a frame (IEC 60839-11-5).
const (
	som     = 0x53 // start of message
	mark    = 0xFF // may be sent before a frame to settle the line; not counted
	reply   = 0x80 // added to the address in a reply
	AnyUnit = 0x7F // the address every unit listens to, for setting one up

	seqMask   = 0x03 // control: sequence number
	crcBit    = 0x04 // control: the check value is a CRC, else a checksum
	securBit  = 0x08 // control: a security block follows
	unusedCtl = 0xF0

	headLen  = 5 // SOM, address, two of length, control
	shortest = headLen + 2
	// longest is the largest frame taken for one; units of the trade take less (from memory: 1440 bytes).
	longest = 1440
	macLen  = 4 // message authentication code, with security blocks that say so
)

// Message is what a frame carries, in either direction.
type Message struct {
	Address  int  // 0 to 0x7E, or AnyUnit
	Reply    bool // from the unit to the controller
	Sequence int  // 0 to 3
	CRC      bool // checked by a CRC, not by a checksum
	Security []byte
	Code     byte
	Data     []byte
	MAC      []byte // four bytes, only with a security block of type 0x15 to 0x18
}

// hasMAC says whether a security block of a type brings a message authentication code (types from memory: 0x15 and 0x16
// without, 0x17 and 0x18 with encrypted data).
func hasMAC(security []byte) bool {
	return len(security) > 0 && security[0] >= 0x15 && security[0] <= 0x18
}

// Encrypted says that the data can only be read with the key.
func (m Message) Encrypted() bool {
	return len(m.Security) > 0 && (m.Security[0] == 0x17 || m.Security[0] == 0x18)
}

// Encode writes the frame of a message, without a mark byte. Security is the block without its length: type, then data.
// It errs, all at once, on what no frame can hold.
func (m Message) Encode() ([]byte, error) {
	var wrong document.Problems
	refuse := func(where, found, want string) {
		wrong = append(wrong, document.Problem{Where: where, Found: found, Want: want})
	}
	if m.Address < 0 || m.Address > AnyUnit {
		refuse("address", fmt.Sprint(m.Address), "an address is 0 to 126, or 127 for any unit")
	}
	if m.Sequence < 0 || m.Sequence > seqMask {
		refuse("sequence", fmt.Sprint(m.Sequence), "a sequence number is 0 to 3")
	}
	if hasMAC(m.Security) != (len(m.MAC) == macLen) || !hasMAC(m.Security) && len(m.MAC) > 0 {
		refuse("MAC", fmt.Sprintf("%d bytes", len(m.MAC)), "four bytes go with a security block of type 0x15 to 0x18, "+
			"none with others")
	}
	if len(m.Security) > 254 {
		refuse("security", fmt.Sprintf("%d bytes", len(m.Security)),
			"a security block has at most 254 bytes after its length")
	}
	b := m.body()
	if len(b) > longest {
		refuse("data", fmt.Sprintf("a frame of %d bytes", len(b)), fmt.Sprintf("a frame has at most %d", longest))
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	b[2], b[3] = byte(len(b)), byte(len(b)>>8)
	return seal(b, m.CRC), nil
}

// body is the frame with its length and check value still open.
func (m Message) body() []byte {
	address, control := byte(m.Address), byte(m.Sequence)
	if m.Reply {
		address |= reply
	}
	if m.CRC {
		control |= crcBit
	}
	if m.Security != nil {
		control |= securBit
	}
	b := []byte{som, address, 0, 0, control}
	if m.Security != nil {
		b = append(b, byte(len(m.Security)+1))
		b = append(b, m.Security...)
	}
	b = append(b, m.Code)
	b = append(b, m.Data...)
	b = append(b, m.MAC...)
	return append(b, make([]byte, checkLen(m.CRC))...)
}

func checkLen(crc bool) int {
	if crc {
		return 2
	}
	return 1
}

// seal puts the check value into the last bytes.
func seal(b []byte, crc bool) []byte {
	n := len(b) - checkLen(crc)
	v := checkOf(b[:n], crc)
	b[n] = byte(v)
	if crc {
		b[n+1] = byte(v >> 8)
	}
	return b
}

// checkOf is the check value of the bytes before it.
func checkOf(b []byte, crc bool) uint16 {
	if crc {
		return CRC(b)
	}
	return uint16(Checksum(b))
}

// crcTable is the CRC of every single byte; a constant table, built once.
var crcTable = func() (t [256]uint16) {
	for i := range t {
		v := uint16(i) << 8
		for range 8 {
			if v&0x8000 != 0 {
				v = v<<1 ^ 0x1021
			} else {
				v <<= 1
			}
		}
		t[i] = v
	}
	return t
}()

// CRC is the CRC-16 of a frame: polynomial 0x1021, start 0x1D0F, not reflected, no final XOR. The examples of
// IEC 60839-11-5, annex E, agree with it and with none of the similar ones.
func CRC(b []byte) uint16 {
	v := uint16(0x1D0F)
	for _, x := range b {
		v = v<<8 ^ crcTable[byte(v>>8)^x]
	}
	return v
}

// Checksum is the two's complement of the sum of all bytes: with it the sum of a frame is 0.
func Checksum(b []byte) byte {
	var sum byte
	for _, x := range b {
		sum += x
	}
	return -sum
}
