package job

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the files with expected results")

// golden compares got with the file, or rewrites the file.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run with -update and read the difference\ngot:\n%s\nwant:\n%s", file, got, want)
	}
}

func files(t *testing.T, pattern string) []string {
	t.Helper()
	found, err := filepath.Glob(pattern)
	if err != nil || len(found) == 0 {
		t.Fatalf("no files match %s (%v)", pattern, err)
	}
	return found
}

func readFile(t testing.TB, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestBadDocumentsGiveEveryProblemWithItsPlace(t *testing.T) {
	for _, file := range append(files(t, "testdata/bad/*.yaml"), files(t, "testdata/bad/*.json")...) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			j, problems := Read(filepath.Base(file), readFile(t, file))
			if j != nil || len(problems) == 0 {
				t.Fatalf("read as a good document")
			}
			golden(t, file+".problems", problems.Error()+"\n")
		})
	}
}

func TestGoodDocumentsAreReadAndSayWhatWasAssumed(t *testing.T) {
	for _, file := range files(t, "testdata/*.yaml") {
		t.Run(filepath.Base(file), func(t *testing.T) {
			j := mustRead(t, file)
			var b strings.Builder
			for _, a := range j.Assumed {
				b.WriteString(a.Where + ": " + a.Text)
				if a.Life {
					b.WriteString(" (life)")
				}
				b.WriteString("\n")
			}
			golden(t, file+".assumed", b.String())
		})
	}
}

func mustRead(t testing.TB, file string) *Job {
	t.Helper()
	j, problems := Read(filepath.Base(file), readFile(t, file))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return j
}
