package meter

import (
	"strings"

	"doorwright/wiring"
)

// Device is the device of a terminal named as nodes are; nil when there is none.
func (b *Book) Device(terminal string) *wiring.Device {
	for _, d := range b.site.Plan.Devices {
		if pin, ok := strings.CutPrefix(terminal, d.ID+"."); ok && d.Model.Terminal(pin) != nil {
			return d
		}
	}
	return nil
}

// Label names a terminal as it is written on the unit: "C1 NC1".
func (b *Book) Label(terminal string) string {
	d := b.Device(terminal)
	if d == nil {
		return terminal
	}
	return d.ID + " " + d.Model.Terminal(strings.TrimPrefix(terminal, d.ID+".")).Label
}
