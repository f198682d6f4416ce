package proof

import (
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
)

// matrix gathers the rows of a door over the limit cases: the effect of the nominal case, or "differs" where another
// case comes to another effect.
func matrix(d *job.Door, watches []*watch) []Row {
	var rows []Row
	for _, c := range situation.Causes() {
		for _, with := range []string{"", withFire, withRelease} {
			if r, ok := gather(rowKey{d.ID, c.ID, with}, c, watches); ok {
				rows = append(rows, r)
			}
		}
	}
	return rows
}

func gather(key rowKey, c situation.Cause, watches []*watch) (Row, bool) {
	row := Row{Cause: c.ID, With: key.with}
	var first *rowSeen
	for _, w := range watches {
		seen := w.rows[key]
		if seen == nil {
			continue
		}
		row.Title = c.TitleAt(w.is)
		if seen.restless {
			return Row{Cause: c.ID, Title: row.Title, With: key.with, Step: seen.step, Says: Restless}, true
		}
		if first == nil {
			first = seen
			row.Step, row.Alarm, row.Says = seen.step, seen.alarm, inWords(seen.effects)
			row.Volts = unit.Band[unit.Volt]{Low: seen.volts, High: seen.volts}
			row.Amps = unit.Band[unit.Ampere]{Low: abs(seen.amps), High: abs(seen.amps)}
			continue
		}
		if !slices.Equal(seen.effects, first.effects) {
			row.Says = "differs"
		}
		row.Volts, row.Amps = row.Volts.With(seen.volts), row.Amps.With(abs(seen.amps))
	}
	return row, first != nil
}

// Restless stands in place of an effect where some limit case does not come to rest: such a row has no voltages.
const Restless = "restless"

// inWords writes effects one after another: "released, then held".
func inWords(effects []situation.Effect) string {
	var words []string
	for _, e := range effects {
		words = append(words, e.String())
	}
	return strings.Join(words, ", then ")
}

// loads gathers what each supply had to give, from the watches that saw it. The first limit case of an island is the nominal one.
func loads(j *job.Job, of map[string][]*watch) []Load {
	var all []Load
	for _, s := range j.Supplies {
		if of[s.ID] == nil {
			continue // it shares no copper with the doors that are asked about
		}
		l := Load{Supply: s}
		first := true
		for _, w := range of[s.ID] {
			l.Restless = l.Restless || w.unrest
			seen := w.loads[s.ID]
			if seen == nil {
				continue
			}
			if first {
				l.Idle, l.Items = seen.idle, seen.items
				first = false
			}
			l.Highest = max(l.Highest, seen.highest)
			l.Battery = max(l.Battery, seen.battery)
			if !seen.any {
				continue
			}
			if l.Volts.IsZero() {
				l.Volts = seen.volts
			}
			l.Volts = l.Volts.With(seen.volts.Low).With(seen.volts.High)
		}
		for _, p := range s.Model.Ports {
			if p.Value.Is == "source" {
				l.Rated = p.Value.Limit
			}
		}
		all = append(all, l)
	}
	return all
}
