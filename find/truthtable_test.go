package find

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// shareAt is how often the true group is first and among the first three, at a step of each case.
func shareAt(all [][]mark, upTo func([]mark) int) (first, third float64) {
	for _, m := range all {
		if k := upTo(m); k > 0 {
			first += truth(m[k-1].First)
			third += truth(m[k-1].Third)
		}
	}
	n := float64(max(len(all), 1))
	return first / n, third / n
}

func byReadings(name string, all [][]mark) string {
	var b strings.Builder
	fmt.Fprintf(&b, "| readings, %s | first | first three | effort |\n| --- | --- | --- | --- |\n", name)
	for _, n := range []int{1, 2, 3, 4, 6, 8, 10, 14} {
		first, third := shareAt(all, func(m []mark) int { return min(n, len(m)) })
		effort := 0.0
		for _, m := range all {
			if len(m) > 0 {
				effort += m[min(n, len(m))-1].Effort / float64(len(all))
			}
		}
		fmt.Fprintf(&b, "| %d | %.0f %% | %.0f %% | %.1f |\n", n, 100*first, 100*third, effort)
	}
	return b.String()
}

func byEffort(tables map[string][][]mark) string {
	var b strings.Builder
	b.WriteString("| effort | suggested first (three) | alike in all readings | with looks | with looks, told | fixed order | random |\n" +
		"| --- | --- | --- | --- | --- | --- | --- |\n")
	for _, e := range efforts {
		fmt.Fprintf(&b, "| %g |", e)
		for _, name := range []string{"suggested", "with looks", "told", "fixed order", "random"} {
			first, third := shareAt(tables[name], upTo(e))
			fmt.Fprintf(&b, " %.0f %% (%.0f %%) |", 100*first, 100*third)
			if name == "suggested" {
				alike := 0.0
				for _, m := range tables[name] {
					if k := upTo(e)(m); k > 0 {
						alike += truth(m[k-1].Alike)
					}
				}
				fmt.Fprintf(&b, " %.0f %% |", 100*alike/float64(max(len(tables[name]), 1)))
			}
		}
		b.WriteString("\n")
	}
	return b.String()
}

var efforts = []float64{2, 4, 6, 8, 10, 14, 20}

// upTo counts the marks up to an effort.
func upTo(effort float64) func([]mark) int {
	return func(m []mark) int {
		k, _ := slices.BinarySearchFunc(m, effort+1e-9, func(x mark, e float64) int { return cmp.Compare(x.Effort, e) })
		return k
	}
}

// bySight tells faults that somebody would call for from those that nobody sees.
func bySight(all []walked) string {
	var b strings.Builder
	b.WriteString("| effort | seen: suggested | with looks | with looks, told | unseen: suggested | with looks | with looks, told |\n" +
		"| --- | --- | --- | --- | --- | --- | --- |\n")
	tables := map[bool]map[string][][]mark{true: {}, false: {}}
	for _, w := range all {
		tables[w.Seen][w.Rule] = append(tables[w.Seen][w.Rule], w.Marks)
	}
	for _, e := range efforts {
		fmt.Fprintf(&b, "| %g |", e)
		for _, of := range []struct {
			seen bool
			name string
		}{{true, "suggested"}, {true, "with looks"}, {true, "told"}, {false, "suggested"}, {false, "with looks"}, {false, "told"}} {
			first, _ := shareAt(tables[of.seen][of.name], upTo(e))
			fmt.Fprintf(&b, " %.0f %% |", 100*first)
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "seen: %d of %d", len(tables[true]["suggested"]), len(tables[true]["suggested"])+len(tables[false]["suggested"]))
	return b.String()
}

// bitsLeft is the entropy of the groups that the readings leave, on average.
func bitsLeft(tables map[string][][]mark) string {
	var b strings.Builder
	b.WriteString("| effort | bits left, suggested | with looks | told |\n| --- | --- | --- | --- |\n")
	for _, e := range efforts {
		fmt.Fprintf(&b, "| %g |", e)
		for _, name := range []string{"suggested", "with looks", "told"} {
			left, n := 0.0, 0
			for _, m := range tables[name] {
				if k := upTo(e)(m); k > 0 {
					left, n = left+m[k-1].Left, n+1
				}
			}
			fmt.Fprintf(&b, " %.2f |", left/float64(max(n, 1)))
		}
		b.WriteString("\n")
	}
	return b.String()
}

// reliability is how often the leading group is the true one, by the probability it was told with.
func reliability(all [][]mark) string {
	var b strings.Builder
	b.WriteString("| told | steps | mean told | true |\n| --- | --- | --- | --- |\n")
	edges := []float64{0, 0.2, 0.4, 0.6, 0.7, 0.8, 0.9, 0.97, 1.01}
	for i := range edges[1:] {
		n, told, right := 0, 0.0, 0.0
		for _, m := range all {
			for _, x := range m {
				if x.Says >= edges[i] && x.Says < edges[i+1] {
					n, told, right = n+1, told+x.Says, right+truth(x.First)
				}
			}
		}
		if n > 0 {
			fmt.Fprintf(&b, "| %.0f to %.0f %% | %d | %.0f %% | %.0f %% |\n", 100*edges[i], min(100*edges[i+1], 100), n,
				100*told/float64(n), 100*right/float64(n))
		}
	}
	return b.String()
}

// byClass counts cases that end with another group first, by the class of the fault and of what leads, and how many of them
// are told with 97 % and more.
func byClass(missed []walked) string {
	type pair struct{ truth, leads string }
	count, sure := map[pair]int{}, map[pair]int{}
	var pairs []pair
	for _, w := range missed {
		truth, _, _ := strings.Cut(w.Truth, ":")
		leads, _, _ := strings.Cut(w.Leads, ":")
		p := pair{truth, leads}
		if count[p] == 0 {
			pairs = append(pairs, p)
		}
		count[p]++
		if w.Says >= 0.97 {
			sure[p]++
		}
	}
	slices.SortFunc(pairs, func(a, b pair) int {
		return cmp.Or(cmp.Compare(count[b], count[a]), cmp.Compare(a.truth, b.truth), cmp.Compare(a.leads, b.leads))
	})
	var b strings.Builder
	b.WriteString("| fault | taken for | cases | told with 97 % and more |\n| --- | --- | --- | --- |\n")
	for _, p := range pairs {
		fmt.Fprintf(&b, "| %s | %s | %d | %d |\n", p.truth, p.leads, count[p], sure[p])
	}
	return b.String()
}
