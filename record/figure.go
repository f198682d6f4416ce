package record

import (
	"regexp"
	"strings"
)

// quantities are what a meter shows that a step may ask to be written down, with a figure as people write it.
var quantities = []struct {
	asked, given *regexp.Regexp
	like         string
}{
	{
		regexp.MustCompile(`^(?:\d values in )?M?ohm\b`),
		regexp.MustCompile(`\d\s*[mkKMG]?(?:[oO]hms?\b|\x{3A9}|\x{2126})|(?i:\b` + overRange + `\b)`), "0.8 ohm, 200 Mohm or " + overRange, // the letter omega, and the sign made for it
	},
	{regexp.MustCompile(`^(?:least )?m?V\b`), regexp.MustCompile(`\d\s*[mk]?V\b`), "12.8 V"},
	{regexp.MustCompile(`^A\b`), regexp.MustCompile(`\d\s*m?A\b`), "340 mA"},
}

// Lacks says what a result must have that it has not: a figure with its unit for each quantity that is to be measured, as it would
// be written. Empty when nothing is missing.
func (s Step) Lacks(result string) string {
	var lacks []string
	for _, q := range quantities {
		for part := range strings.SplitSeq(s.Evidence, ";") {
			if q.asked.MatchString(strings.TrimSpace(part)) && !q.given.MatchString(result) {
				lacks = append(lacks, q.like)
				break
			}
		}
	}
	return strings.Join(lacks, ", and ")
}
