package job

import "doorwright/device"

// part is what a role asks of a model.
type part struct {
	role  Role
	title string // with article
	fits  func(m *device.Model) bool
}

// parts is the one list of roles. What a model can serve as follows from its ports, not from its kind.
func parts() []part {
	return []part{
		{RoleController, "a controller", isController},
		{RoleSupply, "a supply", func(m *device.Model) bool { return has(m, device.Source) }},
		{RoleBattery, "a battery", func(m *device.Model) bool {
			return has(m, device.Battery) && !has(m, device.Source) && !isController(m)
		}},
		{RoleBoard, "a distribution board", func(m *device.Model) bool {
			return has(m, device.Output) && !has(m, device.Source) && !isController(m)
		}},
		{RoleEntry, "a reader", isReader},
		{RoleExitReader, "a reader", isReader},
		{RoleLock, "a lock", isLock},
		{RoleExit, "an exit device", func(m *device.Model) bool { return tells(m, "exit") && !isLock(m) }},
		{RoleContact, "a door contact", func(m *device.Model) bool { return tells(m, "contact") && !isLock(m) }},
		{RoleRelease, "a manual release", func(m *device.Model) bool { return tells(m, "release") }},
		{RoleFire, "a fire signal", func(m *device.Model) bool { return tells(m, "fire") }},
		{RoleReset, "a key switch", func(m *device.Model) bool { return tells(m, "reset") }},
		{RoleSounder, "a sounder", func(m *device.Model) bool { return m.Kind == "sounder" }},
		{RoleWatch, "a relay", isRelay},
		{RoleInterpose, "a relay", isRelay},
		{RoleAux, "a contact for an input", func(m *device.Model) bool { return tells(m, "") && !isController(m) }},
		{RoleLoop, "a door loop", func(m *device.Model) bool { return has(m, device.Through) }},
	}
}

func partOf(role Role) part {
	for _, p := range parts() {
		if p.role == role {
			return p
		}
	}
	return part{title: "a unit", fits: func(*device.Model) bool { return false }}
}

func has(m *device.Model, is device.PortType) bool { return len(m.PortsOf(is)) > 0 }

// tells says that a model has a contact meant for a use; any use when it is empty.
func tells(m *device.Model, use string) bool {
	for _, is := range []device.PortType{device.Contact, device.Changeover} {
		if _, ok := m.FindPort(is, use, 0, ""); ok {
			return true
		}
	}
	return false
}

// isController says that a model serves doors.
func isController(m *device.Model) bool { return m.Channels() > 0 }

func isReader(m *device.Model) bool {
	return has(m, device.PulseOut) || (has(m, device.SerialPort) || has(m, device.Bus)) && !isController(m)
}

func isLock(m *device.Model) bool { return has(m, device.LockCoil) }

func isRelay(m *device.Model) bool { return has(m, device.Coil) && tells(m, "") && !isController(m) }
