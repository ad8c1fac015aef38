package model

import (
	"fmt"
	"strings"
	"time"
)

const dayLayout = "2006-01-02"

// UnmarshalText reads a day of the years 1900 to 2199, year first: 2026-03-02.
func (d *Date) UnmarshalText(b []byte) error {
	s := strings.TrimSpace(string(b))
	t, err := time.Parse(dayLayout, s)
	if err != nil || t.Year() < 1900 || t.Year() > 2199 {
		if len(s) > 40 {
			s = s[:40] + "…"
		}
		return fmt.Errorf("%q is not a day of the calendar; accepted: %s", s, d.Accepts())
	}
	d.Time = t
	return nil
}

// String is the day as the file has it, "" when it is absent.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return d.Format(dayLayout)
}

// MarshalText writes the day alone, without a time.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// MarshalJSON writes the day alone, without a time.
func (d Date) MarshalJSON() ([]byte, error) { return []byte(`"` + d.String() + `"`), nil }

// Accepts says what may be written.
func (Date) Accepts() string { return "a day such as 2026-03-02" }
