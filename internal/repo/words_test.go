package repo

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
)

func TestForbiddenWords(t *testing.T) { holds(t, words) }

// forbidden lists what must not stand in any text of the repository, and why. Each pattern has one letter in brackets so
// that it does not match itself.
func forbidden() []struct {
	pattern *regexp.Regexp
	why     string
} {
	return []struct {
		pattern *regexp.Regexp
		why     string
	}{
		{
			regexp.MustCompile(`(?m)(?:^|[^\w.\-/])/(?:wor[k]|tm[p]|hom[e]|roo[t]|User[s]|mn[t]|sr[v]|op[t])(?:/|\b)`),
			"a path of one machine means nothing on another",
		},
		{regexp.MustCompile(`\b[A-Z]:\\[A-Za-z]`), "a path of one machine means nothing on another"},
		{
			regexp.MustCompile(`(?i)\b(?:prox[y]|su[m]|inde[x])\.golang\.org|\bregistr[y]\.(?:npmjs|yarnpkg)|\bnpmj[s]\.(?:com|org)|` +
				`\bpyp[i]\.org|\bpythonhoste[d]\.org|\bcrate[s]\.io|\brubygem[s]\.org|\b(?:de[b]|securit[y])\.debian\.org|` +
				`\bghc[r]\.io|\bdocke[r]\.io`),
			"where packages come from is a matter of each machine's set-up",
		},
		{
			regexp.MustCompile(`(?i)\b(?:chat)?gp[t]\b|\bclaud[e]\b|\bcopilo[t]\b|\bgemin[i]\b|\bchatbo[t]s?\b|\bassistan[t]s?\b|` +
				`\bsub-?agen[t]s?\b|\b(?:helper|coding) agen[t]s?\b|\blanguage mode[l]s?\b|\bco-authored-b[y]\b`),
			"the repository speaks of doors, not of who or what wrote it",
		},
		{regexp.MustCompile(`\b(?:A[I]|LL[M]s?)\b`), "the repository speaks of doors, not of who or what wrote it"},
		{
			regexp.MustCompile(`(?im)\btranscrip[t]s?\b|\bseed (?:documen[t]|vide[o])|\bsource vide[o]|\bdesign\.m[d]\b|\bstyle-by-exampl[e]\b|` +
				`(?:^|[\s"'(/])share[d]/`),
			"sources are cited by their published name, not by notes that are not here",
		},
		{regexp.MustCompile(`\b(?:TOD[O]|FIXM[E]|XX[X]|HAC[K])\b`), "do it now, or write an issue"},
		{
			regexp.MustCompile(`\b(?:t|tb|b|f)\.Ski[p](?:f|Now)?\(`),
			"a test that does not run looks like one that passed; let it fail and say what is missing",
		},
	}
}

// words checks every text but the checksums of modules.
func words(_ *testing.T, tr tree) []string {
	var broken []string
	for _, tx := range tr.texts {
		if tx.path == "go.sum" {
			continue
		}
		for _, f := range forbidden() {
			for _, found := range f.pattern.FindAllStringIndex(tx.data, -1) {
				line := 1 + strings.Count(tx.data[:found[1]], "\n")
				word := strings.TrimSpace(tx.data[found[0]:found[1]])
				broken = append(broken, fmt.Sprintf("%s:%d: %q: %s", tx.path, line, word, f.why))
			}
		}
	}
	return broken
}

func TestForbiddenWordsAreFoundOut(t *testing.T) {
	bad := []string{
		"see /wor" + "k/main", "in /tm" + "p", "\"/hom" + "e/me\"", `C:` + `\Users`, "GOPROXY=https://prox" + "y.golang.org",
		"npm from registr" + "y.npm" + "js.org", "made by Claud" + "e", "an A" + "I wrote it", "the sub" + "agent", "as the transcrip" + "t says",
		"see share" + "d/notes", "// TOD" + "O later", "t.Ski" + "p()", "tb.Ski" + "pf(1)",
	}
	var samples []sample
	for _, b := range bad {
		samples = append(samples, sample{b, map[string]string{"notes.txt": "fine\n" + b + "\n"}, []string{"notes.txt:2: "}})
	}
	tells(t, words, append(samples, sample{"harmless look-alikes", map[string]string{
		"notes.txt": "#!/usr/bin/env sh\nwork/out doors/home/x a shared conductor, assist, ./tmp, AIR, unit.Skip()\n",
		"go.sum":    "TOD" + "O\n",
	}, nil}))
}
