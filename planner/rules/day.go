package rules

import (
	"time"

	q "example.org/roombrief/model/quantity"
)

// DaySeconds is the length of a clock day in seconds.
const DaySeconds = 24 * 60 * 60

// Day is what the sun does on one day, in seconds since local midnight. Whoever makes a Day decides what a sun
// that doesn't rise or set comes to; each moment must be one of the day.
type Day struct{ Dawn, Sunrise, Sunset, Dusk int }

// Equinox is the day of a Program that wasn't given another: sunrise at six, sunset at eighteen hours.
var Equinox = Day{Dawn: 5*3600 + 1800, Sunrise: 6 * 3600, Sunset: 18 * 3600, Dusk: 18*3600 + 1800}

// Second is a time of day in seconds since local midnight, 0 to 86399. A sun time that its offset carries over
// midnight wraps.
func (d Day) Second(t q.DayTime) int {
	at := int(t.Offset / time.Second)
	switch t.Sun {
	case q.Dawn:
		at += d.Dawn
	case q.Sunrise:
		at += d.Sunrise
	case q.Sunset:
		at += d.Sunset
	case q.Dusk:
		at += d.Dusk
	}
	return ((at % DaySeconds) + DaySeconds) % DaySeconds
}
