// Package site is the physical world around and inside a home: formulas with their sources and ranges, and
// no project types.
package site

import (
	"fmt"
	"math"
	"time"

	q "example.org/roombrief/model/quantity"
)

// Years for which the solar theory holds.
const (
	FirstYear = 1901
	LastYear  = 2099
)

// Heights of the sun's centre at which an event happens, in degrees, for a sea-level horizon.
const (
	sunriseHeight = -0.833 // 34 minutes of arc of refraction and 16 of the sun's half width
	civilHeight   = -6     // civil dawn and dusk, without refraction
)

// Date is a civil date of the place.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// DateOf is the civil date of an instant, in the instant's own time zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// String is ISO 8601: 2026-03-02.
func (d Date) String() string { return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day) }

// Sky says whether the sun crosses a height on a half of the day.
type Sky int

const (
	Crosses Sky = iota
	AlwaysAbove
	AlwaysBelow
)

// Polar says of each event whether it happens, or why it doesn't.
type Polar struct{ Dawn, Sunrise, Sunset, Dusk Sky }

// Day is the course of the sun on one civil date, in the place's time zone, to the second. An event that
// doesn't happen has the zero time and its reason in Polar.
//
// The events are those around the solar noon of the date: in high summer a sunset may fall after midnight and
// then carries the next date.
type Day struct {
	Dawn, Sunrise, Noon, Sunset, Dusk time.Time
	Polar                             Polar
}

// At is the instant of a sun time of the project file, and whether it happens on this day.
func (d Day) At(s q.Sun) (time.Time, bool) {
	switch s {
	case q.Dawn:
		return d.Dawn, d.Polar.Dawn == Crosses
	case q.Sunrise:
		return d.Sunrise, d.Polar.Sunrise == Crosses
	case q.Sunset:
		return d.Sunset, d.Polar.Sunset == Crosses
	case q.Dusk:
		return d.Dusk, d.Polar.Dusk == Crosses
	}
	return time.Time{}, false
}

// SunDay gives civil dawn, sunrise, solar noon, sunset and civil dusk of a civil date at a latitude and
// longitude in degrees north and east. It computes in UT and only shows in loc, so a change of the clock moves
// no event.
//
// Source: Meeus, Astronomical Algorithms, 2nd ed., chapters 15, 25 and 28, as in the NOAA Solar Calculator, with
// declination and equation of time taken at the event itself. Range: latitude -90 to 90, longitude -180 to 180,
// 1901 to 2099. Real refraction varies: count on a minute up to 66 degrees of latitude and on ten near the
// polar circles.
func SunDay(latitude, longitude float64, date Date, loc *time.Location) (Day, error) {
	if err := checkPlace(latitude, longitude); err != nil {
		return Day{}, err
	}
	if loc == nil {
		return Day{}, fmt.Errorf("sun times need a time zone, as in Europe/London")
	}
	clockNoon := time.Date(date.Year, date.Month, date.Day, 12, 0, 0, 0, loc)
	if DateOf(clockNoon) != date {
		return Day{}, fmt.Errorf("%s is not a day of the calendar", date)
	}
	if date.Year < FirstYear || date.Year > LastYear {
		return Day{}, fmt.Errorf("sun times are known for the years %d to %d, not for %d", FirstYear, LastYear, date.Year)
	}
	noon := noonNear(float64(clockNoon.Unix()), longitude)
	before, after := midnight(noon, -1, longitude), midnight(noon, 1, longitude)
	d := Day{Noon: shown(noon, loc)}
	cross := func(night, height float64) (time.Time, Sky) {
		at, sky := crossing(night, noon, height, latitude, longitude)
		if sky != Crosses {
			return time.Time{}, sky
		}
		return shown(at, loc), sky
	}
	d.Dawn, d.Polar.Dawn = cross(before, civilHeight)
	d.Sunrise, d.Polar.Sunrise = cross(before, sunriseHeight)
	d.Sunset, d.Polar.Sunset = cross(after, sunriseHeight)
	d.Dusk, d.Polar.Dusk = cross(after, civilHeight)
	return d, nil
}

