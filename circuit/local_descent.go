package circuit

import "math"

// descend is System.descend within the region: the rest is the straight line it stands on, and the patches are part of
// the network. A saddle is left to the whole.
func (l *Local) descend(r *Report, rest float64) bool {
	d := descent{l: l, at: l.s.trial[:l.s.a.n+1], dir: l.s.trial[l.s.a.n+1:]}
	d.begin()
	l.saddle = false
	brake, furthest := 0.0, l.s.nominal/3
	most := descentStepsLocally
	if l.whole {
		most = descentStepsPatched
	}
	for range most {
		clip := d.direction(brake)
		r.Steps++
		far := 0.0
		for _, k := range l.r.moving {
			far = max(far, math.Abs(d.dir[k]))
		}
		switch {
		case math.IsNaN(far):
			return false
		case far < rest && brake == 0 && clip:
			l.saddle = true
			return false
		case far > furthest && brake < mostBrake:
			brake = max(leastBrake, brakeStep*brake)
			continue
		case far < rest && brake > 0:
			brake = eased(brake)
		case far < rest:
			return true
		}
		t := d.downhill(min(1, furthest/far))
		d.take(t)
		if t == 1 {
			brake = eased(brake)
		}
	}
	return false
}

// How many steps a descent may take: most take some tens, and what takes more is left to the whole.
const (
	descentStepsLocally = 80
	descentStepsPatched = 300
)

// descent is where a descent stands and the step it looks at: voltages by step of the region, and of the patches in
// Local.fell.
type descent struct {
	l       *Local
	at, dir []float64
	slope0  float64 // of the content along the step where it stands
	bend    float64 // how fast that rises along the step by what is linear in the region
}

// fell is where a patch stands in a descent, how far its step goes, and the current it carries there.
type fell struct{ at, dir, current float64 }

// begin starts at the voltages last seen, if they make sense.
func (d *descent) begin() {
	l := d.l
	for _, k := range l.r.moving {
		d.at[k] = l.s.x.volts[k]
		if !(math.Abs(d.at[k]) <= 10*l.s.nominal) {
			d.at[k] = 0
		}
	}
	d.at[l.s.a.n], d.dir[l.s.a.n] = 0, 0
	l.fell = l.fell[:0]
	for i := range l.patches {
		v := l.patches[i].v
		if !(math.Abs(v) <= 10*l.s.nominal) {
			v = 0
		}
		l.fell = append(l.fell, fell{at: v})
	}
	for _, i := range l.r.branches {
		l.s.branch[i].fresh = false
	}
}

// direction is the Newton step from where it stands, under the brake, and whether negative slopes had to be clipped.
func (d *descent) direction(brake float64) (clip bool) {
	l := d.l
	d.stand()
	if !d.factor(false, brake) {
		clip = true
		d.factor(true, brake)
	}
	l.node()
	for _, k := range l.r.moving {
		d.dir[k] = l.s.x.volts[k] - d.at[k]
	}
	for i := range l.patches {
		l.fell[i].dir = l.patches[i].to - l.fell[i].at
	}
	d.measure(clip, brake)
	return clip
}

// stand puts branches and patches where the descent stands.
func (d *descent) stand() {
	for _, i := range d.l.r.branches {
		b := &d.l.s.branch[i]
		b.v = d.at[b.a] - d.at[b.b]
	}
	for i := range d.l.patches {
		d.l.patches[i].v = d.l.fell[i].at
	}
}

// factor linearises and eliminates under the brake; not stable where a sum is not positive.
func (d *descent) factor(clip bool, brake float64) (stable bool) {
	l := d.l
	l.linearise(clip)
	for _, k := range l.r.moving {
		l.s.x.sum[k] += brake
		l.s.x.flow[k] += brake * d.at[k]
	}
	return l.r.run.run(&l.s.x) == 0
}

// measure finds the slope of the content where the descent stands and what is linear in how it changes along the step.
// With H the conductances it was solved with, the slope is minus the step's square in H, which the elimination has as a
// sum of squares: of each step less what its neighbours carry to it, times its sum.
func (d *descent) measure(clip bool, brake float64) {
	l := d.l
	x, a := &l.s.x, l.s.a
	square, steps := 0.0, 0.0
	for _, k := range l.r.moving {
		u := d.dir[k]
		steps += u * u
		for e := a.colAt[k]; e < a.colAt[k+1]; e++ {
			u -= x.weight[e] * d.dir[a.end[e]]
		}
		square += u * u / x.inv[k]
	}
	d.slope0, d.bend = -square, square-brake*steps
	for _, i := range l.r.branches {
		b := &l.s.branch[i]
		_, g := b.lawAt(b.v)
		if g < 0 && clip {
			g = 0
		}
		far := d.dir[b.a] - d.dir[b.b]
		d.bend -= g * far * far
	}
	for i := range l.patches {
		f := &l.fell[i]
		var g float64
		f.current, g = l.patches[i].law.at(f.at)
		d.slope0 -= g * f.dir * f.dir
	}
}

// lawAt is the current of a branch at a voltage, and its slope; that of a leak while it is off.
func (b *branch) lawAt(v float64) (i, g float64) {
	if !b.on {
		return v * openSiemens, openSiemens
	}
	return b.law.at(v)
}

// downhill halves the step t until the content still falls, or is at rest, at its end.
func (d *descent) downhill(t float64) float64 {
	for range 60 {
		if d.slopeAt(t) <= 0 {
			return t
		}
		t /= 2
	}
	return t
}

// slopeAt is the slope of the content along the step at a part of it.
func (d *descent) slopeAt(t float64) float64 {
	l := d.l
	slope := d.slope0 + t*d.bend
	for _, i := range l.r.branches {
		b := &l.s.branch[i]
		far := d.dir[b.a] - d.dir[b.b]
		was, _ := b.lawAt(b.v)
		is, _ := b.lawAt(b.v + t*far)
		slope += (is - was) * far
	}
	for i := range l.patches {
		f := &l.fell[i]
		is, _ := l.patches[i].law.at(f.at + t*f.dir)
		slope += (is - f.current) * f.dir
	}
	return slope
}

// take goes a part of the step.
func (d *descent) take(t float64) {
	for _, k := range d.l.r.moving {
		d.at[k] += t * d.dir[k]
	}
	for i := range d.l.fell {
		d.l.fell[i].at += t * d.l.fell[i].dir
	}
}
