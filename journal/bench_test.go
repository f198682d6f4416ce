package journal

import (
	"bytes"
	"context"
	"crypto/rand"
	"fmt"
	"testing"

	"doorwright/internal/site"
)

// ticked is a journal of a site of so many doors with so many entries.
func ticked(b *testing.B, doors, entries int) (*Memory, *Journal) {
	b.Helper()
	s := NewMemory()
	j := opened(b, s)
	wrote(b, j, Imported{Job: "SITE", Document: string(site.Generate(doors))})
	for i := 0; i < entries; i += 500 {
		var all []Body
		for k := range 500 {
			all = append(all, tickOf(i+k))
		}
		wrote(b, j, all...)
	}
	return s, j
}

func tickOf(i int) Ticked {
	return Ticked{Job: "SITE", Door: "d1", Core: Core{ID: fmt.Sprintf("R%d/1", i), A: "C1", ATo: "x", B: "d1.lock1", BTo: "plus", Colour: "RD", For: "lock feed"}, End: "C1.x", Act: act}
}

func BenchmarkWriteTick(b *testing.B) {
	_, j := ticked(b, 500, 25_000)
	for i := 0; b.Loop(); i++ {
		wrote(b, j, tickOf(i%25_000))
	}
}

func BenchmarkWriteEditAndState(b *testing.B) {
	_, j := ticked(b, 500, 25_000)
	j.State()
	for i := 0; b.Loop(); i++ {
		wrote(b, j, Edited{Job: "SITE", Field: "title", Value: fmt.Sprint(i)})
		j.State()
	}
}

func BenchmarkOpen(b *testing.B) {
	s, _ := ticked(b, 500, 25_000)
	for b.Loop() {
		if _, err := Open(context.Background(), s, ticking(), rand.Reader); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkExportAndOpenPack(b *testing.B) {
	s, _ := ticked(b, 500, 25_000)
	for b.Loop() {
		var pack bytes.Buffer
		if err := Export(context.Background(), s, &pack); err != nil {
			b.Fatal(err)
		}
		if _, err := OpenPack(context.Background(), pack.Bytes()); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(pack.Len()), "pack-bytes")
	}
}
