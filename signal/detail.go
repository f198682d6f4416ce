package signal

import (
	"encoding/binary"
	"fmt"
	"strings"

	"doorwright/unit"
)

// Detail is one field of a message in words.
type Detail struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Wrong bool   `json:"wrong,omitempty"` // the message does not keep to the protocol
}

// detailer gathers the fields of one message.
type detailer struct {
	formats []*Format
	all     []Detail
}

func (r *detailer) add(name, format string, args ...any) {
	r.all = append(r.all, Detail{Name: name, Value: fmt.Sprintf(format, args...)})
}

func (r *detailer) wrong(name, format string, args ...any) {
	r.all = append(r.all, Detail{Name: name, Value: fmt.Sprintf(format, args...), Wrong: true})
}

// lookUp finds the code of a message.
func lookUp(m Message) (code, bool) {
	list := commands()
	if m.Reply {
		list = replies()
	}
	for _, c := range list {
		if c.Byte == m.Code {
			return c, true
		}
	}
	return code{}, false
}

// Name is the short name of the command or reply in the standard; its number when it has none.
func (m Message) Name() string {
	if c, ok := lookUp(m); ok {
		return c.Name
	}
	return fmt.Sprintf("%02X", m.Code)
}

// What says in plain words what the command or reply is for.
func (m Message) What() string {
	if c, ok := lookUp(m); ok {
		return c.What
	}
	return "unknown code"
}

// Details reads the fields of a message. Card data is decoded with the formats given.
func (m Message) Details(formats []*Format) []Detail {
	c, known := lookUp(m)
	r := &detailer{formats: formats}
	if m.Security != nil {
		securityDetails(m, r)
	}
	switch {
	case m.Encrypted():
		if len(m.Data) > 0 {
			r.add("data", "%d bytes, encrypted", len(m.Data))
		}
	case !known:
		r.wrong("code", "%02X is not in the list of the protocol", m.Code)
	case !c.fits(len(m.Data)):
		r.wrong("data", "%d bytes; %s", len(m.Data), c.lengthWords())
	case c.details != nil:
		c.details(m.Data, r)
	}
	return r.all
}

func (c code) lengthWords() string {
	switch {
	case c.step == 0:
		return fmt.Sprintf("%s has %d", c.Name, c.least)
	case c.step == 1:
		return fmt.Sprintf("%s has at least %d", c.Name, c.least)
	}
	return fmt.Sprintf("%s has %d for each record", c.Name, c.step)
}

// securityDetails names the security block (types from memory).
func securityDetails(m Message, r *detailer) {
	if len(m.Security) == 0 {
		r.wrong("security", "an empty block")
		return
	}
	words := "unknown type"
	switch t := m.Security[0]; {
	case t >= 0x11 && t <= 0x14:
		words = "the secure channel is being set up"
	case t == 0x15 || t == 0x16:
		words = "secure channel, data open"
	case t == 0x17 || t == 0x18:
		words = "secure channel, data encrypted"
	}
	r.add("security", "%02X, %s", m.Security[0], words)
}

// nakDetails names the reason.
func nakDetails(d []byte, r *detailer) {
	reasons := nakReasons()
	if int(d[0]) < len(reasons) {
		r.add("reason", "%d, %s", d[0], reasons[d[0]].what)
		return
	}
	r.add("reason", "%d, not in the list of the protocol", d[0])
}

// idDetails reads the ID report: three bytes of maker, model, version, serial number with its least byte first, and
// three
// bytes of firmware.
func idDetails(d []byte, r *detailer) {
	r.add("maker code", "%X", d[:3])
	r.add("model", "%d, version %d", d[3], d[4])
	r.add("serial", "%08X", binary.LittleEndian.Uint32(d[5:]))
	r.add("firmware", "%d.%d.%d", d[9], d[10], d[11])
}

// capDetails reads the capabilities, each of a function, how far it is kept to, and how many there are.
func capDetails(d []byte, r *detailer) {
	names := map[byte]string{
		1: "contacts", 2: "outputs", 3: "card format", 4: "lamps", 5: "sounder", 8: "check " +
			"value", 9: "security", 13: "readers",
	}
	for ; len(d) >= 3; d = d[3:] {
		name := names[d[0]]
		if name == "" {
			name = fmt.Sprintf("function %d", d[0])
		}
		r.add(name, "level %d, count %d", d[1], d[2])
	}
}

// localDetails reads tamper and power.
func localDetails(d []byte, r *detailer) {
	stateOf(r, "tamper", d[0], []string{"none", "tamper"})
	stateOf(r, "power", d[1], []string{"normal", "failing"})
}

// stateDetails reads one state for each of several things.
func stateDetails(what string, words ...string) func([]byte, *detailer) {
	return func(d []byte, r *detailer) {
		for i, s := range d {
			stateOf(r, fmt.Sprintf("%s %d", what, i), s, words)
		}
	}
}

func stateOf(r *detailer, name string, s byte, words []string) {
	if int(s) < len(words) {
		r.add(name, "%s", words[s])
		return
	}
	r.add(name, "%02X", s)
}

