package site

import (
	"fmt"
	"math"
)

// within is the error of a value outside the range for which a formula holds, or nil.
func within(name string, v, least, most float64, unit string) error {
	if math.IsNaN(v) || v < least || v > most {
		if unit != "" {
			unit = " " + unit
		}
		return fmt.Errorf("%s of %s%s is outside %s to %s%s", name, plain(v), unit, plain(least), plain(most), unit)
	}
	return nil
}

// plain is a number to six digits, written out where it isn't vast.
func plain(v float64) string {
	if a := math.Abs(v); a < 1e6 || a >= 1e12 {
		return fmt.Sprintf("%.6g", v)
	}
	return fmt.Sprintf("%.0f", v)
}

// first is the first error of several, or nil.
func first(errs ...error) error {
	for _, e := range errs {
		if e != nil {
			return e
		}
	}
	return nil
}
