package cable

import (
	"slices"
	"strings"
	"testing"

	"doorwright/document"
	"doorwright/unit"
	"pgregory.net/rapid"
)

func TestBuiltInTypes(t *testing.T) {
	wanted := []string{
		"2x0.5", "2x0.75", "2x1.0", "2x1.5", "2x2.5", "4x0.5", "4x0.75", "4x1.0", "4x1.5", "6x0.22", "8x0.22", "12x0.22",
		"2x2x0.22s", "4x2x0.22s", "2x2x0.5s", "1x2x0.34s", "2x2x24awg-120s", "cat5e", "18-2", "18-4", "18-6", "22-4", "22-6s",
		"16-2", "14-2", "18-4+22-6s+22-4+22-2", "cca-4x0.5",
	}
	for _, id := range wanted {
		x, ok := Find(id)
		if !ok || x.ID != id || x.Title == "" || len(x.Cores()) == 0 {
			t.Errorf("%s: found %v: %+v", id, ok, x)
		}
	}
	if len(Types()) < len(wanted) {
		t.Errorf("%d types, want at least %d", len(Types()), len(wanted))
	}
	for _, x := range Types() {
		if problems := x.Check(nil, x.ID); len(problems) > 0 {
			t.Errorf("%s:\n%v", x.ID, problems)
		}
	}
	if _, ok := Find("nothing"); ok {
		t.Error("found a type that does not exist")
	}
}

func TestTypesIsTheCallersSlice(t *testing.T) {
	Types()[0].Title = "changed"
	if Types()[0].Title == "changed" {
		t.Error("a caller's change shows in the built-in list")
	}
}

func TestCoresOfACompositeCable(t *testing.T) {
	x, _ := Find("18-4+22-6s+22-4+22-2")
	cores := x.Cores()
	if len(cores) != 16 {
		t.Fatalf("%d cores, want 4 + 6 + 4 + 2", len(cores))
	}
	for i, c := range cores {
		if c.Index != i+1 || c.Pair != 0 || c.Screened != (c.Element == 2) {
			t.Errorf("core %d: %+v", i+1, c)
		}
	}
	if c := cores[4]; c.Element != 2 || c.Colour != "BK" || c.Conductor.Size != unit.AWG(22) {
		t.Errorf("fifth core: %+v, want the black one of the 22 AWG bundle", c)
	}
	if s := x.Screens(); !slices.Equal(s, []Screen{{2, "screen reader 22-6"}}) {
		t.Errorf("screens %v", s)
	}
}

func TestCoresOfPairs(t *testing.T) {
	x, _ := Find("4x2x0.22s")
	var pairs []int
	for _, c := range x.Cores() {
		pairs = append(pairs, c.Pair)
		if !c.Screened {
			t.Errorf("core %d lies outside the overall screen", c.Index)
		}
	}
	if !slices.Equal(pairs, []int{1, 1, 2, 2, 3, 3, 4, 4}) {
		t.Errorf("pairs %v", pairs)
	}
	if s := x.Screens(); len(s) != 1 || s[0].Element != 0 {
		t.Errorf("screens %v, want the overall one", s)
	}
}

func read(t *testing.T, text string) (Type, document.Problems) {
	t.Helper()
	var file struct {
		Cables document.Map[Type] `yaml:"cables"`
	}
	source, problems := document.Read("job.yaml", []byte(text), &file)
	if len(file.Cables) != 1 {
		t.Fatalf("read %d cables: %v", len(file.Cables), problems)
	}
	x := file.Cables[0]
	return x.Value, append(problems, x.Value.Check(source, document.Path("cables", x.Key))...).Sorted()
}

func TestUserTypeThatIsRight(t *testing.T) {
	x, problems := read(t, `
cables:
  3x2x0.5s:
    title: three pairs, one of them screened
    capacitance: 30 pF/ft
    diameter: 8 mm
    elements:
      - {label: speech, cores: 4, arrangement: pair, size: 0.5 mm2, colours: [WH, BN, WH, GN]}
      - {label: data, cores: 2, arrangement: pair, size: 22 AWG, screened: true, colours: [WH, my own mark]}
`)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if !near(float64(x.Capacitance), 98.4e-12, 1e-3) || x.Cores()[5].Pair != 3 {
		t.Errorf("read as %+v", x)
	}
}

func TestUserTypeThatIsWrong(t *testing.T) {
	for _, c := range []struct{ name, elements, want string }{
		{"no elements", "[]", "job.yaml:4:"},
		{"too few colours", "[{cores: 3, size: 1 mm2, colours: [RD, BK]}]", "2 colours for 3 cores"},
		{"one colour twice", "[{cores: 3, size: 1 mm2, colours: [RD, BK, RD]}]", "RD twice in one bundle"},
		{"one pair twice", "[{cores: 4, arrangement: pair, size: 1 mm2, colours: [RD, BK, BK, RD]}]", "BK with RD twice"},
		{"one colour twice in a pair", "[{cores: 2, arrangement: pair, size: 1 mm2, colours: [RD, RD]}]", "twice in a pair"},
		{"half a pair", "[{cores: 3, arrangement: pair, size: 1 mm2, colours: [RD, BK, WH]}]", "a pair takes 2"},
		{"letters that are none", "[{cores: 1, size: 1 mm2, colours: [XX]}]", `"XX" for core 1`},
		{"empty colour", "[{cores: 1, size: 1 mm2, colours: [' ']}]", "no colour for core 1"},
		{"no cores", "[{cores: 0, size: 1 mm2, colours: []}]", "0 cores"},
		{"far too many cores", "[{cores: 2000000000, size: 1 mm2, colours: [RD]}]", "a bundle has 1 to 100"},
		{"no size", "[{cores: 1, size: 0 mm2, colours: [RD]}]", "size"},
		{"unknown strand", "[{cores: 1, size: 1 mm2, strand: woolly, colours: [RD]}]", "strand"},
		{"negative limit", "[{cores: 1, size: 1 mm2, limit-per-km: -3 ohm, colours: [RD]}]", "limit-per-km"},
		{
			"bundles without labels",
			"[{cores: 1, size: 1 mm2, colours: [RD]}, {cores: 1, size: 1 mm2, colours: [BK]}]", "without a label",
		},
		{
			"bundles that look alike",
			"[{label: a, cores: 1, size: 1 mm2, colours: [RD]}, {label: a, cores: 1, size: 1 mm2, colours: [RD]}]",
			"other labels",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, problems := read(t, "cables:\n  mine:\n    title: x\n    elements: "+c.elements+"\n")
			if len(problems) == 0 || !strings.Contains(problems.Error(), c.want) {
				t.Errorf("problems %v, want one with %q", problems, c.want)
			}
			for _, p := range problems {
				if p.Line == 0 || !strings.HasPrefix(p.Where, "cables.mine") {
					t.Errorf("problem without its place: %+v", p)
				}
			}
		})
	}
}

