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
		return fmt.Errorf("%s of %.6g%s is outside %.6g to %.6g%s", name, v, unit, least, most, unit)
	}
	return nil
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
