package device

// signalBatteryPath is on while a supply may put its battery on its output.
const signalBatteryPath = "battery-path"

// A supply feeds from the mains, and from its battery when the mains are lost ("mains").
func supplyKind() Kind {
	return Kind{
		Name: "supply", Title: "a supply",
		World:   []string{"mains"},
		Needs:   []PortNeed{{Is: Source, Why: "an output"}},
		Wakes:   []string{"mains"},
		Act:     supplyAct,
		Signals: []string{signalBatteryPath, "healthy"},
		Quiet:   []string{signalBatteryPath, "healthy"},
	}
}

// supplyAct guards the battery. A battery that has fallen below its disconnection voltage without mains stays off until
// mains returns: it recovers as soon as nothing draws on it, and would come and go for ever. So a supply does not start
// on its battery alone, as most do not.
func supplyAct(u Unit) {
	mains, battery := u.Signal("mains"), true
	for _, name := range u.Model().PortsOf(Battery) {
		battery = battery && u.Signal(name)
	}
	off := &u.Memory().Latched[0]
	*off = !mains && (*off || !battery)
	u.Set(signalBatteryPath, !*off)
	u.Set("healthy", mains && battery)
}

// A battery is the standby battery of a supply ("connected").
func batteryKind() Kind {
	return Kind{
		Name: "battery", Title: "a battery",
		World: []string{"connected"},
		Needs: []PortNeed{{Is: Battery, Why: "cells"}},
		Wakes: []string{"connected"},
	}
}
