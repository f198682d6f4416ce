package document

import (
	"bytes"
	"strings"
	"testing"
)

// Read neither panics nor hangs on anything; what it takes without a problem is printed, read and printed again to the
// same bytes; every problem is one line with a place.
func FuzzRead(f *testing.F) {
	seeds := []string{
		good, "", "---", "a: &a [*a]", "title: x\ndeep: &d {title: y, deep: *d}", "title: !!binary aGk=", "? a\n: b",
		`{"title": "\ud83d\ude00\/", "small": 1}`, "{\"title\":\t\"x\",}", "title: |\n  a\n  b\n", "title: >-\n a\n\n b",
		"\ttitle: x", "title: 'x", "title: \"x", "notes: [a, b", "title: x\n---\ntitle: y", "%YAML 1.2\n---\ntitle: x",
		"\ufefftitle: x\r\nsmall: 3\r\n", "<<: *x", "labels: {\"+12V\": a}", "title: ~", "title: x\nlists: [[1 ohm], []]",
		strings.Repeat("[", 100), strings.Repeat("- ", 100), "title: x # remark\n# another\n", "\xff\xfe", "title: *x",
	}
	for _, s := range seeds {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var s sheet
		source, problems := Read("f", data, &s)
		for _, p := range problems {
			if p.Line < 1 || p.Column < 0 || p.Want == "" || strings.ContainsAny(p.Error(), "\n\r") {
				t.Errorf("a poor problem: %#v", p)
			}
		}
		source.At("doors.D3.lock")
		if len(problems) > 0 {
			return
		}
		text, err := Print(s)
		if err != nil {
			t.Fatal(err)
		}
		var again sheet
		if _, problems := Read("f", text, &again); len(problems) > 0 {
			t.Fatalf("%v in what was printed:\n%s", problems, text)
		}
		if back, err := Print(again); err != nil || !bytes.Equal(text, back) {
			t.Fatalf("printed\n%s, read and printed again\n%s (%v)", text, back, err)
		}
	})
}
