// Package quantity holds the measured values of a project: each type is a plain number in one
// base unit, reads text in metric or US units, and shows itself in either.
package quantity

import "time"

// Length is in metres.
type Length float64

// Airflow is in litres per second (1 cfm = 0.47194745 l/s).
type Airflow float64

// Power is in watts.
type Power float64

// Voltage is in volts.
type Voltage float64

// Current is in amperes.
type Current float64

// Temperature is in degrees Celsius.
type Temperature float64

// Percent is a part of a hundred: a light level or a relative humidity from 0 to 100, a rate of tax
// or markup, which may be more.
type Percent float64

// Flux is luminous flux in lumens.
type Flux float64

// ColourTemp is correlated colour temperature in kelvin.
type ColourTemp float64

// Illuminance is in lux (1 fc = 10.7639 lx).
type Illuminance float64

// Mass is in kilograms.
type Mass float64

// Area is in square metres.
type Area float64

// Span is a length of time in whole seconds: 45m, 1h10m, 30s.
type Span time.Duration

// Allowance is a span per day: "2h a day".
type Allowance Span

// Degrees is an angle: a latitude or longitude.
type Degrees float64

// HourlyRate is money per hour: "48 GBP/h".
type HourlyRate struct {
	Amount   float64 // in the currency's major unit
	Currency string  // ISO 4217
}

// System chooses how quantities are shown; it never changes what they are.
type System int

const (
	Metric System = iota
	US
)

// Sun names a moment that the sun makes, or none for a clock time.
type Sun int

const (
	NoSun Sun = iota
	Dawn
	Sunrise
	Sunset
	Dusk
)

// DayTime is a moment of the day: a clock time, or a sun time with an offset.
// For a clock time Offset is the time since local midnight, 0 to 24 h (excluded).
type DayTime struct {
	Sun    Sun
	Offset time.Duration
}
