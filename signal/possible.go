package signal

// Possible is a card that a number may stand for.
type Possible struct {
	Card
	Note string // how the number is to be read for it; empty when there is only one way
}

// Cards lists the cards a number may stand for, format by format: for bits those of their length, for fields those that
// they fit into, for one number every usual way to write a card as one.
func Cards(n Number, formats []*Format) []Possible {
	var all []Possible
	for _, f := range formats {
		for _, c := range candidates(n, Number{}, f) {
			if card, err := f.Decode(c.bits); err == nil {
				all = append(all, Possible{card, c.note})
			}
		}
	}
	return all
}
