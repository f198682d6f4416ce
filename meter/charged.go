package meter

import (
	"fmt"
	"strings"

	"doorwright/device"
)

// Charged says what keeps a pair from being calculated: a battery while there is mains.
func (b *Book) Charged(p Pair) error {
	if p.In.Power != On || !b.charged(ends{at: p.At, to: p.To}) {
		return nil
	}
	return fmt.Errorf("%s against %s: with mains the charger sets what a battery shows, which is not calculated; read it %q",
		p.At, p.To, Condition{Power: Battery, Act: Idle})
}

// charged says that a terminal is a battery's: while there is mains, what it shows is set by the charger, which is no part
// of the network.
func (b *Book) charged(e ends) bool {
	for _, at := range []string{e.at, e.to} {
		d := b.Device(at)
		if d == nil {
			continue
		}
		port, _ := device.SplitPin(strings.TrimPrefix(at, d.ID+"."))
		if p := d.Model.Port(port); p != nil && p.Is == device.Battery {
			return true
		}
	}
	return false
}