func TestCheckNamesAllAtOnce(t *testing.T) {
	x := Type{Capacitance: -1, Impedance: -1, Elements: []Element{{Cores: 2, Colours: []string{"QQ"}}}}
	if problems := x.Check(nil, "cables.x"); len(problems) != 5 {
		t.Errorf("%d problems, want capacitance, impedance, size, count and letters:\n%v", len(problems), problems)
	}
}

func TestAnyTypeIsListedOrRefused(t *testing.T) {
	accepted := 0
	rapid.Check(t, func(t *rapid.T) {
		x := Type{Screen: rapid.Bool().Draw(t, "screen")}
		for range rapid.IntRange(0, 2).Draw(t, "elements") {
			cores := rapid.OneOf(rapid.IntRange(-1, 4), rapid.IntRange(1, 4), rapid.Int()).Draw(t, "cores")
			colour := rapid.SampledFrom([]string{"RD", "BK", "WH", "BN", "x", "y", ""})
			n := max(0, min(cores, 4))
			x.Elements = append(x.Elements, Element{
				Label:       rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "label"),
				Cores:       cores,
				Arrangement: rapid.SampledFrom([]Arrangement{"", Cores, Pair, Triple, Quad, "plait"}).Draw(t, "arrangement"),
				Size:        rapid.SampledFrom([]unit.Size{{}, unit.MM2(0.5), unit.AWG(22)}).Draw(t, "size"),
				Colours:     rapid.SliceOfN(colour, n, n).Draw(t, "colours"),
			})
		}
		if rapid.Bool().Draw(t, "plain") { // else hardly any type is ever accepted
			n := rapid.IntRange(1, 4).Draw(t, "plain cores")
			colours := rapid.Permutation([]string{"RD", "BK", "WH", "BN"}).Draw(t, "plain colours")
			x.Elements = []Element{{Cores: n, Size: unit.MM2(0.5), Colours: colours[:n]}}
		}
		cores := x.Cores() // must not fail, whatever the figures
		if len(x.Check(nil, "cables.x")) > 0 {
			return
		}
		accepted++
		seen := map[Core]bool{}
		for i, c := range cores {
			c.Index = 0 // the place alone tells nobody which core it is
			if c.Colour == "" || seen[c] || cores[i].Index != i+1 {
				t.Fatalf("an accepted type has the core %+v", cores[i])
			}
			seen[c] = true
		}
	})
	if accepted == 0 {
		t.Error("no type was accepted, so nothing was tested")
	}
}

func TestColourNames(t *testing.T) {
	for code, want := range map[string]string{ // IEC 60757
		"RD": "red", "RDBU": "red-blue", "GNYE": "green-yellow", "BUWH": "blue-white", "black 3": "black 3",
		"QQ": "QQ", "": "",
	} {
		if got := ColourName(code); got != want {
			t.Errorf("%q is %q, want %q", code, got, want)
		}
	}
}

func TestCapacitanceReadsAndWrites(t *testing.T) {
	for text, want := range map[string]float64{"100 pF/m": 100e-12, "50 pF/ft": 164.04e-12, "55 nF/km": 55e-12} {
		var c FaradPerMetre
		if err := c.UnmarshalText([]byte(text)); err != nil || !near(float64(c), want, 1e-4) {
			t.Errorf("%q reads as %v, %v", text, c, err)
		}
		written, err := c.MarshalYAML()
		var again FaradPerMetre
		if err != nil || again.UnmarshalText([]byte(written.(string))) != nil || !near(float64(again), float64(c), 1e-11) {
			t.Errorf("%q is written as %q and reads back as %v", text, written, again)
		}
	}
	for _, text := range []string{"", "100", "100 pF", "-1 pF/m", "0 pF/m", "inf pF/m", "NaN pF/m", "x pF/m"} {
		var c FaradPerMetre
		if c.UnmarshalText([]byte(text)) == nil {
			t.Errorf("%q was accepted as %v", text, c)
		}
	}
}

func FuzzCapacitance(f *testing.F) {
	f.Add("100 pF/m")
	f.Add("1e3 nF/km")
	f.Fuzz(func(t *testing.T, text string) {
		var c FaradPerMetre
		if err := c.UnmarshalText([]byte(text)); (err == nil) != (c > 0) {
			t.Errorf("%q: %v, %v", text, float64(c), err)
		}
	})
}
