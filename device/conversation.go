package device

import "doorwright/unit"

// Signals that make a data line send, each for one port: see LineSignal.
const (
	sendZero  = "send0"
	sendOne   = "send1"
	sendSpace = "send-space"
	sendMark  = "send-mark"
)

// LineSignal is the world signal that makes one port of a unit send: "data.send0". It belongs to the port and not to
// the unit, so that lines of two doors that are crossed at one controller can be told apart.
func LineSignal(port, what string) string { return port + "." + what }

// lineSignals are what a port can be made to send, or to draw.
func lineSignals(p Port) []string {
	switch p.Is {
	case Load:
		if p.Peak > p.drawn() {
			return []string{Peaks}
		}
	case PulseOut:
		return []string{sendZero, sendOne}
	case SerialPort:
		return []string{sendSpace}
	case Bus:
		return []string{sendMark, sendSpace}
	}
	return nil
}

// LineEnd is one end of a data line: a port of a unit.
type LineEnd struct {
	Port string
	Is   PortType
}

// Ends of a data line.
const (
	AtReader     = "reader"
	AtController = "controller"
)

// Phase is one state of a data line, held until voltages have settled. Signals are set on the sender only; those not
// named are off.
type Phase struct {
	Name    string
	Sender  string // AtReader or AtController
	Signals []string
	Expect  []Expect
}

// Expect is the voltage of a pin against another of the same unit that the phase must bring there.
type Expect struct {
	At           string // AtReader or AtController
	Pin, Against string // full pins, such as "data.d0"
	Below, Above *unit.Volt
}

func below(at, port, pin, against string, v unit.Volt) Expect {
	return Expect{At: at, Pin: PinOf(port, pin), Against: PinOf(port, against), Below: &v}
}

func above(at, port, pin, against string, v unit.Volt) Expect {
	return Expect{At: at, Pin: PinOf(port, pin), Against: PinOf(port, against), Above: &v}
}

// The phases by name.
const (
	atRest          = "idle"
	readerZero      = "reader sends 0"
	readerOne       = "reader sends 1"
	readerMark      = "reader sends mark"
	readerSpace     = "reader sends space"
	controllerMark  = "controller sends mark"
	controllerSpace = "controller sends space"
)

// Misheard says for people what it means that a phase was not understood; of what is no phase it gives the words back.
func Misheard(phase string) string {
	says, ok := map[string]string{
		atRest:          "while the reader is quiet, its two data lines do not both stand high at the controller",
		readerZero:      "where the reader sends a bit 0, the controller does not see D0 low and D1 high",
		readerOne:       "where the reader sends a bit 1, the controller does not see D1 low and D0 high",
		readerMark:      "where the reader sends a bit 1 (mark), the controller does not see its level",
		readerSpace:     "where the reader sends a bit 0 (space), the controller does not see its level",
		controllerMark:  "where the controller sends a bit 1 (mark), the reader does not see its level",
		controllerSpace: "where the controller sends a bit 0 (space), the reader does not see its level",
	}[phase]
	if !ok {
		return phase
	}
	return says
}

// Conversation is what a reader's port and a controller's port must be able to tell each other, as static phases. It is
// nil when the two types do not fit each other.
func Conversation(reader, controller LineEnd) []Phase {
	switch {
	case reader.Is == PulseOut && controller.Is == PulseIn:
		return pulsePhases(reader.Port, controller.Port)
	case reader.Is == SerialPort && controller.Is == SerialPort:
		return serialPhases(reader.Port, controller.Port)
	case reader.Is == Bus && controller.Is == Bus:
		return busPhases(reader.Port, controller.Port)
	}
	return nil
}

func pulsePhases(reader, controller string) []Phase {
	high := func(pin string) Expect { return above(AtController, controller, pin, "common", pulseHigh) }
	low := func(pin string) Expect { return below(AtController, controller, pin, "common", pulseLow) }
	return []Phase{
		{Name: atRest, Sender: AtReader, Expect: []Expect{high("d0"), high("d1")}},
		{
			Name: readerZero, Sender: AtReader, Signals: []string{LineSignal(reader, sendZero)},
			Expect: []Expect{low("d0"), high("d1")},
		},
		{
			Name: readerOne, Sender: AtReader, Signals: []string{LineSignal(reader, sendOne)},
			Expect: []Expect{high("d0"), low("d1")},
		},
	}
}

func serialPhases(reader, controller string) []Phase {
	mark := func(at, port string) []Expect { return []Expect{below(at, port, "rx", "common", -serialSeen)} }
	space := func(at, port string) []Expect { return []Expect{above(at, port, "rx", "common", serialSeen)} }
	return []Phase{
		{Name: readerMark, Sender: AtReader, Expect: mark(AtController, controller)},
		{
			Name: readerSpace, Sender: AtReader, Signals: []string{LineSignal(reader, sendSpace)},
			Expect: space(AtController, controller),
		},
		{Name: controllerMark, Sender: AtController, Expect: mark(AtReader, reader)},
		{
			Name: controllerSpace, Sender: AtController, Signals: []string{LineSignal(controller, sendSpace)},
			Expect: space(AtReader, reader),
		},
	}
}

func busPhases(reader, controller string) []Phase {
	phase := func(name, sender, from, send, at, to string) Phase {
		p := Phase{Name: name, Sender: sender, Signals: []string{LineSignal(from, send)}}
		if send == sendMark {
			p.Expect = []Expect{below(at, to, "a", "b", -busSeen)}
		} else {
			p.Expect = []Expect{above(at, to, "a", "b", busSeen)}
		}
		return p
	}
	return []Phase{
		phase(controllerMark, AtController, controller, sendMark, AtReader, reader),
		phase(controllerSpace, AtController, controller, sendSpace, AtReader, reader),
		phase(readerMark, AtReader, reader, sendMark, AtController, controller),
		phase(readerSpace, AtReader, reader, sendSpace, AtController, controller),
	}
}
