package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
)

// sheet is one document the command can show. It is written for people by text, as CSV from table, and as JSON by its
// own exported fields.
type sheet interface {
	text(p *page)
	table() table
}

// show writes a sheet in the format asked for.
func (e *env) show(s sheet) error {
	switch e.format {
	case "csv":
		return writeCSV(e.out, s.table())
	case "json":
		return writeJSON(e.out, s)
	case "sarif":
		if f, ok := s.(interface{ sarif() any }); ok {
			return writeJSON(e.out, f.sarif())
		}
		return fmt.Errorf("only findings have the format sarif; use text, csv or json here")
	}
	s.text(e.page)
	return nil
}

// plainOnly says that what has one form only, which may have a name, does not come in the format asked for.
func (e *env) plainOnly(what string, form ...string) error {
	if e.format == "text" || slices.Contains(form, e.format) {
		return nil
	}
	return fmt.Errorf("%s no format %s; leave --format out", what, e.format)
}

func writeCSV(w io.Writer, t table) error {
	c := csv.NewWriter(w)
	if err := c.Write(t.head); err != nil {
		return err
	}
	return c.WriteAll(t.rows)
}

// writeJSON writes a value with its keys in the order of its fields.
func writeJSON(w io.Writer, v any) error {
	j := json.NewEncoder(w)
	j.SetEscapeHTML(false)
	j.SetIndent("", "  ")
	return j.Encode(v)
}

// number is a figure in SI units that JSON and CSV can hold: what is not finite is null, or an empty cell.
type number float64

// MarshalJSON writes null for what JSON has no number for.
func (n number) MarshalJSON() ([]byte, error) {
	if !n.finite() {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

func (n number) finite() bool { return !math.IsNaN(float64(n)) && !math.IsInf(float64(n), 0) }

// String is the figure with every digit it has, for CSV.
func (n number) String() string {
	if !n.finite() {
		return ""
	}
	return strconv.FormatFloat(float64(n), 'g', -1, 64)
}
