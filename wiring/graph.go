package wiring

import (
	"container/heap"
	"slices"

	"doorwright/job"
)

// graph is places and the runs between them.
type graph struct {
	index map[*job.Place]int
	links [][]link // by place
	dist  []float64
	came  []hop // how each place was reached
	epoch []int // the search in which dist and came were set
	now   int
}

// link is all runs between two places.
type link struct {
	to   int
	runs []*job.Run
}

// hop is the run by which a place was reached, and from where.
type hop struct {
	run  *job.Run
	from int
}

func newGraph(j *job.Job) *graph {
	n := len(j.Places)
	g := &graph{
		index: make(map[*job.Place]int, n), links: make([][]link, n),
		dist: make([]float64, n), came: make([]hop, n), epoch: make([]int, n),
	}
	for i, p := range j.Places {
		g.index[p] = i
	}
	at := map[[2]int]int{} // where in links[a] the runs from a to b stand
	for _, run := range j.Runs {
		a, b := g.index[run.From], g.index[run.To]
		for _, e := range [][2]int{{a, b}, {b, a}} {
			i, ok := at[e]
			if !ok {
				i = len(g.links[e[0]])
				at[e] = i
				g.links[e[0]] = append(g.links[e[0]], link{to: e[1]})
			}
			g.links[e[0]][i].runs = append(g.links[e[0]][i].runs, run)
		}
	}
	return g
}

// hopMetres makes a way with fewer joints worth some metres of cable.
const hopMetres = 1

// way finds the shortest way from one place to another over runs that suit. Of several runs between two places it takes
// the one that suits best, and the shortest of those that suit alike.
//
// It looks from the end at which fewer runs meet, so that a riser with hundreds of runs is not searched for each of
// them. Source: Dijkstra, Numerische Mathematik 1 (1959) 269-271.
func (g *graph) way(from, to *job.Place, suits func(*job.Run) (float64, bool)) ([]*job.Run, bool) {
	a, b := g.index[from], g.index[to]
	turned := len(g.links[a]) > len(g.links[b])
	if turned {
		a, b = b, a
	}
	g.now++
	g.dist[a], g.came[a], g.epoch[a] = 0, hop{}, g.now
	for todo := (&frontier{{a, 0}}); todo.Len() > 0; {
		here := heap.Pop(todo).(reached)
		if here.place == b {
			return g.back(a, b, !turned), true
		}
		if here.dist > g.dist[here.place] {
			continue // reached by a shorter way since
		}
		for _, l := range g.links[here.place] {
			run := best(l.runs, suits)
			if run == nil {
				continue
			}
			d := here.dist + float64(run.Length()) + hopMetres
			if g.epoch[l.to] != g.now || d < g.dist[l.to] {
				g.dist[l.to], g.came[l.to], g.epoch[l.to] = d, hop{run, here.place}, g.now
				heap.Push(todo, reached{l.to, d})
			}
		}
	}
	return nil, false
}

// best is the run that suits best; nil when none does.
func best(runs []*job.Run, suits func(*job.Run) (float64, bool)) *job.Run {
	var found *job.Run
	var most float64
	for _, run := range runs {
		score, ok := suits(run)
		if ok && (found == nil || score > most || score == most && run.Length() < found.Length()) {
			found, most = run, score
		}
	}
	return found
}

// back lists the runs by which a search from a reached b, from b on, or from a on when turned about.
func (g *graph) back(a, b int, turn bool) []*job.Run {
	var runs []*job.Run
	for at := b; at != a; at = g.came[at].from {
		runs = append(runs, g.came[at].run)
	}
	if turn {
		slices.Reverse(runs)
	}
	return runs
}

// joined says whether runs of any kind join two places.
func (g *graph) joined(from, to *job.Place) bool {
	_, ok := g.way(from, to, func(*job.Run) (float64, bool) { return 0, true })
	return ok
}

// reached is a place and how far the way there is.
type reached struct {
	place int
	dist  float64
}

// frontier is a heap of places reached, the nearest first and the first written among equals.
type frontier []reached

func (f frontier) Len() int { return len(f) }
func (f frontier) Less(i, k int) bool {
	return f[i].dist < f[k].dist || f[i].dist == f[k].dist && f[i].place < f[k].place
}
func (f frontier) Swap(i, k int) { f[i], f[k] = f[k], f[i] }
func (f *frontier) Push(x any)   { *f = append(*f, x.(reached)) }
func (f *frontier) Pop() any {
	old := *f
	last := old[len(old)-1]
	*f = old[:len(old)-1]
	return last
}
