package device

import (
	"slices"
	"sync"
)

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

// madeKinds is Kinds, made once: models are asked for their kind again and again. (The behaviour of kinds asks models in
// its turn, which is why this is no variable with a value of its own.)
var madeKinds struct {
	once  sync.Once
	kinds []Kind
}

// KindOf is the kind of that name, nil when there is none. It is shared and must not be changed.
func KindOf(name string) *Kind {
	madeKinds.once.Do(func() { madeKinds.kinds = Kinds() })
	i := slices.IndexFunc(madeKinds.kinds, func(k Kind) bool { return k.Name == name })
	if i < 0 {
		return nil
	}
	return &madeKinds.kinds[i]
}
