package mend_test

import (
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/mend"
	"doorwright/proof"
	"doorwright/situation"
	"doorwright/standby"
	"doorwright/wiring"
)

func demoPlan(b *testing.B) *wiring.Plan {
	b.Helper()
	j, problems := job.Read("brackwater.yaml", demo.Brackwater)
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	return wiring.Make(j)
}

// BenchmarkExamine is the whole examination of the demo job, and its two parts.
func BenchmarkExamine(b *testing.B) {
	plan := demoPlan(b)
	b.Run("whole", func(b *testing.B) {
		for range b.N {
			mend.NewExaminer().Examine(plan.Job)
		}
	})
	b.Run("proof", func(b *testing.B) {
		for range b.N {
			proof.Prove(plan)
		}
	})
	b.Run("standby", func(b *testing.B) {
		site := situation.New(plan)
		for range b.N {
			standby.Judge(site)
		}
	})
	b.Run("known", func(b *testing.B) {
		x := mend.NewExaminer()
		x.Examine(plan.Job)
		for range b.N {
			x.Examine(plan.Job)
		}
	})
}
