package meter

import (
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
mended: ["open:visitor.head.p/1"]
`

func TestReadingsFile(t *testing.T) {
	n, problems := ReadFile("r.yaml", []byte(goodFile))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if n.Door != "visitor" || len(n.Loops) != 1 || len(n.Readings) != 3 || len(n.Seen) != 2 || len(n.Mended) != 1 {
		t.Errorf("%+v", n)
	}
	if r := n.Readings[1]; !r.Open || r.Quantity != Ohms || r.In.Pulled != "C1/P3" {
		t.Errorf("%+v", r)
	}
	if o := n.Seen[0]; o.What != LockHolds || o.Is != "no" {
		t.Errorf("%+v", o)
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
`))
	for _, want := range []string{
		"everything off", "not a condition", "exactly one", "no unit", "above 0 ohm", "lock holds", "write yes, no", "black lead",
	} {
		if !strings.Contains(problems.Error(), want) {
			t.Errorf("nothing says %q:\n%v", want, problems)
		}
	}
}

func FuzzReadFile(f *testing.F) {
	f.Add([]byte(goodFile))
	f.Add([]byte("readings: [{at: a, to: b, in: 'off, x pulled, y pulled', ohms: 1e9 Mohm}]"))
	f.Add([]byte(`{"seen": [{"what": "fuse blown", "is": "yes", "in": "battery"}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		n, problems := ReadFile("fuzz", data)
		if (n == nil) == (len(problems) == 0) {
			t.Fatalf("notes %v with problems %v", n, problems)
		}
		if n == nil {
			return
		}
		for _, r := range n.Readings {
			again, err := ParseCondition(r.In.String())
			if err != nil || again != r.In {
				t.Fatalf("%q reads back as %v, %v", r.In, again, err)
			}
		}
	})
}
