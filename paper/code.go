package paper

import (
	"fmt"
	"strings"

	goqr "github.com/piglig/go-qr"

	"doorwright/draw"
)

// CodeText is what the code on a door sheet holds: job, door and revision, as a query string that any reader can take
// apart.
func CodeText(job, door, revision string) string {
	return "doorwright?job=" + escaped(job) + "&door=" + escaped(door) + "&rev=" + escaped(revision)
}

// escaped is text with everything but letters, digits and -._~ in percent signs and hexadecimals (RFC 3986, 2.1, 2.3).
func escaped(text string) string {
	var b strings.Builder
	for _, c := range []byte(text) {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || strings.IndexByte("-._~", c) >= 0 {
			b.WriteByte(c)
			continue
		}
		fmt.Fprintf(&b, "%%%02X", c)
	}
	return b.String()
}

// quiet is the free margin of a code, in modules (ISO/IEC 18004).
const quiet = 4

// codeAt is the code (ISO/IEC 18004) with its upper right corner at a point, its quiet zone included.
func codeAt(text string, corner draw.Point, size draw.MM) ([]draw.Item, error) {
	code, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		return nil, fmt.Errorf("no code can be made of %q: %w", text, err)
	}
	n := code.Size()
	module := size / draw.MM(n+2*quiet)
	var all []draw.Item
	for y := range n {
		for x := 0; x < n; x++ {
			if !code.Module(x, y) {
				continue
			}
			from := x
			for x+1 < n && code.Module(x+1, y) {
				x++
			}
			all = append(all, draw.Rect{
				Fill: draw.Black, At: draw.Point{X: corner.X - size + module*draw.MM(from+quiet), Y: corner.Y +
					module*draw.MM(y+quiet)},
				Width: module * draw.MM(x+1-from), Height: module,
			})
		}
	}
	return all, nil
}
