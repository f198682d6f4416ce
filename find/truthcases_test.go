package find

import (
	"bufio"
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"sync"
	"testing"
)

// mark is how a case stands after a reading.
type mark struct {
	Effort float64
	First  bool    // the true group leads
	Third  bool    // it is among the first three
	Says   float64 // probability of the leading group
	Alike  bool    // the true group leads when suspects that all readings have alike are one group, whatever is seen
	Left   float64 // bits, entropy of the groups
}

// walked is one case gone through by one rule. A run adds each to a file as soon as it is done, so that what an interrupted
// run has found is kept, and files of several runs are one when they are put together.
type walked struct {
	Case     int
	Rule     string
	Suspects int
	Truth    string
	Seen     bool // at some time something is seen that is otherwise at a sound door
	Marks    []mark
	Unsolved int
	Leads    string  // the leading suspect at the end
	Says     float64 // probability of its group
}

// ledger holds all cases gone through, and the file they are added to.
type ledger struct {
	mu   sync.Mutex
	all  []walked
	file *os.File
}

// openLedger reads the cases of a file. With no name nothing is kept.
func openLedger(t *testing.T, name string) *ledger {
	t.Helper()
	l := &ledger{}
	if name == "" {
		return l
	}
	var err error
	if l.file, err = os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := l.file.Close(); err != nil {
			t.Error(err)
		}
	})
	lines := bufio.NewScanner(l.file)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var w walked
		if err := json.Unmarshal(lines.Bytes(), &w); err != nil {
			t.Fatalf("%s: %v; delete the line", name, err)
		}
		if !l.has(w.Case, w.Rule) {
			l.all = append(l.all, w)
		}
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return l
}

func (l *ledger) has(c int, rule string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.ContainsFunc(l.all, func(w walked) bool { return w.Case == c && w.Rule == rule })
}

func (l *ledger) add(t *testing.T, w walked) {
	t.Helper()
	l.mu.Lock()
	defer l.mu.Unlock()
	l.all = append(l.all, w)
	if l.file == nil {
		return
	}
	line, err := json.Marshal(w)
	if err == nil {
		_, err = l.file.Write(append(line, '\n'))
	}
	if err != nil {
		t.Fatal(err)
	}
}

// The harness: doors, faults and part values drawn, readings by ngspice, and how often the finder names the true group. The
// number of a case says all of it: case 1007 is the same in every run. Interrupted and called again, this goes on where it
// was:
//
//	go test ./find -run TestTruthOfNgspice -v -timeout 3h -from 1000 -cases 2000 -kept truth.jsonl
//
// With -cases 0 it makes the tables of what the file holds.
func TestTruthOfNgspice(t *testing.T) {
	if testing.Short() {
		*truthCases = min(*truthCases, 2) // two doors side by side
	}
	l := openLedger(t, *truthKept)
	t.Run("doors", func(t *testing.T) {
		for a, text := range arrangements {
			t.Run(fmt.Sprint(a+1), func(t *testing.T) {
				t.Parallel()
				l.visit(t, a, text)
			})
		}
	})
	slices.SortFunc(l.all, func(a, b walked) int {
		return cmp.Or(cmp.Compare(a.Case, b.Case), cmp.Compare(a.Rule, b.Rule))
	})
	l.tell(t)
}

// visit goes through the cases of one arrangement that are asked for and not there yet.
func (l *ledger) visit(t *testing.T, arrangement int, text string) {
	var f *Finder
	var alike []int
	for c := *truthFrom; c < *truthFrom+*truthCases; c++ {
		if c%len(arrangements) != arrangement {
			continue
		}
		ways := slices.DeleteFunc(truthWays(c), func(w way) bool { return l.has(c, w.name) })
		if len(ways) == 0 {
			continue
		}
		if f == nil {
			f = finderAsFound(t, text)
			alike = groupsOf(f.book, f.suspects, false)
		}
		v := newVisit(t, f, uint64(c)+1)
		v.alike = alike
		_, seen := v.complaint()
		for _, way := range ways {
			v.unsolved = 0
			marks := v.walk(way)
			w := walked{
				Case: c, Rule: way.name, Suspects: len(f.suspects), Truth: v.truth.id, Seen: seen, Marks: marks, Unsolved: v.unsolved,
			}
			leads := f.Suspects()[0]
			w.Leads, w.Says = leads.Suspects[0].ID, math.Round(leads.Probability*1e4)/1e4
			l.add(t, w)
		}
	}
}

// tell makes the tables, and holds the suggested readings against what is the least to ask.
func (l *ledger) tell(t *testing.T) {
	tables := map[string][][]mark{}
	suspects, unsolved := 0, 0
	var missed []walked
	for _, w := range l.all {
		tables[w.Rule] = append(tables[w.Rule], w.Marks)
		suspects, unsolved = suspects+w.Suspects, unsolved+w.Unsolved
		if n := len(w.Marks); w.Rule == "suggested" && n > 0 && !w.Marks[n-1].First {
			missed = append(missed, w)
			t.Logf("case %d, arrangement %d: %s was taken for %s (%.2f)", w.Case, w.Case%len(arrangements)+1, w.Truth, w.Leads, w.Says)
		}
	}
	if len(tables["suggested"]) == 0 {
		t.Fatal("no case was gone through")
	}
	t.Logf("%d cases, doors of %d suspects on average, %d readings without an answer of ngspice", len(tables["suggested"]),
		suspects/len(l.all), unsolved)
	for _, name := range []string{"suggested", "with looks", "fixed order", "random"} {
		t.Log("\n" + byReadings(name, tables[name]))
	}
	t.Log("\n" + byEffort(tables))
	t.Log("\n" + bySight(l.all))
	t.Log("\n" + bitsLeft(tables))
	for _, name := range []string{"suggested", "with looks", "told"} {
		t.Log(name + "\n" + reliability(tables[name]))
	}
	t.Log("missed\n" + byClass(missed))
	first, third := shareAt(tables["suggested"], func(m []mark) int { return min(8, len(m)) })
	if third < 0.5 {
		t.Errorf("first in %.0f %%, among the first three in %.0f %% after 8 readings", 100*first, 100*third)
	}
}
