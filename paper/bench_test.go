package paper_test

import (
	"fmt"
	"testing"

	"doorwright/internal/site"
	"doorwright/mend"
	"doorwright/paper"
)

// BenchmarkSite makes the full set of papers of a site: all door sheets, job set, handover pack, labels and workbook,
// each to its bytes. The examination, which papers are made from, is timed beside it.
func BenchmarkSite(b *testing.B) {
	for _, doors := range []int{10, 100} {
		j := readJob(b, site.Generate(doors))
		b.Run(fmt.Sprintf("examine/%d", doors), func(b *testing.B) {
			for b.Loop() {
				mend.NewExaminer().Examine(j)
			}
		})
		x := mend.NewExaminer().Examine(j)
		b.Run(fmt.Sprintf("papers/%d", doors), func(b *testing.B) {
			b.ReportAllocs()
			pages, size := 0, 0
			for b.Loop() {
				pages, size = fullSet(b, paper.NewWork(x, nil))
			}
			b.ReportMetric(float64(pages), "pages")
			b.ReportMetric(float64(size)/1e6, "MB")
		})
	}
}

func fullSet(b *testing.B, w *paper.Work) (pages, size int) {
	b.Helper()
	f := frame(b, "a4")
	sheets, err := w.DoorSheets(f)
	if err != nil {
		b.Fatal(err)
	}
	labels, err := w.Labels(paper.Stock{
		Page: f.Size, Columns: 3, Rows: 8, Wide: 64, High: 34, Across: 64, Down: 34,
	}.Centred(), nil)
	if err != nil {
		b.Fatal(err)
	}
	for _, p := range []*paper.Paper{sheets, w.JobSet(f), w.Handover(f), labels} {
		data, err := p.PDF()
		if err != nil {
			b.Fatal(err)
		}
		pages, size = pages+len(p.Pages), size+len(data)
	}
	book, err := paper.Workbook(w.Schedules())
	if err != nil {
		b.Fatal(err)
	}
	return pages, size + len(book)
}
