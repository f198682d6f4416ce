package meter

import (
	"fmt"
	"slices"

	"doorwright/cable"
	"doorwright/job"
	"doorwright/unit"
	"doorwright/wiring"
)

// FirstFix is one measurement on a cable before anything is connected to it.
type FirstFix struct {
	Run      string
	What     string // what is measured: "ring out", "loop", "insulation", "screen"
	Where    string // between what, at which end
	Red      string // the core of the red lead, of a loop only; else empty
	Black    string // the core of the black lead
	Quantity string // "ohms", or "insulation at 250 V"
	Band            // ohm; High of no meaning when Open
	Why      string
}

// The limits at first fix. 0.5 megohm at 250 V d.c. is the least of circuits at extra-low voltage (IEC 60364-6, table
// 6A); a new dry cable shows hundreds of megohm, so that less than 10 is a reason to look (common practice).
const insulationWanted = 10e6

// Doubtful says that an insulation is enough and yet so low that it is looked into, on a new cable.
func (f FirstFix) Doubtful(ohms float64) bool {
	return f.What == "insulation" && ohms >= f.Low && ohms < f.Nominal
}

// FirstFixOf lists what is measured on the runs of a door before anything is connected: each core rung out, each loop,
// insulation, and the screen. Insulation is tested with every unit off both ends: 250 V destroys electronics.
func FirstFixOf(plan *wiring.Plan, door string, m Meter, loops []Loop) []FirstFix {
	carries := map[*job.Run]bool{}
	for _, w := range plan.Conductors {
		if w.Run != nil && w.Door == door {
			carries[w.Run] = true
		}
	}
	var all []FirstFix
	for _, r := range plan.Job.Runs {
		if r.From.Door != door && r.To.Door != door && !carries[r] {
			continue
		}
		all = append(all, firstFix(plan.Job, r, m, loops)...)
	}
	return all
}

func firstFix(j *job.Job, r *job.Run, m Meter, loops []Loop) []FirstFix {
	share := lengthShare
	if r.Pulled > 0 {
		share = 0
	}
	cores := r.Type.Cores()
	all := []FirstFix{{
		Run: r.ID, What: "ring out", Quantity: string(Ohms),
		Where: fmt.Sprintf("each of the %d cores of %s against the first, joined one by one at %s, read at %s", len(cores), r.ID, r.To.ID, r.From.ID),
		Band:  Band{High: 2 * float64(longest(cores, r, j)) * (1 + share) * 1.1}, Why: "each core rings to its own number and colour only; a core that rings to two is bridged",
	}}
	for i := 0; i+1 < len(cores); i += 2 {
		f := loopOf(j, r, cores[i], cores[i+1], m, share)
		if k := slices.IndexFunc(loops, func(l Loop) bool { return l.Run == r.ID }); k >= 0 {
			f.Nominal = float64(loops[k].Ohms)
			f.Low, f.High = f.Nominal*0.95-m.Ohms.Error(f.Nominal), f.Nominal*1.05+m.Ohms.Error(f.Nominal)
			f.Why = "as measured on this run"
		}
		all = append(all, f)
	}
	all = append(all, FirstFix{
		Run: r.ID, What: "insulation", Quantity: "insulation at 250 V", Band: Band{Open: true, Nominal: insulationWanted, Low: float64(leastInsulation)},
		Where: "each core against all others and against earth, every unit off both ends",
		Why:   "less than 10 Mohm on a new cable is water or a staple, and is looked for. Never with a unit connected",
	})
	if len(r.Type.Screens()) > 0 {
		all = append(all, FirstFix{
			Run: r.ID, What: "screen", Quantity: string(Ohms), Band: Band{High: 1 + float64(m.LeadOhms)}, Where: "screen against earth, at the end where it is tied",
			Why: "through; with that end lifted it must be over range, or the screen is earthed twice",
		})
	}
	return all
}

// loopOf is the loop of two cores of one run, joined at the far end.
func loopOf(j *job.Job, r *job.Run, one, two cable.Core, m Meter, share float64) FirstFix {
	length := r.Length()
	ohms := func(t unit.Celsius) cable.Resistance {
		a, b := one.Conductor.Resistance(length, t), two.Conductor.Resistance(length, t)
		return cable.Resistance{Nominal: a.Nominal + b.Nominal, Max: a.Max + b.Max}
	}
	nominal := float64(ohms(20).Nominal)
	w := m.Ohms.widened(band{
		float64(ohms(j.Temperature.Low).Nominal) * (1 - share), float64(ohms(j.Temperature.High).Max)*(1+share) + float64(m.LeadOhms),
	})
	return FirstFix{
		Run: r.ID, What: "loop", Quantity: string(Ohms), Band: Band{Nominal: nominal, Low: max(0, w.low), High: w.high},
		Red: coreName(one), Black: coreName(two),
		Where: fmt.Sprintf("%s and %s at %s, joined at %s", coreName(one), coreName(two), r.From.ID, r.To.ID),
		Why: fmt.Sprintf("out and back over %s of %s; more is a bad joint or a longer cable, less a joint before the end",
			j.Measures.Length(length), r.TypeID),
	}
}

func coreName(c cable.Core) string {
	if name := cable.ColourName(c.Colour); name != "" {
		return name
	}
	return fmt.Sprintf("core %d", c.Index)
}

// lengthShare is how much longer or shorter than its length a cable may be that is not pulled yet (common practice: the
// allowance on a designed length is about as much).
const lengthShare = 0.15

// longest is the highest resistance a core of a run may have.
func longest(cores []cable.Core, r *job.Run, j *job.Job) float64 {
	most := 0.0
	for _, c := range cores {
		most = max(most, float64(c.Conductor.Resistance(r.Length(), j.Temperature.High).Max))
	}
	return most
}
