package device

// Kinds are all kinds of units, in the order of a schedule: what decides, what reads, what locks, ways out, contacts
// and alarms, interfaces, supplies, small parts.
func Kinds() []Kind {
	return []Kind{
		controllerKind(),
		pulseReaderKind(),
		serialReaderKind(),
		busReaderKind(),
		magnetKind(),
		strikeKind(),
		boltKind(),
		handleLockKind(),
		exitButtonKind(),
		exitSensorKind(),
		releaseKind(),
		keySwitchKind(),
		doorContactKind(),
		sounderKind(),
		relayKind(),
		fireInterfaceKind(),
		supplyKind(),
		batteryKind(),
		boardKind(),
		fuseKind(),
		resistorKind(),
		diodeKind(),
		clampKind(),
		junctionKind(),
		doorLoopKind(),
	}
}

// KindOf is the kind of that name, nil when there is none.
func KindOf(name string) *Kind {
	for _, k := range Kinds() {
		if k.Name == name {
			return &k
		}
	}
	return nil
}
