// Package paper makes the documents that people carry, sign, stick on and keep: door sheets, the job set, the handover
// pack, labels, and the schedules as a workbook.
//
// A Paper is a list of pages, each a draw.Sheet in millimetres, so that screen and paper show the same. PDF writes it
// with its fonts embedded and its text selectable; the same values give the same bytes, the dates among them.
//
// What was calculated, measured and witnessed is told apart by words and marks, never by hue alone. What was not done
// says so; nothing is filled in.
package paper

import "doorwright/draw"

// Size is a size of sheet, upright.
type Size struct {
	Name          string
	Width, Height draw.MM
}

// Sizes are the sizes that papers come in: A4 (ISO 216) and Letter (ANSI/ASME Y14.1 size A, 8.5 in by 11 in).
func Sizes() []Size {
	return []Size{{"a4", 210, 297}, {"letter", 215.9, 279.4}}
}

// FindSize finds a size by name.
func FindSize(name string) (Size, bool) {
	for _, s := range Sizes() {
		if s.Name == name {
			return s, true
		}
	}
	return Size{}, false
}
