package paper

// Arabic letters change their form with their neighbours. The forms stand in the block Arabic Presentation Forms-B of
// Unicode, from U+FE80 on, in the order of the letters U+0621 to U+064A: alone, at the end, at the start, in the
// middle,
// as many as a letter has.

// formCounts is how many forms each letter from U+0621 on has; 0 for what is no letter of this list.
var formCounts = [...]int{
	1, 2, 2, 2, 2, 4, 2, 4, 2, 4, 4, 4, 4, 4, 2, 2, 2, 2, 4, 4, 4, 4, 4, 4, 4, 4, // hamza to ghain, U+0621 to U+063A
	0, 0, 0, 0, 0, 0, // U+063B to U+0640
	4, 4, 4, 4, 4, 4, 4, 2, 2, 4, // feh to yeh, U+0641 to U+064A
}

const (
	firstLetter = 0x621
	firstForm   = 0xFE80
	tatweel     = 0x640 // stretches a join, and joins on both sides
	lam, alef   = 0x644, 0x627
	lamAlef     = 0xFEFB // alone; the next is at the end
)

// formsOf is the first form of a letter, and how many it has.
func formsOf(r rune) (first rune, count int) {
	i := int(r) - firstLetter
	if i < 0 || i >= len(formCounts) {
		return r, 0
	}
	first = firstForm
	for _, n := range formCounts[:i] {
		first += rune(n)
	}
	return first, formCounts[i]
}

// joinsOn says that a letter joins to the one after it.
func joinsOn(r rune) bool {
	_, n := formsOf(r)
	return n == 4 || r == tatweel
}

// joinsBack says that a letter joins to the one before it.
func joinsBack(r rune) bool {
	_, n := formsOf(r)
	return n >= 2 || r == tatweel
}

// shaped gives each Arabic letter the form that its neighbours ask for; lam and alef become one.
func shaped(text []rune) []rune {
	out := make([]rune, 0, len(text))
	for i := 0; i < len(text); i++ {
		r := text[i]
		before := i > 0 && joinsOn(text[i-1]) && joinsBack(r)
		after := i+1 < len(text) && joinsOn(r) && joinsBack(text[i+1])
		if r == lam && i+1 < len(text) && text[i+1] == alef {
			out = append(out, lamAlef+step(before))
			i++
			continue
		}
		first, count := formsOf(r)
		switch {
		case count == 0:
			out = append(out, r)
		case before && after && count == 4:
			out = append(out, first+3)
		case after && count == 4:
			out = append(out, first+2)
		default:
			out = append(out, first+step(before && count > 1))
		}
	}
	return out
}

func step(yes bool) rune {
	if yes {
		return 1
	}
	return 0
}
