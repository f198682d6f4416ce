package signal

import (
	"fmt"
	"strings"
	"testing"
)

// capture is a text of n bytes of traffic or of the worst there is.
func capture(kind string, n int) string {
	unit := "53 00 08 00 04 60 EB AA 53 80 08 00 05 40 68 9F\n"
	switch kind {
	case "starts without frames":
		unit = "53 00 A0 05 04 "
	case "one byte repeated":
		unit = "53 "
	}
	return strings.Repeat(unit, n*3/len(unit))
}

// The time for a byte must not grow with the length of the capture, whatever stands in it.
func BenchmarkCapture(b *testing.B) {
	for _, kind := range []string{"traffic", "starts without frames", "one byte repeated"} {
		for _, n := range []int{10_000, 100_000} {
			text := capture(kind, n)
			b.Run(fmt.Sprintf("%s/%d", kind, n), func(b *testing.B) {
				b.SetBytes(int64(n))
				for b.Loop() {
					bytes, wrong := ReadBytes("", text)
					if len(wrong) > 0 {
						b.Fatal(wrong)
					}
					bytes.Explain(bytes.Split())
				}
			})
		}
	}
}

func BenchmarkCompare(b *testing.B) {
	expected, received := number(b, "90/324"), number(b, "165/65211")
	formats := Formats()
	for b.Loop() {
		Compare(expected, received, formats)
	}
}
