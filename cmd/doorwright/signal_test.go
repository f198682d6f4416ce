package main

import (
	"os"
	"path/filepath"
	"testing"
)

// Cards and a capture, as printed. UPDATE=1 go test ./cmd/doorwright prints them anew; the difference is to be read like
// any other change.
func TestSignalsAsPrinted(t *testing.T) {
	const tap = "testdata/tap.capture"
	for _, c := range []struct {
		golden string
		args   []string
	}{
		{"card.txt", []string{"card", "90/324"}},
		{"card-number.txt", []string{"card", "5898564"}},
		{"card-bits.txt", []string{"card", "11010010111111110101110111"}},
		{"card-swapped.txt", []string{"card", "90/324", "165/65211"}},
		{"card-lost.txt", []string{"card", "90/324", "0010110100000000101001000"}},
		{"card-nothing.txt", []string{"card", "90/324", "17/40961"}},
		{"card-swapped.json", []string{"card", "90/324", "165/65211", "--format", "json"}},
		{"frames.txt", []string{"frames", tap}},
		{"frames.csv", []string{"frames", tap, "--format", "csv"}},
		{"frames.json", []string{"frames", tap, "--format", "json"}},
	} {
		got := printed(t, c.args...)
		path := filepath.Join("testdata", "golden", c.golden)
		if os.Getenv("UPDATE") != "" {
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s: %s", c.golden, firstDifference(string(want), got))
		}
	}
}
