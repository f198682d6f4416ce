package document

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"doorwright/unit"
)

const good = `# an invented sheet
title: Brackwater
site: {town: Brackwater, storeys: 2}
doors:
  D3:
    note: sea side
    weight: 82.5
    lock: 500 mA
    length: 138 ft
    core: 24 AWG
    supply: 10.8 V to 13.2 V
    side: out
    escape: yes
  D1:
    lock:
      draw: 0.3 A
      fail: secure
    supply: {low: 21.6 V, high: 27 V}
labels: {+12V: in, "0V": out}
notes: [one, 2, no]
sides: [in, both]
kinds: {a: in}
code: ABC
small: 255
tiny: -128
plain: x
rails: 12 V
lists: [[1 ohm, 2 kohm], []]
runs: {R1: {C1: 4}}
`

func goodSheet() sheet {
	rails := unit.Volt(12)
	return sheet{
		Title: "Brackwater", Site: site{"Brackwater", 2},
		Doors: Map[fitted]{
			{"D3", fitted{
				common: common{"sea side", 82.5}, Lock: lock{Draw: 0.5}, Length: 138 * 0.3048, Core: unit.AWG(24),
				Supply: unit.Band[unit.Volt]{Low: 10.8, High: 13.2}, Side: "out", Escape: true,
			}},
			{"D1", fitted{Lock: lock{0.3, "secure"}}},
		},
		Labels: Map[screw]{{"+12V", "in"}, {"0V", "out"}},
		Notes:  []string{"one", "2", "no"}, Sides: []side{"in", "both"}, Kinds: Map[side]{{"a", "in"}},
		Code: letterCode{"ABC"}, Small: 255, Tiny: -128, Plain: "x", Rails: &rails,
		Lists: [][]unit.Ohm{{1, 2000}, nil}, Runs: Map[Map[int]]{{"R1", Map[int]{{"C1", 4}}}},
	}
}

func TestReadFillsEveryShape(t *testing.T) {
	var got sheet
	text := strings.Replace(good, "    supply: {low: 21.6 V, high: 27 V}\n", "", 1)
	source, problems := Read("b.yaml", []byte(text), &got)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if want := goodSheet(); !reflect.DeepEqual(got, want) {
		t.Errorf("read\n%+v, want\n%+v", got, want)
	}
	places := []struct {
		path         string
		line, column int
	}{
		{"", 2, 1},
		{"title", 2, 8},
		{"site.town", 3, 14},
		{"doors.D3.lock", 8, 11},
		{"doors.D1.lock.fail", 17, 13},
		{"doors.D1.lock.absent.deeper", 16, 7},
		{"doors.D9", 5, 3},
		{Path("notes", 1), 19, 14},
		{"labels.+12V", 18, 16},
	}
	for _, p := range places {
		if line, column := source.At(p.path); line != p.line || column != p.column {
			t.Errorf("%q stands at %d:%d, want %d:%d", p.path, line, column, p.line, p.column)
		}
	}
}