// comDetails reads address and speed.
func comDetails(d []byte, r *detailer) {
	r.add("address", "%d (%02X)", d[0], d[0])
	speed := binary.LittleEndian.Uint32(d[1:])
	if speeds := Speeds(); !contains(speeds, unit.Baud(speed)) {
		r.wrong("speed", "%d baud, which is none of the protocol's", speed)
		return
	}
	r.add("speed", "%d baud", speed)
}

func contains(speeds []unit.Baud, b unit.Baud) bool {
	for _, s := range speeds {
		if s == b {
			return true
		}
	}
	return false
}

// Speeds lists the speeds of the protocol; 57600 came later than the others.
func Speeds() []unit.Baud { return []unit.Baud{9600, 19200, 38400, 57600, 115200, 230400} }

// rawDetails reads card data: reader, format, count of bits, bits from the left. The numbers follow when a format of
// that
// length is known.
func rawDetails(d []byte, r *detailer) {
	n := int(binary.LittleEndian.Uint16(d[2:]))
	if want := (n + 7) / 8; len(d)-4 != want {
		r.wrong("bits", "%d announced, which take %d bytes; %d came", n, want, len(d)-4)
		return
	}
	r.add("reader", "%d", d[0])
	if n > MostBits {
		r.add("bits", "%d", n)
		return
	}
	var b strings.Builder
	for _, x := range d[4:] {
		fmt.Fprintf(&b, "%08b", x)
	}
	bits := Bits(b.String()[:n])
	r.add("bits", "%d: %s", n, bits)
	for _, f := range r.formats {
		switch c, err := f.Decode(bits); {
		case err != nil:
		case c.Valid():
			r.add("card", "%s (format %s, parity right)", c, f.ID)
		default:
			r.add("card", "%s (format %s, parity wrong)", c, f.ID)
		}
	}
}

// padDetails reads keys. Star and hash come as 7F and 0D (from memory).
func padDetails(d []byte, r *detailer) {
	if int(d[1]) != len(d)-2 {
		r.wrong("keys", "%d announced, %d came", d[1], len(d)-2)
		return
	}
	var keys strings.Builder
	for _, k := range d[2:] {
		switch {
		case k == 0x7F:
			keys.WriteByte('*')
		case k == 0x0D:
			keys.WriteByte('#')
		case k > ' ' && k < 0x7F:
			keys.WriteByte(k)
		default:
			fmt.Fprintf(&keys, "[%02X]", k)
		}
	}
	r.add("keys", "%s", keys.String())
}

// keyDetails never repeats the key.
func keyDetails(d []byte, r *detailer) { r.add("key", "%d bytes, not shown", len(d)-2) }

// cryptDetails reads what a unit answers to a challenge.
func cryptDetails(d []byte, r *detailer) { r.add("unit", "%X", d[:8]) }

func makerDetails(d []byte, r *detailer) {
	r.add("maker code", "%X", d[:3])
	r.add("data", "%d bytes", len(d)-3)
}

func sizeDetails(d []byte, r *detailer) { r.add("bytes", "%d", binary.LittleEndian.Uint16(d)) }

// outputDetails reads records of output, action and time in tenths of a second.
func outputDetails(d []byte, r *detailer) {
	actions := []string{
		"nothing", "off", "on", "off after its time", "on after its time", "on for a time", "off for a time",
	}
	for ; len(d) >= 4; d = d[4:] {
		words := fmt.Sprintf("action %d", d[1])
		if int(d[1]) < len(actions) {
			words = actions[d[1]]
		}
		if t := binary.LittleEndian.Uint16(d[2:]); t > 0 {
			words += fmt.Sprintf(", %v", unit.Second(float64(t)/10))
		}
		r.add(fmt.Sprintf("output %d", d[0]), "%s", words)
	}
}

// lampDetails reads records of fourteen bytes: reader, lamp, a temporary and a permanent setting.
func lampDetails(d []byte, r *detailer) {
	colours := []string{"off", "red", "green", "amber", "blue", "magenta", "cyan", "white"}
	name := func(c byte) string {
		if int(c) < len(colours) {
			return colours[c]
		}
		return fmt.Sprintf("colour %d", c)
	}
	for ; len(d) >= 14; d = d[14:] {
		what := "no change"
		switch {
		case d[2] == 2:
			what = fmt.Sprintf("%s/%s for %v", name(d[5]), name(d[6]),
				unit.Second(float64(binary.LittleEndian.Uint16(d[7:]))/10))
		case d[9] == 1:
			what = fmt.Sprintf("%s/%s from now on", name(d[12]), name(d[13]))
		case d[2] == 1:
			what = "end of the temporary setting"
		}
		r.add(fmt.Sprintf("lamp %d of reader %d", d[1], d[0]), "%s", what)
	}
}

func sounderDetails(d []byte, r *detailer) {
	stateOf(r, "tone", d[1], []string{"none", "off", "on"})
	r.add("times", "%d, on %v, off %v", d[4], unit.Second(float64(d[2])/10), unit.Second(float64(d[3])/10))
}

// textDetails tells how long a text is; what it says may be personal.
func textDetails(d []byte, r *detailer) {
	r.add("text", "%s", plural(int(d[5]), "one character", "characters"))
}