// Position of the sun in the sky.
type Position struct {
	Elevation      float64 // degrees over a sea-level horizon, without refraction
	Azimuth        float64 // degrees from north through east
	Declination    float64 // degrees
	EquationOfTime float64 // apparent less mean solar time, minutes
}

// SunPosition is where the sun stands at an instant, seen from a latitude and longitude in degrees north and
// east. Sources and range as for SunDay; right to 0.01 degree.
func SunPosition(latitude, longitude float64, at time.Time) (Position, error) {
	if err := checkPlace(latitude, longitude); err != nil {
		return Position{}, err
	}
	if y := at.UTC().Year(); y < FirstYear || y > LastYear {
		return Position{}, fmt.Errorf("the sun's position is known for the years %d to %d, not for %d", FirstYear, LastYear, y)
	}
	unix := float64(at.Unix()) + float64(at.Nanosecond())/1e9
	s := solarAt(unix)
	h, phi, d := radians(s.hourAngle(unix, longitude)), radians(latitude), radians(s.declination)
	azimuth := math.Atan2(math.Sin(h), math.Cos(h)*math.Sin(phi)-math.Tan(d)*math.Cos(phi))
	return Position{
		Elevation:      elevation(unix, latitude, longitude),
		Azimuth:        turn(degrees(azimuth) + 180),
		Declination:    s.declination,
		EquationOfTime: s.equationOfTime,
	}, nil
}

// checkPlace refuses what isn't on the globe, NaN included.
func checkPlace(latitude, longitude float64) error {
	if !(latitude >= -90 && latitude <= 90) {
		return fmt.Errorf("latitude %g is not between -90 and 90 degrees", latitude)
	}
	if !(longitude >= -180 && longitude <= 180) {
		return fmt.Errorf("longitude %g is not between -180 and 180 degrees", longitude)
	}
	return nil
}

// noonNear is the solar noon nearest to a Unix time, as a Unix time.
func noonNear(unix, longitude float64) float64 {
	mean := 43200 - 240*longitude // mean solar noon, seconds after midnight UT
	mean += 86400 * math.Round((unix-mean)/86400)
	return settle(mean, mean)
}

// midnight is the solar midnight half a day before (-1) or after (1) a solar noon.
func midnight(noon, side, longitude float64) float64 {
	mean := 86400*math.Round((noon-43200+240*longitude)/86400) + 43200 - 240*longitude + side*43200
	return settle(mean, mean)
}

// settle moves a mean solar time by the equation of time that holds at the result. The equation changes by
// half a minute a day, so that two rounds are right to a hundredth of a second.
func settle(mean, guess float64) float64 {
	for range 3 {
		guess = mean - 60*solarAt(guess).equationOfTime
	}
	return guess
}

// crossing finds when the sun crosses a height between a solar midnight and the noon beside it. Close to the
// polar circles the usual iteration over the hour angle does not settle, so the crossing is kept between two
// bounds: false position, with the stale bound's height halved (the Illinois rule), and bisection should that stall.
func crossing(night, noon, height, latitude, longitude float64) (float64, Sky) {
	over := func(t float64) float64 { return elevation(t, latitude, longitude) - height }
	low, high, under, above := night, noon, over(night), over(noon)
	if above < 0 {
		return 0, AlwaysBelow
	}
	if under > 0 {
		return 0, AlwaysAbove
	}
	const near, stalled = 1e-5, 15 // degrees: three milliseconds where the sun climbs fast
	for n, last := 0, 0; math.Abs(high-low) > 0.05; n++ {
		middle := (low + high) / 2
		if n < stalled && above > under {
			middle = low + (high-low)*under/(under-above)
		}
		f := over(middle)
		if math.Abs(f) < near {
			return middle, Crosses
		}
		if f < 0 {
			low, under = middle, f
			if last < 0 {
				above /= 2
			}
			last = -1
		} else {
			high, above = middle, f
			if last > 0 {
				under /= 2
			}
			last = 1
		}
	}
	return (low + high) / 2, Crosses
}

// shown is a Unix time as an instant of the place, rounded to the second.
func shown(unix float64, loc *time.Location) time.Time {
	return time.Unix(int64(math.Round(unix)), 0).In(loc)
}