// The expectations are our own wording; the positions are counted by hand.
func TestReadReports(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string // every problem, in order; "" alone when there is none
	}{
		{"good", good[:strings.Index(good, "    supply: {low")], nil},
		{
			"unknown key", "titel: x\ntitle: y",
			[]string{
				`1:1: titel: found the key "titel", which is not a known key; did you mean "title"?`,
			},
		},
		{
			"missing key", "doors:\n  D1:\n    note: x\n",
			[]string{
				`1:1: title: is missing; give the job a title`,
				`3:5: doors.D1.lock: is missing; say which lock is fitted`,
			},
		},
		{
			"duplicate key", "title: x\ntitle: y",
			[]string{
				`2:1: title: found the key "title", which was given before in line 1`,
			},
		},
		{
			"duplicate name in JSON", `{"title": "x", "runs": {"a": {}, "a": {}}}`,
			[]string{
				`1:34: runs.a: found the key "a", which was given before in line 1`,
			},
		},
		{
			"number without unit", "title: x\nrails: 42",
			[]string{
				`2:8: rails: found "42", which has no unit; write it like "12 V"`,
			},
		},
		{"foreign unit", "title: x\nrails: 42 mA", []string{`2:8: rails: found "42 mA", which has the unit "mA"`}},
		{
			"range upside down", "title: x\ndoors: {D: {lock: 1 A, supply: 3 V to 2 V}}",
			[]string{
				`2:32: doors.D.supply: found "3 V to 2 V"; the range "3 V to 2 V" starts above its end`,
			},
		},
		{
			"not among the allowed", "title: x\nsides: [in, uot]\nkinds: {a: inn}",
			[]string{
				`2:13: sides.2: found "uot", which is not a known value; did you mean "out"?`,
				`3:12: kinds.a: found "inn", which is not a known value; did you mean "in"?`,
			},
		},
		{
			"bad short form", "title: x\ndoors: {D: {lock: 1}}",
			[]string{
				`2:19: doors.D.lock: found "1", which has no unit`,
			},
		},
		{
			"bad full form", "title: x\ndoors: {D: {lock: {fail: save}}}",
			[]string{
				`2:19: doors.D.lock.draw: is missing; take it from the data sheet`,
				`2:26: doors.D.lock.fail: found "save", which is not a known value; did you mean "safe"?`,
			},
		},
		{
			"list for a short form", "title: x\ndoors: {D: {lock: [1 A]}}",
			[]string{
				`2:19: doors.D.lock: found a list; one value belongs here, like "500 mA"`,
			},
		},
		{
			"empty value", "title:\nnotes: [a, ~]\nrails: null",
			[]string{
				`1:7: title: found nothing; give the key a value or leave it out`,
				`2:12: notes.2: found nothing`,
				`3:8: rails: found nothing`,
			},
		},
		{
			"wrong kinds", "title: [x]\nsite: 3\nnotes: a\ndoors: [D1]\n",
			[]string{
				`1:8: title: found a list; one value`,
				`2:7: site: found "3"; keys with their values`,
				`3:8: notes: found "a"; a list belongs here`,
				`4:8: doors: found a list; names with their values`,
			},
		},
		{
			"bad name", "title: x\nruns: {7a: {}, " + strings.Repeat("a", 33) + ": {}, ok-_9: {}}",
			[]string{
				`2:8: runs.7a: found the name "7a"; a name starts with a letter`,
				`2:16: runs.aaa`,
			},
		},
		{
			"bad name of a screw", "title: x\nlabels: {\"a b\": in}",
			[]string{
				`2:10: labels.a b: found the name "a b"; write it like "+12V"`,
			},
		},
		{
			"yes in quotes", "title: x\ndoors: {D: {lock: 1 A, escape: \"yes\"}, E: {lock: 1 A, escape: on}}",
			[]string{
				`2:32: doors.D.escape: found "yes"; write true or false`,
				`2:63: doors.E.escape: found "on"; write true or false`,
			},
		},
		{
			"octal", "title: x\nsite: {storeys: 010}",
			[]string{
				`2:17: site.storeys: found "010"; write a whole number`,
			},
		},
		{
			"too large for its type", "title: x\nsmall: 256\ntiny: -129",
			[]string{
				`2:8: small: found "256"; write a whole number`,
				`3:7: tiny: found "-129"`,
			},
		},
		{"below zero", "title: x\nsmall: -1", []string{`2:8: small: found "-1"; write a whole number`}},
		{
			"number in quotes", `{"title": "x", "small": "7"}`,
			[]string{
				`1:25: small: found "7"; write a whole number without quotes`,
			},
		},
		{
			"infinite", "title: x\ndoors: {D: {lock: 1 A, weight: .inf}}",
			[]string{
				`2:32: doors.D.weight: found ".inf"; write a number`,
			},
		},
		{
			"number too large", "title: x\ndoors: {D: {lock: 1 A, weight: 1e999}}",
			[]string{
				`2:32: doors.D.weight: found "1e999"; write a number`,
			},
		},
		{
			"own error of a text type", "title: x\ncode: abc",
			[]string{
				`2:7: code: found "abc", which is not in capitals`,
			},
		},
		{"tag", "title: !!str x", []string{`1:8: title: found the tag "!!str"; leave the tag out`}},
		{
			"merge key", "title: x\nsite: &s {town: y}\n<<: *s",
			[]string{
				`3:1: <<: found the key "<<", which is not a known key`,
			},
		},
		{"alias", "title: &t x\nplain: *t", nil},
		{
			"alias of a wrong value", "title: &t x\nrails: *t",
			[]string{
				`1:8: rails: found "x", which is not a voltage`,
			},
		},
		{
			"alias inside itself", "title: x\ndeep: &d\n  title: y\n  deep: *d",
			[]string{
				`4:9: deep.deep: found an alias inside the value it stands for; write the value out`,
			},
		},
		{"list as a key", "title: x\n? [a]\n: b", []string{`2:3: found a list as a key; a key is one short word`}},
		{
			"two documents", "title: x\n---\ntitle: y",
			[]string{
				`2:1: found a second document; one file holds one document`,
			},
		},
		{"empty file", "", []string{`1:1: found an empty file`}},
		{"only a remark", "# nothing\n", []string{`1:1: found an empty file`}},
		{"only a mark", "---\n", []string{`2:1: found nothing`}},
		{"not UTF-8", "title: caf\xe9", []string{`1:11: found bytes that are not UTF-8 text`}},
		{"UTF-16", "\xff\xfet\x00", []string{`1:4: found zero bytes; this is not text, or not in UTF-8`}},
		{"program", "\x7fELF\x00", []string{`1:5: found zero bytes; this is not text`}},
		{"control character", "title: x\nplain: a\x01b", []string{`2:9: found the control character U+0001`}},
		{"byte order mark", "\ufefftitle: x", nil},
		{
			"tab", "title: x\nsite:\n\ttown: y",
			[]string{
				`3: not readable as YAML: the line is set in with a tab; use spaces`,
			},
		},
		{
			"colon in text", "title: x\nplain: see: there",
			[]string{
				`2: not readable as YAML: a second ": " in one line`,
			},
		},
		{
			"key among items", "title: x\nnotes:\n  - a\n  b: c\n",
			[]string{
				`4: not readable as YAML: a line among list items`,
			},
		},
		{
			"open bracket", "title: x\nnotes: [a, b\nplain: y\nsmall: 3\n",
			[]string{
				`2: not readable as YAML: a list opened with "["`,
			},
		},
		{
			"open quote", "title: x\nplain: \"y\nsmall: 3\n",
			[]string{
				`2: not readable as YAML: text opened with a quote`,
			},
		},
		{
			"open quote in the first line", "title: 'x\nsmall: 3\n",
			[]string{
				`1: not readable as YAML: text opened with a quote`,
			},
		},
		{
			"line that is no key", "title: x\nwhat\nsmall: 3\n",
			[]string{
				`2: not readable as YAML: a line that is not "key: value"`,
			},
		},
		{
			"alias of nothing", "title: x\nsmall: 3\nplain: *y\n",
			[]string{
				`3: not readable as YAML: an alias (*name) without the anchor`,
			},
		},
		{"escape", "title: \"C:\\q\"", []string{`1: not readable as YAML: a "\" in double quotes`}},
		{
			"text after the end", "title: x\n...\nsmall: 3\n",
			[]string{
				`3: not readable as YAML: more text after the end`,
			},
		},
		{"JSON with tabs", "{\n\t\"title\":\t\"x\",\n\t\"small\": 300\n}", []string{`3:11: small: found "300"`}},
		{
			"JSON escapes", `{"title": "a\/b\ud83d\ude00\u00e9\n", "small": 300}`,
			[]string{
				`1:48: small: found "300"`,
			},
		},
		{
			"JSON without a comma", "{\"title\": \"x\"\n \"small\": 3}",
			[]string{
				`2:2: not readable as JSON: invalid character '"' after object key:value pair`,
			},
		},
		{
			"JSON cut off", "{\"title\": \"x\",\n",
			[]string{
				`1:15: not readable as JSON: unexpected end of JSON input`,
			},
		},
		{
			"JSON and more", `{"title": "x"} {"title": "y"}`,
			[]string{
				`1:16: not readable as JSON: invalid character '{' after top-level value`,
			},
		},
		{"YAML in brackets", `{title: x, small: 300}`, []string{`1:19: small: found "300"`}},
		{
			"nested too deep", "title: x\nplain: " + strings.Repeat("[", 65) + strings.Repeat("]", 65),
			[]string{
				`2:72: found values nested more than 64 deep`,
			},
		},
		{
			"JSON nested too deep", strings.Repeat("[", 70) + strings.Repeat("]", 70),
			[]string{
				`1:66: found values nested more than 64 deep`,
			},
		},
		{
			"too large", "title: x\nplain: " + strings.Repeat("x", maxBytes),
			[]string{
				`found a file of 16 MiB; a document has at most 16 MiB`,
			},
		},
		{
			"too many values", strings.Repeat(",", maxMarks+1),
			[]string{
				`found more than a million values; split the document`,
			},
		},
		{
			"text too long for a quantity", "title: x\nrails: " + strings.Repeat("1", 1001),
			[]string{
				`2:8: rails: found "11111`,
			},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var s sheet
			_, problems := Read("", []byte(tt.text), &s)
			for i, p := range problems {
				if strings.Contains(p.Error(), "\n") {
					t.Errorf("problem of several lines: %q", p.Error())
				}
				if i < len(tt.want) && !strings.HasPrefix(p.Error(), tt.want[i]) {
					t.Errorf("problem %d is\n%s, want\n%s", i+1, p.Error(), tt.want[i])
				}
			}
			if len(problems) != len(tt.want) {
				t.Errorf("%d problems, want %d:\n%v", len(problems), len(tt.want), problems)
			}
		})
	}
}

