package draw

import (
	"fmt"

	"doorwright/device"
)

// roleOf says what a terminal is for, in a few words; empty where its label says it all. Where terminals for several
// doors are shown, it says for which.
func roleOf(m *device.Model, full string, several bool) string {
	name, pin := device.SplitPin(full)
	p := m.Port(name)
	if p == nil {
		return ""
	}
	role := portRole(p, pin)
	if p.Side != "" && role != "" {
		role += ", " + p.Side
	}
	if several && p.Channel > 0 && m.Channels() > 1 && role != "" {
		role += fmt.Sprintf(" (door %d)", p.Channel)
	}
	return role
}

// signs are the signs of the two poles.
var signs = map[string]string{"plus": "+", "minus": "−"}

func portRole(p *device.Port, pin string) string {
	switch p.Is {
	case device.Load:
		return "supply " + signs[pin]
	case device.Coil:
		return "coil " + signs[pin]
	case device.LockCoil:
		return "winding " + signs[pin]
	case device.Source:
		return "output " + signs[pin]
	case device.Battery:
		return "battery " + signs[pin]
	case device.Output:
		return outputUses[p.Use] + " " + signs[pin]
	case device.Changeover:
		return useWords[p.Use] + contactWords[pin]
	case device.Contact:
		return contactRole(p)
	case device.Input:
		if pin == "common" {
			return "0 V of inputs"
		}
		return "input: " + inputUses[p.Use]
	case device.Earth:
		return "earth"
	}
	return pinWords[p.Is][pin]
}

func contactRole(p *device.Port) string {
	if p.Rest == "closed" {
		return useWords[p.Use] + "closed"
	}
	return useWords[p.Use] + "open"
}

// Words of ports and pins.
var (
	outputUses = map[string]string{
		"": "output", "lock": "lock power", "aux": "device power", "signal": "reader power", "sounder": "sounder",
	}
	inputUses = map[string]string{
		"": "any", "exit": "exit request", "contact": "door contact", "aux": "auxiliary", "fire": "fire signal",
		"release": "release", "tamper": "tamper", "trouble": "trouble", "reset": "reset", "led": "lamp",
	}
	useWords = map[string]string{
		"lock": "lock relay: ", "exit": "exit: ", "contact": "door: ", "release": "release: ", "fire": "fire: ",
		"tamper": "tamper: ", "trouble": "trouble: ", "led": "lamp: ", "signal": "monitor: ", "reset": "reset: ",
	}
	contactWords = map[string]string{"common": "common", "nc": "closed", "no": "open"}
	pinWords     = map[device.PortType]map[string]string{
		device.PulseOut:   {"d0": "data 0", "d1": "data 1", "common": "0 V of data"},
		device.PulseIn:    {"d0": "data 0", "d1": "data 1", "common": "0 V of data"},
		device.SerialPort: {"tx": "transmit", "rx": "receive", "common": "0 V of data"},
		device.Bus:        {"a": "line A", "b": "line B", "common": "0 V of line"},
		device.Diode:      {"anode": "anode", "cathode": "cathode, ring"},
	}
)
