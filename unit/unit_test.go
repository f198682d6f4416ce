package unit

import (
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
	"pgregory.net/rapid"
)

// quantity is what every quantity of the package can do.
type quantity interface {
	encoding.TextUnmarshaler
	json.Unmarshaler
	SchemaText() (pattern, example string)
}

// all lists one fresh value of every quantity.
func all() []quantity {
	return []quantity{
		new(Volt), new(Ampere), new(Ohm), new(Watt), new(Metre), new(Second), new(Celsius), new(AmpereHour),
		new(Henry), new(Baud),
	}
}

// The multiples are those of the International System of Units (SI brochure, 9th edition, table 7); the foot and the
// inch are exact by the international yard and pound agreement of 1959. Each expectation is the float64 nearest to the
// exact figure, so a reading that is off in the last digit fails.
func TestReadingAQuantity(t *testing.T) {
	tests := []struct {
		into encoding.TextUnmarshaler
		text string
		want float64
	}{
		{new(Volt), "12 V", 12},
		{new(Volt), "-0.7V", -0.7},
		{new(Volt), "  12\tV ", 12},
		{new(Volt), "12\u00a0V", 12},
		{new(Volt), "1.5e3 mV", 1.5},
		{new(Volt), "+.5 kV", 500},
		{new(Ampere), "500 mA", 0.5},
		{new(Ampere), "9 mA", 0.009},
		{new(Ampere), "7 uA", 0.000007},
		{new(Ohm), "4.7 kohm", 4700},
		{new(Ohm), "2.2 kΩ", 2200},
		{new(Ohm), "3 mΩ", 0.003},
		{new(Ohm), "1 Mohm", 1e6},
		{new(Watt), "1.1 kW", 1100},
		{new(Metre), "138 ft", 42.0624},
		{new(Metre), "1 in", 0.0254},
		{new(Metre), "7 cm", 0.07},
		{new(Metre), "9 mm", 0.009},
		{new(Metre), "0.3 km", 300},
		{new(Second), "90 min", 5400},
		{new(Second), "4 h", 14400},
		{new(Second), "250 ms", 0.25},
		{new(Celsius), "-20 °C", -20},
		{new(Celsius), "45 C", 45},
		{new(AmpereHour), "1300 mAh", 1.3},
		{new(Henry), "500 mH", 0.5},
		{new(Baud), "115.2 kbaud", 115200},
	}
	for _, tt := range tests {
		if err := tt.into.UnmarshalText([]byte(tt.text)); err != nil {
			t.Errorf("%q: %v", tt.text, err)
		} else if got := reflect.ValueOf(tt.into).Elem().Float(); got != tt.want {
			t.Errorf("%q is read as %v, want %v", tt.text, got, tt.want)
		}
	}
}

func TestReadingAQuantityRefuses(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"no unit", "500", `"500" has no unit; write it like "500 mA"`},
		{"foreign unit", "12 V", `"12 V" has the unit "V", not one of a current (A, mA, uA); write it like "500 mA"`},
		{"capitals that mean mega", "500 MA", `"500 MA" has the unit "MA", not one of`},
		{"no number", "A", `"A" is not a current; write it like "500 mA"`},
		{"nothing", "", `"" is not a current`},
		{"word", "about 5 A", `"about 5 A" is not a current`},
		{"two numbers", "5-6 A", `"5-6 A" is not a current`},
		{"decimal comma", "0,5 A", `"0,5 A" has a comma in the number`},
		{"hexadecimal", "0x5 A", `"0x5 A" has the unit "x5 A"`},
		{"infinite", "inf A", `"inf A" is not a current`},
		{"too large", "1e999 A", `"1e999 A" is not a current`},
		{"not a number", "NaN", `"NaN" is not a current`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := Ampere(7)
			err := a.UnmarshalText([]byte(tt.text))
			if err == nil || !strings.HasPrefix(err.Error(), tt.want) {
				t.Errorf("%q gives %v, want %s", tt.text, err, tt.want)
			}
			if a != 7 {
				t.Errorf("%q changed the value to %v", tt.text, a)
			}
		})
	}
}

func TestReadingRefusesWhatTheUnitMakesInfinite(t *testing.T) {
	var v Volt
	if err := v.UnmarshalText([]byte("1e308 kV")); err == nil {
		t.Errorf("read as %v", v)
	}
}

func TestWritingAQuantity(t *testing.T) {
	tests := []struct {
		value fmt.Stringer
		want  string
	}{
		{Volt(12), "12 V"},
		{Volt(0), "0 V"},
		{Volt(math.Copysign(0, -1)), "0 V"},
		{Volt(11.87654), "11.88 V"},
		{Volt(-0.0421), "-42.1 mV"},
		{Volt(1500), "1500 V"},
		{Ampere(0.5), "500 mA"},
		{Ampere(0.99996), "1 A"},
		{Ampere(0.99994), "999.9 mA"},
		{Ampere(3e-6), "3 uA"},
		{Ampere(3e-8), "0.03 uA"},
		{Ohm(4700), "4.7 kohm"},
		{Ohm(0.0333), "33.3 mohm"},
		{Ohm(2.5e6), "2.5 Mohm"},
		{Watt(0.2), "200 mW"},
		{Metre(42.0624), "42.06 m"},
		{Metre(0.015), "15 mm"},
		{Second(5400), "1.5 h"},
		{Second(90), "1.5 min"},
		{Second(0.25), "250 ms"},
		{Celsius(-20), "-20 C"},
		{AmpereHour(17), "17 Ah"},
		{Henry(0.5), "500 mH"},
		{Baud(115200), "115200 baud"},
		{Volt(math.Inf(-1)), "-Inf V"},
		{Volt(math.NaN()), "NaN V"},
		{MM2(0.75), "0.75 mm2"},
		{AWG(24), "24 AWG"},
		{Size{}, "-"},
		{Band[Volt]{10.8, 13.2}, "10.8 V to 13.2 V"},
	}
	for _, tt := range tests {
		if got := tt.value.String(); got != tt.want {
			t.Errorf("%#v is written %q, want %q", tt.value, got, tt.want)
		}
	}
}

