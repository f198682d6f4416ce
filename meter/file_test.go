package meter

import (
	"slices"
	"strings"
	"testing"
)

const goodFile = `
door: visitor
loops: {W7: 1.2 ohm}
readings:
  - {at: C1 C1, to: C1 0V, in: idle, volts: 13.4 V}
  - {at: C1.contact1.in, to: C1.contact1.common, in: "off, C1/P3 pulled", ohms: open}
  - {at: a, to: b, in: off, diode: 550 mV}
seen:
  - {what: lock holds, is: no, in: idle}
  - {what: number read was, is: complement, in: card}
  - {what: number read was, is: 165/65211 expected 90/324, in: card}
mended: ["open:visitor.head.p/1"]
`

func TestReadingsFile(t *testing.T) {
	n, problems := ReadFile("r.yaml", []byte(goodFile))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if n.Door != "visitor" || len(n.Loops) != 1 || len(n.Readings) != 3 || len(n.Seen) != 3 || len(n.Mended) != 1 {
		t.Errorf("%+v", n)
	}
	if r := n.Readings[1]; !r.Open || r.Quantity != Ohms || r.In.Pulled != "C1/P3" {
		t.Errorf("%+v", r)
	}
	if o := n.Seen[0]; o.What != LockHolds || o.Is != "no" {
		t.Errorf("%+v", o)
	}
	received, expected, ok := n.Seen[2].Numbers()
	if !ok || received.Fields[1] != 65211 || expected.Fields[0] != 90 {
		t.Errorf("%+v: %+v, %+v", n.Seen[2], received, expected)
	}
	if _, _, ok := n.Seen[1].Numbers(); ok {
		t.Errorf("%+v has numbers", n.Seen[1])
	}
}

func TestReadingsFileTellsAllMistakes(t *testing.T) {
	_, problems := ReadFile("r.yaml", []byte(`
readings:
  - {at: C1 C1, to: C1 0V, in: idle, ohms: 5 ohm}
  - {at: C1 C1, to: C1 0V, in: asleep, volts: 5 V}
  - {at: C1 C1, to: C1 0V, in: off}
  - {at: C1 C1, in: idle, volts: 5}
loops: {W1: 0 ohm}
seen:
  - {what: lock hold, is: no, in: idle}
  - {what: lock holds, is: perhaps, in: idle}
  - {what: number read was, is: right, in: idle}
  - {what: number read was, is: 165/65211, in: card}
  - {what: number read was, is: 165/652x1 expected 90/324, in: card}
`))
	for _, want := range []string{
		"everything off", "not a condition", "exactly one", "no unit", "above 0 ohm", "lock holds", "write yes or no", "black lead",
		"when a card is shown", "which is expected", "number read: 1:8: found 'x'",
	} {
		if !strings.Contains(problems.Error(), want) {
			t.Errorf("nothing says %q:\n%v", want, problems)
		}
	}
}

func FuzzReadFile(f *testing.F) {
	f.Add([]byte(goodFile))
	f.Add([]byte("readings: [{at: a, to: b, in: 'off, x pulled, y pulled', ohms: 1e9 Mohm}]"))
	f.Add([]byte("seen: [{what: number read was, is: '0b1111111 expected 90/324', in: card}]"))
	f.Add([]byte(`{"seen": [{"what": "fuse blown", "is": "yes", "in": "battery"}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		n, problems := ReadFile("fuzz", data)
		if n == nil {
			t.Fatalf("no notes, with problems %v", problems)
		}
		if len(problems) > 0 {
			return
		}
		for _, o := range n.Seen {
			again, err := ParseSeen(string(o.What) + "; " + o.In.String() + "; " + o.Is)
			if _, _, both := o.Numbers(); strings.Contains(o.Is, ";") != (err != nil) || err == nil && again != o ||
				both == slices.Contains(o.What.Answers(), o.Is) {
				t.Fatalf("%+v reads back as %+v, %v", o, again, err)
			}
		}
		for _, r := range n.Readings {
			again, err := ParseCondition(r.In.String())
			if err != nil || again != r.In {
				t.Fatalf("%q reads back as %v, %v", r.In, again, err)
			}
		}
	})
}
