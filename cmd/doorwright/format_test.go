package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"doorwright/proof"
	"doorwright/unit"
)

// What the engine could not compute must not break the document for those who read it with a program.
func TestJSONHoldsWhatIsNoNumber(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(-1)
	for name, s := range map[string]sheet{
		"findings": findings{Findings: []finding{findingOf(proof.Finding{Figure: nan, Limit: 1, Margin: inf})}},
		"matrix": matrix{Doors: []matrixDoor{{Effects: effectsOf([]proof.Row{{
			Volts: unit.Band[unit.Volt]{Low: unit.Volt(nan), High: unit.Volt(inf)},
		}})}}},
		"loads": loads{Loads: []supplyLoad{{Items: consumersOf([]proof.LoadItem{{Device: "C1", Amps: unit.Ampere(nan)}})}}},
	} {
		var out bytes.Buffer
		if err := writeJSON(&out, s); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if !json.Valid(out.Bytes()) || !strings.Contains(out.String(), "null") {
			t.Errorf("%s: %s", name, out.String())
		}
	}
}

// Every document and list is one JSON value, and a proof the same at every call.
func TestEveryDocumentIsOneJSONValue(t *testing.T) {
	calls := append(every(), []string{"netlist", "demo:brackwater", "--door", "plant"}, []string{"schema"})
	n := 0
	for _, args := range calls {
		if slices.Contains(args, "--help") {
			continue
		}
		n++
		args = append(slices.Clone(args), "--format", "json")
		text := printed(t, args...)
		if !json.Valid([]byte(text)) {
			t.Errorf("%v prints no valid JSON", args)
		}
		if len(args) > 0 && args[0] == "prove" && text != printed(t, args...) {
			t.Errorf("%v prints something else the second time", args)
		}
	}
	if n < 15 {
		t.Errorf("only %d calls", n)
	}
}

// The headings of CSV are what the sheets of others are built on: a change breaks them.
func TestCSVHeadings(t *testing.T) {
	headings := map[string]string{
		"landings":    "door,place,device,terminal,plug,kind,run,core,colour,to_device,to_terminal,purpose,why,without,basis",
		"cables":      "run,cable,from,to,designed_m,pulled_m,computed_m,cores_used,cores_total,spare,assumed",
		"materials":   "group,id,title,quantity,unit,where",
		"loads":       "supply,what,amperes",
		"matrix":      "door,cause,title,with,step,effect,volts_low,volts_high,amperes_low,amperes_high,alarm",
		"findings":    "severity,door,requirement,rule,where,what,figure,limit,margin,unit,cause,limit_case,why,source,mends",
		"faults":      "door,fault,class,what,where,lock,noticed,by,lost,periodic_test,requirement,accepted,repair",
		"rules":       "door,rule,title,level,standing,look_at",
		"assumptions": "where,text,bears_on_life",
		"conductors": "id,kind,from_device,from_terminal,to_device,to_terminal,run,core,colour,door,use,ohms,ohms_max,purpose," +
			"why,without,basis",
		"nodes": "node,volts",
	}
	if len(headings) != len(listings()) {
		t.Errorf("%d headings for %d documents", len(headings), len(listings()))
	}
	for _, p := range listings() {
		text := printed(t, "show", p.name, "demo:brackwater", "--door", "plant", "--format", "csv")
		row, err := csv.NewReader(strings.NewReader(text)).Read()
		if got := strings.Join(row, ","); err != nil || got != headings[p.name] {
			t.Errorf("%s: %v\n got %s\nwant %s", p.name, err, got, headings[p.name])
		}
	}
}

// A document of strangers goes to a terminal: nothing in it may move the cursor or change colours.
func TestTextOfADocumentCannotSteerTheTerminal(t *testing.T) {
	var out strings.Builder
	p := newPage(&out, false, paperWidth)
	p.say(0, plain, "a title \x1b[2J with\u009b31m tricks\a")
	p.hang(2, "Why:", bold, "more\x1b]0;tricks", 9)
	p.table(0, table{head: []string{"a"}, rows: [][]string{{"cell\x1b[31m"}}})
	if strings.ContainsAny(out.String(), "\x1b\u009b\a") {
		t.Errorf("%q", out.String())
	}
}
