package meter

import (
	"math"
	"slices"
	"strings"
	"testing"

	"doorwright/document"
	"doorwright/signal"
)

// Whatever somebody types as seen is refused with a reason, or understood so that it reads back the same; two numbers that are
// understood can be compared, and no cause is less likely than never.
func FuzzSeen(f *testing.F) {
	for _, text := range []string{
		"lock holds; idle; no", "number read was; card; ones", "number read was; card; 165/65211 expected 90/324",
		"number read was; card; 0b1111111 expected 0x5A0144", "number read was; card, on battery; 04:A1:B2:C3 expected 77701571",
		"number read was; idle; right", "number read was; card; expected 1", "fuse blown; off; yes",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		o, err := ParseSeen(text)
		if err != nil {
			if !strings.Contains(err.Error(), " ") {
				t.Fatalf("%q is refused with %q", text, err)
			}
			return
		}
		if again, err := ParseSeen(string(o.What) + "; " + o.In.String() + "; " + o.Is); err != nil || again != o {
			t.Fatalf("%+v reads back as %+v, %v", o, again, err)
		}
		received, expected, ok := o.Numbers()
		if ok == slices.Contains(o.What.Answers(), o.Is) {
			t.Fatalf("%+v: numbers %v", o, ok)
		}
		if !ok {
			return
		}
		c := signal.Compare(expected, received, signal.Formats())
		for _, k := range signal.Causes() {
			if p := c.Likelihood(map[string]float64{k.ID: 0.9}); !(p > 0) || math.IsInf(p, 1) {
				t.Fatalf("%s: %s has the likelihood %v", o.Is, k.ID, p)
			}
		}
	})
}

func TestLinesWithTheWrongNumberOfParts(t *testing.T) {
	for text, want := range map[string]string{
		"lock holds":            `"lock holds" has no semicolon; write it like "lock holds; idle; no"`,
		"lock holds; no":        "has 2 parts between semicolons",
		"lock holds; idle; no;": "has 4 parts between semicolons",
	} {
		if _, err := ParseSeen(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// A line is told all that is wrong in it at once.
func TestLinesTellAllThatIsWrong(t *testing.T) {
	all := func(_ any, err error) []string {
		var says []string
		for _, one := range document.Apart(err) {
			says = append(says, one.Error())
		}
		return says
	}
	for _, c := range []struct {
		text string
		says []string
		want []string
	}{
		{"reading", all(ParseReading("C1 NC1; C1 0V; idel; volts 5 ohm")), []string{"not a condition", `the unit "ohm"`}},
		{"reading", all(ParseReading("C1 NC1; C1 0V; idle; ohms -5 ohm")), []string{"everything off", "below 0 ohm"}},
		{"reading", all(ParseReading("C1 NC1; C1 0V; idel; volt 5 V")), []string{"not a condition", "nothing a meter is set to"}},
		{"seen", all(ParseSeen("lock holds; idel; perhaps")), []string{"not a condition", "no answer"}},
		{"seen", all(ParseSeen("number read was; idle; perhaps")), []string{"when a card is shown", "no answer"}},
		{"seen", all(ParseSeen("number read was; card; 9999999999999999/1 expected 70000/3")), []string{"number read: \"9999999999999999/1\" has a field of 54 bits"}},
		{"seen", all(ParseSeen("number read was; card; 90/324 expected 70000/3")), []string{"facility 65535, card 65535 (format 34)"}},
	} {
		if len(c.says) != len(c.want) {
			t.Errorf("%s: %q, want %q", c.text, c.says, c.want)
			continue
		}
		for i, want := range c.want {
			if !strings.Contains(c.says[i], want) {
				t.Errorf("%s: %q, want %q", c.text, c.says[i], want)
			}
		}
	}
}

func TestWhatIsNoObservationIsToldByThatWord(t *testing.T) {
	const want = `"lock hold" is not a known observation; did you mean "lock holds"?`
	if _, err := ParseSeen("lock hold; idle; no"); err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%v, want %s", err, want)
	}
}
