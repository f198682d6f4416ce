package document

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

func compiled(t *testing.T, root any) *jsonschema.Schema {
	t.Helper()
	text, err := Schema(root, "Sheet", "https://example.org/sheet.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler() // validates the schema against the draft 2020-12 meta-schema
	if err := c.AddResource("https://example.org/sheet.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("https://example.org/sheet.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The reference is an independent validator of JSON Schema. Documents are JSON, so that both see the same values.
func TestSchemaAndReadAgree(t *testing.T) {
	tests := []struct {
		text string
		good bool
	}{
		{`{"title": "x"}`, true},
		{`{}`, false},
		{`[]`, false},
		{`{"titel": "x"}`, false},
		{`{"title": 42}`, true},
		{`{"title": true}`, true},
		{`{"title": null}`, false},
		{`{"title": ["x"]}`, false},
		{`{"title": "x", "plain": "y"}`, true},
		{`{"title": "x", "Hidden": "y"}`, false},
		{`{"title": "x", "inner": 1}`, false},
		{`{"title": "x", "site": {"town": "a", "storeys": 3}}`, true},
		{`{"title": "x", "site": {"storeys": "3"}}`, false},
		{`{"title": "x", "site": {"storeys": 3.5}}`, false},
		{`{"title": "x", "site": []}`, false},
		{`{"title": "x", "doors": {}}`, true},
		{`{"title": "x", "doors": []}`, false},
		{`{"title": "x", "doors": {"D1": {}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "500 mA"}}}`, true},
		{`{"title": "x", "doors": {"1D": {"lock": "500 mA"}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "500"}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": {"draw": "0.5 A"}}}}`, true},
		{`{"title": "x", "doors": {"D1": {"lock": {"draw": "0.5 A", "fail": "safe"}}}}`, true},
		{`{"title": "x", "doors": {"D1": {"lock": {"draw": "0.5 A", "fail": "save"}}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": {"fail": "safe"}}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": ["500 mA"]}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "length": "42 m", "core": "24 AWG"}}}`, true},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "length": 42}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "length": "42"}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "length": "42 V"}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "core": "41 AWG"}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "supply": "10.8 V to 13.2 V"}}}`, true},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "supply": "10.8 V"}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "side": "in", "escape": true}}}`, true},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "side": "on"}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "escape": "yes"}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "escape": 1}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "note": "n", "weight": 1e3}}}`, true},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "weight": "1"}}}`, false},
		{`{"title": "x", "doors": {"D1": {"lock": "1 A", "common": {}}}}`, false},
		{`{"title": "x", "labels": {"+12V": "a"}}`, true},
		{`{"title": "x", "labels": {"+ 12V": "a"}}`, false},
		{`{"title": "x", "notes": ["a", 1, false]}`, true},
		{`{"title": "x", "notes": "a"}`, false},
		{`{"title": "x", "notes": [null]}`, false},
		{`{"title": "x", "sides": ["in"], "kinds": {"a": "both"}}`, true},
		{`{"title": "x", "sides": ["inn"]}`, false},
		{`{"title": "x", "kinds": {"a": "inn"}}`, false},
		{`{"title": "x", "deep": {"title": "y", "deep": {"title": "z"}}}`, true},
		{`{"title": "x", "deep": {"title": "y", "deep": {}}}`, false},
		{`{"title": "x", "small": 255, "tiny": -128}`, true},
		{`{"title": "x", "small": 256}`, false},
		{`{"title": "x", "small": -1}`, false},
		{`{"title": "x", "tiny": -129}`, false},
		{`{"title": "x", "tiny": 128}`, false},
		{`{"title": "x", "code": "ABC"}`, true},
		{`{"title": "x", "code": ["ABC"]}`, false},
		{`{"title": "x", "rails": "12 V", "lists": [["1 ohm"], []]}`, true},
		{`{"title": "x", "lists": ["1 ohm"]}`, false},
		{`{"title": "x", "runs": {"R1": {"C1": 4}}}`, true},
		{`{"title": "x", "runs": {"R1": {"9": 4}}}`, false},
	}
	schema := compiled(t, sheet{})
	for _, tt := range tests {
		value, err := jsonschema.UnmarshalJSON(strings.NewReader(tt.text))
		if err != nil {
			t.Fatal(err)
		}
		var s sheet
		_, problems := Read("", []byte(tt.text), &s)
		refused := schema.Validate(value)
		if (len(problems) == 0) != tt.good || (refused == nil) != tt.good {
			t.Errorf("%s: want good %v; Read says %v, the schema %v", tt.text, tt.good, problems, refused)
		}
	}
}

func TestSchemaIsStableAndSaysWhatKeysMean(t *testing.T) {
	first, err := Schema(&sheet{}, "Sheet", "https://example.org/sheet.json")
	if err != nil {
		t.Fatal(err)
	}
	for range 5 {
		again, err := Schema(sheet{}, "Sheet", "https://example.org/sheet.json")
		if err != nil || !bytes.Equal(first, again) {
			t.Fatal("the same types give other bytes")
		}
	}
	for _, want := range []string{
		`"$schema": "https://json-schema.org/draft/2020-12/schema"`, `"description": "Name of the site."`,
		`"$ref": "#/$defs/Band_Volt"`, `"title": "Sheet"`, `"42 m"`,
	} {
		if !strings.Contains(string(first), want) {
			t.Errorf("%s is not in the schema", want)
		}
	}
	if !json.Valid(first) {
		t.Error("the schema is not JSON")
	}
}

func TestSchemaRefusesTypesNoDocumentHolds(t *testing.T) {
	type withGoMap struct {
		Inner []struct {
			Names map[string]int `yaml:"names"`
		} `yaml:"inner"`
	}
	for _, root := range []any{withGoMap{}, nil, struct{ C chan int }{}, fmt.Stringer(nil)} {
		if text, err := Schema(root, "x", "y"); err == nil {
			t.Errorf("%T gives %s", root, text)
		}
	}
	_, err := Schema(withGoMap{}, "x", "y")
	if want := "inner: names: a document cannot hold a value of type map[string]int"; err == nil || err.Error() != want {
		t.Errorf("said %v, want %s", err, want)
	}
}
