package draw

import (
	"slices"
	"testing"

	"doorwright/device"
)

// A new type of port gets a symbol, or stands here as one that labels and roles tell all about.
func TestEveryTypeOfPortHasASymbolOrNeedsNone(t *testing.T) {
	plain := []device.PortType{
		device.Load, device.Input, device.Output, device.Source, device.PulseOut, device.PulseIn, device.SerialPort, device.Bus,
		device.Earth,
	}
	if len(device.PortTypes()) == 0 {
		t.Fatal("no types")
	}
	for _, is := range device.PortTypes() {
		if (drawer(is) != nil) == slices.Contains(plain, is) {
			t.Errorf("%s has no symbol and is not said to need none, or both", is)
		}
	}
}

// Each built-in model is drawn with a role or a symbol for every terminal.
func TestEveryTerminalOfTheModelsHasARoleOrASymbol(t *testing.T) {
	models := device.Builtin()
	if len(models.IDs()) == 0 {
		t.Fatal("no models")
	}
	for _, id := range models.IDs() {
		m, _ := models.Get(id)
		for _, x := range m.Strip {
			name, _ := device.SplitPin(x.Pin)
			if p := m.Port(name); roleOf(m, x.Pin, true) == "" && (p == nil || drawer(p.Is) == nil) {
				t.Errorf("%s: terminal %s says nothing of itself", id, x.Label)
			}
		}
	}
}
