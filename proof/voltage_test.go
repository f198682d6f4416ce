package proof_test

import (
	"strings"
	"testing"

	"doorwright/proof"
)

// A lock or unit for another voltage than its supply gives is told with both voltages, in every finding that comes of it;
// one that is only starved is not. Windows are 15 % below nominal to 20 % above (the built-in models), so that 12 V lies
// in none for 24 V, nor the other way.
func TestWrongVoltagesAreNamed(t *testing.T) {
	on24 := strings.NewReplacer("supply-12-5", "supply-24-5", "controller-1-12", "controller-1-24", "reader-pulse", "reader-pulse-wide", "magnet-12", "magnet-24").Replace(bare)
	for _, c := range []struct{ name, text, says, device string }{
		{"lock for 24 V on 12 V", strings.Replace(bare, "magnet-12", "magnet-24", 1), "it is for 24 V, and its supply PS1 gives 12 V", "D1.lock1"},
		{"lock for 12 V on 24 V", strings.Replace(on24, "magnet-24", "magnet-12", 1), "it is for 12 V, and its supply PS1 gives 24 V", "D1.lock1"},
		{"strike for 24 V on 12 V", strings.Replace(bare, "magnet-12, handle: none, on-battery: let-go", "strike-24-secure, handle: frees", 1), "it is for 24 V, and its supply PS1 gives 12 V", "D1.lock1"},
		{"controller for 12 V on 24 V", strings.Replace(on24, "controller-1-24", "controller-1-12", 1), "it is for 12 V, and its supply PS1 gives 24 V", "C1"},
		{"reader for 12 V on 24 V", strings.Replace(on24, "reader-pulse-wide", "reader-pulse", 1), "it is for 12 V, and its supply PS1 gives 24 V", "D1.entry"},
		{"lock on a long cable", strings.Replace(bare, "    escape: out", "    cable-length: 150 m\n    escape: out", 1), "", "D1.lock1"},
		{"all for 24 V", on24, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := prove(t, []byte(c.text))
			told := 0
			for _, f := range r.Findings {
				if strings.Contains(f.What, "it is for") != (c.says != "" && strings.Contains(f.What, c.says) && f.Subject.Device == c.device) {
					t.Errorf("%s: %s", f.Requirement, f.What)
				}
				if f.Subject.Device == c.device && (f.Requirement == "lock-voltage" || f.Requirement == "unit-voltage") {
					told++
				}
			}
			if told == 0 && c.device != "" {
				t.Errorf("%s has its voltage", c.device)
			}
			var wrong []string
			for _, w := range proof.WrongVoltages(r.Job.Doors[0]) {
				wrong = append(wrong, w.Device)
			}
			if want := map[bool]string{true: c.device}[c.says != ""]; strings.Join(wrong, " ") != want {
				t.Errorf("for another voltage: %q, want %q", wrong, want)
			}
		})
	}
}
