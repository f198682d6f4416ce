package cable

import (
	"testing"

	"doorwright/unit"
)

func BenchmarkResistance(b *testing.B) {
	c := Conductor{Size: unit.AWG(22), Strand: Stranded, Material: TinnedCopper}
	for b.Loop() {
		c.Resistance(42, 40)
	}
}

func BenchmarkChoose(b *testing.B) {
	types := Types()
	for b.Loop() {
		Choose(types, Need{Cores: 2, Length: 40, Temperature: 40, Limit: 3})
	}
}
