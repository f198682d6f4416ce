package record

import (
	"fmt"
	"regexp"
	"strconv"
)

// Date is a day, with or without a time of day (ISO 8601, as in "2026-10-12" or "2026-10-12 14:05"). The zero Date is
// none.
type Date struct {
	Year, Month, Day int
	Timed            bool // Hour and Minute were given
	Hour, Minute     int
}

const datePattern = `^([0-9]{4})-([0-9]{2})-([0-9]{2})(?:[ T]([0-9]{2}):([0-9]{2}))?$`

var dateForm = regexp.MustCompile(datePattern)

// IsZero says that no date was given.
func (d Date) IsZero() bool { return d == Date{} }

// String writes the date as it is read; nothing for none.
func (d Date) String() string {
	switch {
	case d.IsZero():
		return ""
	case d.Timed:
		return fmt.Sprintf("%04d-%02d-%02d %02d:%02d", d.Year, d.Month, d.Day, d.Hour, d.Minute)
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// Before says whether the day of d comes before that of o.
func (d Date) Before(o Date) bool {
	switch {
	case d.Year != o.Year:
		return d.Year < o.Year
	case d.Month != o.Month:
		return d.Month < o.Month
	}
	return d.Day < o.Day
}

// UnmarshalText reads a date; it errs on a day that no calendar has.
func (d *Date) UnmarshalText(text []byte) error {
	m := dateForm.FindStringSubmatch(string(text))
	if m == nil {
		return fmt.Errorf("%q is no date; write it like 2026-10-12 or 2026-10-12 14:05", text)
	}
	part := func(i int) int {
		n, _ := strconv.Atoi(m[i]) // the form has digits only; nothing for no time of day
		return n
	}
	got := Date{part(1), part(2), part(3), m[4] != "", part(4), part(5)}
	if got.Month < 1 || got.Month > 12 || got.Day < 1 || got.Day > daysOf(got.Year, got.Month) || got.Year < 1 {
		return fmt.Errorf("%q is a day that no calendar has", text)
	}
	if got.Hour > 23 || got.Minute > 59 {
		return fmt.Errorf("%q has a time that no clock shows", text)
	}
	*d = got
	return nil
}

// MarshalText writes what UnmarshalText reads.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// SchemaText gives the form of a date.
func (Date) SchemaText() (pattern, example string) { return datePattern, "2026-10-12" }

// daysOf is how many days a month has (Gregorian calendar).
func daysOf(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && year%100 != 0 || year%400 == 0 {
			return 29
		}
		return 28
	}
	return 31
}
