package proof

import (
	"doorwright/fault"
	"doorwright/job"
	"doorwright/situation"
)

// verdict is what a view of a door comes to with a fault, from the instants looked at so far. What could not change it is
// not looked at: once a fault shows while nothing happens, nothing can show it sooner.
type verdict struct {
	t      *trial
	view   *view
	ways   func(cause string) bool // ways out that are of interest; nil for all
	notice Notice
	shows  string
	idle   situation.Effect
	gone   []bool      // by cause: it is a way out of the sound door, and no longer
	looked int         // how many instants were looked at
	whole  bool        // the whole island had to be
	takes  []*job.Door // other doors that a short takes along
	blown  []string    // fuses that have opened while nothing happens
}

// verdict opens a verdict in which nothing has been looked at yet.
func (t *trial) verdict(v *view) *verdict {
	return &verdict{t: t, view: v, notice: Never, gone: make([]bool, len(t.causes))}
}

// wants says that an instant can change the verdict.
func (d *verdict) wants(q, k int) bool {
	id := d.t.causes[q].ID
	if rankOf(noticeOf(id, "")) < rankOf(d.notice) {
		return true
	}
	return !d.gone[q] && d.view.isWay(q, k) && needsWayOut(d.t.door) && (d.ways == nil || d.ways(id))
}

// through takes the door through its causes with a fault, nil when the closeup has it.
func (d *verdict) through(c *situation.Closeup, f *fault.Fault) {
	wide := c.Wide
	c.Run(f, d.wants, func(q, k int, b *situation.Bench, shows situation.Shows, _ bool) {
		g, _ := lookAt(b, d.t.door, shows)
		if q == 0 && k == 0 && f != nil && f.Door == d.t.door.ID && shorts(f) {
			d.lookAround(c, b)
		}
		d.see(q, k, &g)
	})
	d.whole = c.Wide > wide
}

// see takes one instant into the verdict.
func (d *verdict) see(q, k int, g *glance) {
	cause := &d.t.causes[q]
	d.looked++
	if q == 0 && k == 0 {
		d.idle = g.effect
	}
	if what := differs(&d.view.sound[q][k], g); what != "" {
		if n := noticeOf(cause.ID, what); rankOf(n) < rankOf(d.notice) {
			d.notice, d.shows = n, what
			if cause.ID != "idle" {
				d.shows += ": " + cause.Title
			}
		}
	}
	if d.view.isWay(q, k) && g.effect != situation.Released {
		d.gone[q] = true
	}
}

// isWay says that the sound door lets people out at an instant, as it must.
func (v *view) isWay(q, k int) bool {
	d := &v.sound[q][k].demand
	return d.req != nil && d.req != reqLetsIn && d.effect == situation.Released
}
