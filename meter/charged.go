package meter

import (
	"strings"

	"doorwright/device"
)

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
