package device

// A pulse reader sends what it read as pulses on two data lines.
func pulseReaderKind() Kind {
	return Kind{
		Name: "pulse-reader", Title: "a pulse reader",
		Needs: []PortNeed{{Is: Load, Why: "a feed to run on"}, {Is: PulseOut, Why: "data lines"}},
	}
}

// A serial reader sends what it read over a TIA-232 line.
func serialReaderKind() Kind {
	return Kind{
		Name: "serial-reader", Title: "a serial reader",
		Needs: []PortNeed{{Is: Load, Why: "a feed to run on"}, {Is: SerialPort, Why: "a serial port"}},
	}
}

// A bus reader answers the polls of its controller on a TIA-485 pair.
func busReaderKind() Kind {
	return Kind{
		Name: "bus-reader", Title: "a bus reader",
		Needs: []PortNeed{{Is: Load, Why: "a feed to run on"}, {Is: Bus, Why: "a bus port"}},
	}
}