// Whatever a quantity is, its text, YAML and JSON read back to the very same number.
func TestQuantitiesKeepTheirValue(t *testing.T) {
	count := 0
	for _, q := range all() {
		count++
		t.Run(reflect.TypeOf(q).Elem().Name(), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				v := reflect.ValueOf(q).Elem()
				v.SetFloat(rapid.Float64().Draw(t, "v"))
				want := v.Interface()
				text, err := v.Interface().(yaml.Marshaler).MarshalYAML()
				if err != nil {
					t.Fatal(err)
				}
				back := reflect.New(v.Type())
				if err := back.Interface().(quantity).UnmarshalText([]byte(text.(string))); err != nil {
					t.Fatal(err)
				}
				if back.Elem().Interface() != want {
					t.Fatalf("text %q reads as %v, want %v", text, back.Elem(), want)
				}
				checkMarshalled(t, v)
			})
		})
	}
	if count != 10 {
		t.Errorf("%d quantities tested, want 10", count)
	}
}

// checkMarshalled writes v as YAML and as JSON and reads it back.
func checkMarshalled(t *rapid.T, v reflect.Value) {
	coders := []struct {
		name      string
		marshal   func(any) ([]byte, error)
		unmarshal func([]byte, any) error
	}{{"YAML", yaml.Marshal, yaml.Unmarshal}, {"JSON", json.Marshal, json.Unmarshal}}
	for _, c := range coders {
		data, err := c.marshal(v.Interface())
		if err != nil {
			t.Fatal(err)
		}
		back := reflect.New(v.Type())
		if err := c.unmarshal(data, back.Interface()); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if !reflect.DeepEqual(back.Elem().Interface(), v.Interface()) {
			t.Fatalf("%s %q reads as %v, want %v", c.name, data, back.Elem(), v)
		}
	}
}

// What String rounds is right to its figures: half a unit of the fourth figure is 0.05 % at most.
func TestStringIsNearTheValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := Ohm(rapid.Float64Range(1e-3, 1e9).Draw(t, "ohm"))
		var got Ohm
		if err := got.UnmarshalText([]byte(want.String())); err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(got-want)) > 0.000501*float64(want) {
			t.Fatalf("%v is written %q", float64(want), want)
		}
	})
}

func TestWritingWhatIsNotFiniteErrs(t *testing.T) {
	for _, v := range []Volt{Volt(math.NaN()), Volt(math.Inf(1)), Volt(math.Inf(-1))} {
		if text, err := v.MarshalYAML(); err == nil {
			t.Errorf("%v is written %v", v, text)
		}
		if text, err := (Band[Volt]{0, v}).MarshalYAML(); err == nil {
			t.Errorf("a range to %v is written %v", v, text)
		}
	}
}

func TestJSONNumbersAndText(t *testing.T) {
	var got struct {
		A, B Ampere
		Band Band[Volt]
		Text Band[Volt]
		Size Size
		None Size
	}
	text := `{"A": 0.5, "B": "500 mA", "Band": {"low": 1, "high": 2}, "Text": "1 V to 2 V", "Size": "24 AWG", "None": ""}`
	if err := json.Unmarshal([]byte(text), &got); err != nil {
		t.Fatal(err)
	}
	if got.A != 0.5 || got.B != 0.5 || got.Band != (Band[Volt]{1, 2}) || got.Text != got.Band || got.Size != AWG(24) ||
		!got.None.IsZero() {
		t.Errorf("read %+v", got)
	}
	for _, bad := range []string{
		`{"A": true}`, `{"A": "5"}`, `{"Band": {"low": 2, "high": 1}}`, `{"Band": 3}`, `{"Size": 3}`,
	} {
		if err := json.Unmarshal([]byte(bad), &got); err == nil {
			t.Errorf("%s is read", bad)
		}
	}
}

func TestExamplesFitTheirPatternAndAreRead(t *testing.T) {
	quantities := append(all(), new(Size), new(Band[Volt]), new(Band[Second]))
	for _, q := range quantities {
		pattern, example := q.SchemaText()
		if !regexp.MustCompile(pattern).MatchString(example) {
			t.Errorf("%T: %q does not fit %s", q, example, pattern)
		}
		if err := q.UnmarshalText([]byte(example)); err != nil {
			t.Errorf("%T: %v", q, err)
		}
	}
	if len(quantities) != 13 {
		t.Errorf("%d types tested, want 13", len(quantities))
	}
}

// What is read fits the published pattern and is finite; nothing panics.
func FuzzQuantity(f *testing.F) {
	for _, s := range []string{
		"12 V", "1e-3A", "4.7 kohm", "1e308 kV", ".e3 V", "+-1 V", "5 e3", "9 µA", "", "-", "1e", "20 °C",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, q := range all() {
			if q.UnmarshalText([]byte(text)) != nil {
				continue
			}
			if v := reflect.ValueOf(q).Elem().Float(); math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%T reads %q as %v", q, text, v)
			}
			if pattern, _ := q.SchemaText(); !regexp.MustCompile(pattern).MatchString(text) {
				t.Errorf("%T reads %q, which does not fit %s", q, text, pattern)
			}
		}
	})
}