func TestReadKeepsWhatIsGoodBesideProblems(t *testing.T) {
	var s sheet
	_, problems := Read("b.yaml", []byte("title: x\nrails: 42\nsmall: 7\ndoors: {D1: {lock: 1 A, length: 5}}"), &s)
	if len(problems) != 2 || s.Title != "x" || s.Small != 7 || len(s.Doors) != 1 || s.Doors[0].Value.Lock.Draw != 1 {
		t.Errorf("read %+v with %v", s, problems)
	}
	if want := "b.yaml:2:8: rails: found \"42\", which has no unit"; !strings.HasPrefix(problems.Error(), want) {
		t.Errorf("said %s, want %s", problems, want)
	}
}

// The "billion laughs" form of a document: eight levels of ten aliases each.
func TestReadBoundsAliases(t *testing.T) {
	type tree struct {
		A, B, C, D, E, F, G []any
		Leaf                [][][][][][][]string
	}
	var b strings.Builder
	b.WriteString("a: &l0 [x, x, x, x, x, x, x, x, x, x]\n")
	for i, key := range strings.Split("bcdefg", "") {
		alias := "*l" + string(rune('0'+i))
		b.WriteString(key + ": &l" + string(rune('1'+i)) + " [" + strings.Repeat(alias+", ", 9) + alias + "]\n")
	}
	b.WriteString("leaf: *l6\n")
	var v tree
	_, problems := Read("", []byte(b.String()), &v)
	said := slices.ContainsFunc(problems, func(p Problem) bool {
		return strings.Contains(p.Error(), "aliases that stand for too many values")
	})
	if !said {
		t.Errorf("no word on the aliases in %d problems", len(problems))
	}
}

func TestReadStopsCountingProblems(t *testing.T) {
	var s sheet
	_, problems := Read("", []byte("title: x\nnotes: ["+strings.Repeat("[], ", 3000)+"]"), &s)
	if len(problems) != maxProblems+1 || !strings.Contains(problems[maxProblems].Error(), "there are 2000 more problems") {
		t.Errorf("%d problems, the last %v", len(problems), problems[len(problems)-1])
	}
}

func TestProblemsAreSortedByPlace(t *testing.T) {
	ps := Problems{
		{File: "b", Line: 1}, {File: "a", Line: 10, Column: 2}, {File: "a", Line: 9}, {File: "a", Line: 10, Column: 1},
	}
	if got, want := ps.Error(), "a:9:\na:10:1:\na:10:2:\nb:1:"; got != want {
		t.Errorf("sorted to\n%s, want\n%s", got, want)
	}
}

func TestSourceWithoutAFile(t *testing.T) {
	var s *Source
	if got := s.Problem("doors.D3", `"PS7"`, Unknown("PS7", "supply", nil)).Error(); got !=
		`doors.D3: found "PS7", which is not a known supply; there is none` {
		t.Error(got)
	}
}
