package device

import (
	"slices"
	"strings"
	"testing"
)

func TestConversationFitsPairsOnly(t *testing.T) {
	line := []PortType{PulseOut, PulseIn, SerialPort, Bus, Contact}
	fits := 0
	for _, r := range line {
		for _, c := range line {
			phases := Conversation(LineEnd{"data", r}, LineEnd{"in", c})
			want := r == PulseOut && c == PulseIn || r == c && (r == SerialPort || r == Bus)
			if (len(phases) > 0) != want {
				t.Errorf("%s to %s: %d phases", r, c, len(phases))
			}
			if want {
				fits++
				checkPhases(t, phases, r, c)
			}
		}
	}
	if fits != 3 {
		t.Errorf("%d pairs fit", fits)
	}
}

// checkPhases checks that a phase only uses signals of its sender and pins that are there, and expects something.
func checkPhases(t *testing.T, phases []Phase, reader, controller PortType) {
	t.Helper()
	for _, p := range phases {
		port, is := "data", reader
		if p.Sender == AtController {
			port, is = "in", controller
		}
		for _, s := range p.Signals {
			if !slices.Contains(one(port, Port{Is: is}).World(), s) {
				t.Errorf("%s: %s cannot send %s", p.Name, port, s)
			}
		}
		if len(p.Expect) == 0 {
			t.Errorf("%s expects nothing", p.Name)
		}
		for _, e := range p.Expect {
			at, is := "data", reader
			if e.At == AtController {
				at, is = "in", controller
			}
			for _, full := range []string{e.Pin, e.Against} {
				port, pin := SplitPin(full)
				if port != at || !slices.Contains(Pins(Port{Is: is}), pin) {
					t.Errorf("%s: no pin %s at the %s", p.Name, full, e.At)
				}
			}
			if e.At == p.Sender || (e.Below == nil) == (e.Above == nil) {
				t.Errorf("%s: expects %+v", p.Name, e)
			}
		}
	}
}

// SIA AC-01 (from memory): both lines idle high at 4 V or more, a zero pulls data 0 below 1 V, a one data 1.
func TestPulseConversation(t *testing.T) {
	phases := Conversation(LineEnd{"data", PulseOut}, LineEnd{"entry", PulseIn})
	want := []struct {
		signals []string
		d0, d1  bool // low
	}{{nil, false, false}, {[]string{"data.send0"}, true, false}, {[]string{"data.send1"}, false, true}}
	if len(phases) != len(want) {
		t.Fatalf("%d phases", len(phases))
	}
	for i, w := range want {
		p := phases[i]
		if !slices.Equal(p.Signals, w.signals) {
			t.Errorf("%s: signals %v", p.Name, p.Signals)
		}
		for k, low := range []bool{w.d0, w.d1} {
			e := p.Expect[k]
			if low && (e.Below == nil || *e.Below != 1) || !low && (e.Above == nil || *e.Above != 4) {
				t.Errorf("%s: %s expects %v %v", p.Name, e.Pin, e.Below, e.Above)
			}
		}
	}
}

// TIA-485-A: a mark makes line b the more positive by at least 200 mV at the receiver; TIA-232-F: a mark is below -3 V.
func TestMarksAreNegative(t *testing.T) {
	marks := 0
	for _, is := range []PortType{SerialPort, Bus} {
		for _, p := range Conversation(LineEnd{"r", is}, LineEnd{"c", is}) {
			limit := map[PortType]float64{SerialPort: 3, Bus: 0.2}[is]
			mark := p.Name == "reader sends mark" || p.Name == "controller sends mark"
			e := p.Expect[0]
			if mark && (e.Below == nil || float64(*e.Below) != -limit) || !mark && (e.Above == nil || float64(*e.Above) != limit) {
				t.Errorf("%s, %s: %+v", is, p.Name, e)
			}
			if mark {
				marks++
			}
		}
	}
	if marks != 4 {
		t.Errorf("%d marks", marks)
	}
}

// Every phase has words for people that say more than its name; what is no phase keeps its own.
func TestEveryPhaseSaysWhatIsMisheard(t *testing.T) {
	n := 0
	for _, is := range [][2]PortType{{PulseOut, PulseIn}, {SerialPort, SerialPort}, {Bus, Bus}} {
		for _, p := range Conversation(LineEnd{"r", is[0]}, LineEnd{"c", is[1]}) {
			n++
			if says := Misheard(p.Name); says == p.Name || !strings.Contains(says, p.Expect[0].At) {
				t.Errorf("%s: %q", p.Name, says)
			}
		}
	}
	if n != 11 {
		t.Errorf("%d phases", n)
	}
	if says := Misheard("no power"); says != "no power" {
		t.Error(says)
	}
}
