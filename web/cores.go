package web

import (
	"fmt"

	"doorwright/journal"
	"doorwright/wiring"
)

// coreWords say which cores differ between two plans, each end as it is labelled on its unit.
func coreWords(d journal.Difference, was, is *wiring.Plan) []string {
	var all []string
	for _, c := range d.Removed {
		all = append(all, "no longer there: "+c.Way(was))
	}
	for _, c := range d.Moved {
		before, now := c[0].Name()+" ", c[1].Name()+" "
		if before == now {
			before = ""
		}
		all = append(all, "changed: "+now+c[1].Ends(is)+", was "+before+c[0].Ends(was)+"; its ticks no longer count")
	}
	for _, c := range d.Added {
		all = append(all, "new: "+c.Way(is))
	}
	const most = 60
	if len(all) > most {
		all = append(all[:most], fmt.Sprintf("and %d more", len(all)-most))
	}
	return all
}
