package draw

import (
	"fmt"
	"strings"
)

// Ink is a named ink. A core colour is the ink of its IEC 60757 letters: "RD", "GNYE"; letters of two colours stand for a
// base with a stripe.
type Ink string

// The inks that are no core colours.
const (
	NoInk Ink = ""      // nothing: no stroke, no fill
	Black Ink = "black" // lines and text; light where the page is dark
	Grey  Ink = "grey"  // what steps back
	Shade Ink = "shade" // a faint fill
	Paper Ink = "paper" // the page itself
	Warn  Ink = "warn"  // what needs attention; always beside a sign or a word
)

// RGB is a colour as shown: 0 to 255 each.
type RGB struct{ R, G, B uint8 }

// Hex is the colour as pages write it: "#a01818".
func (c RGB) Hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// tone is an ink on a light page or on paper, and on a dark page.
type tone struct{ light, dark RGB }

// same is a tone that does not mind the page.
func same(r, g, b uint8) tone { return tone{RGB{r, g, b}, RGB{r, g, b}} }

// tones are all inks. The core colours are our choice of what can be told apart on both pages; IEC 60757 gives letters
// only.
var tones = map[Ink]tone{
	Black: {RGB{20, 20, 20}, RGB{232, 232, 228}},
	Grey:  {RGB{105, 105, 105}, RGB{165, 165, 165}},
	Shade: {RGB{240, 240, 237}, RGB{44, 46, 50}},
	Paper: {RGB{255, 255, 255}, RGB{24, 26, 29}},
	Warn:  {RGB{176, 20, 20}, RGB{255, 120, 110}},
	"BK":  same(25, 25, 25),
	"BN":  same(122, 72, 34),
	"RD":  same(208, 32, 32),
	"OG":  same(240, 130, 20),
	"YE":  same(246, 208, 30),
	"GN":  same(40, 140, 60),
	"BU":  same(40, 90, 200),
	"VT":  same(126, 60, 160),
	"GY":  same(150, 150, 150),
	"WH":  same(255, 255, 255),
	"PK":  same(244, 150, 180),
	"GD":  same(196, 160, 70),
	"TQ":  same(40, 180, 180),
	"SR":  same(200, 200, 205),
}

// Light is the colour of the ink on a light page and on paper. Names that are no inks are Black.
func (i Ink) Light() RGB { return i.tone().light }

// Dark is the colour of the ink on a dark page.
func (i Ink) Dark() RGB { return i.tone().dark }

func (i Ink) tone() tone {
	if t, known := tones[i]; known {
		return t
	}
	return tones[Black]
}

// CoreInks gives the base and the stripe of a core's colour, NoInk where it has no stripe: "RDBU" is red with blue,
// "GNYE" green with yellow. What is not made of IEC 60757 letters, such as "black 3", is Black.
func CoreInks(colour string) (base, stripe Ink) {
	colour, _, _ = strings.Cut(colour, " ")
	isColour := func(code string) bool {
		_, known := tones[Ink(code)]
		return known && strings.ToUpper(code) == code
	}
	switch {
	case len(colour) == 2 && isColour(colour):
		return Ink(colour), NoInk
	case len(colour) == 4 && isColour(colour[:2]) && isColour(colour[2:]):
		return Ink(colour[:2]), Ink(colour[2:])
	}
	return Black, NoInk
}
