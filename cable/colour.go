package cable

import "strings"

// colourLetters are the codes of IEC 60757:2021 in the order of its list (the order and TQ from memory). Two colours on
// one core are written one after the other in this order (clause 5.1).
var colourLetters = []struct{ code, name string }{
	{"BK", "black"},
	{"BN", "brown"},
	{"RD", "red"},
	{"OG", "orange"},
	{"YE", "yellow"},
	{"GN", "green"},
	{"BU", "blue"},
	{"VT", "violet"},
	{"GY", "grey"},
	{"WH", "white"},
	{"PK", "pink"},
	{"GD", "gold"},
	{"TQ", "turquoise"},
	{"SR", "silver"},
}

// ColourName spells a core colour out: "RDBU" is "red-blue", "GNYE" is "green-yellow". Text that is not made of
// IEC 60757 letters is somebody's own marking ("black 3") and comes back as it is.
func ColourName(colour string) string {
	var names []string
	for rest := colour; rest != ""; rest = rest[2:] {
		name := letterName(rest)
		if name == "" {
			return colour
		}
		names = append(names, name)
	}
	return strings.Join(names, "-")
}

// letterName is the colour whose code stands at the start of text, or empty.
func letterName(text string) string {
	for _, c := range colourLetters {
		if strings.HasPrefix(text, c.code) {
			return c.name
		}
	}
	return ""
}

// looksLikeLetters says whether text was meant as IEC 60757 letters: capitals only.
func looksLikeLetters(text string) bool {
	for _, r := range text {
		if r < 'A' || r > 'Z' {
			return false
		}
	}
	return text != ""
}

// letters lists the codes for a message.
func letters() string {
	codes := make([]string, len(colourLetters))
	for i, c := range colourLetters {
		codes[i] = c.code
	}
	return strings.Join(codes, ", ")
}
