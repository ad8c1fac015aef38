package ribbon

import (
	"math"
	"time"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// date is a day that can be shown.
type date struct {
	name string // as in "15:45 at midwinter"
	day  time.Time
	sun  Sun
}

// title prints the date: "midwinter, 21 December".
func (d date) title() string { return d.name + ", " + d.day.Format("2 January") }

// datesOf are today and the turning points of its year, named for the hemisphere.
func datesOf(today time.Time, place model.Place) []date {
	winter, summer := "midwinter", "midsummer"
	if place.Latitude < 0 {
		winter, summer = summer, winter
	}
	loc := zone(place)
	on := func(name string, m time.Month, d int) date {
		day := time.Date(today.Year(), m, d, 12, 0, 0, 0, time.UTC)
		return date{name, day, sunOn(place, day, loc)}
	}
	return []date{
		on("today", today.Month(), today.Day()),
		on(winter, time.December, 21),
		on("the equinox", time.March, 20),
		on(summer, time.June, 21),
	}
}

// nowhere tells whether nobody wrote down where the home stands.
func nowhere(p model.Place) bool { return p.Latitude == 0 && p.Longitude == 0 && p.Timezone == "" }

// zone is the clock of a place; without a known name the hour that its longitude lies in.
func zone(p model.Place) *time.Location {
	if p.Timezone != "" {
		if loc, err := time.LoadLocation(p.Timezone); err == nil {
			return loc
		}
	}
	return time.FixedZone("", int(math.Round(float64(p.Longitude)/15))*3600)
}

func sunOn(p model.Place, day time.Time, loc *time.Location) Sun {
	d, err := site.SunDay(float64(p.Latitude), float64(p.Longitude), site.DateOf(day), loc)
	if err != nil {
		return Sun{Never, Never, Never, Never, false}
	}
	minute := func(s q.Sun) int {
		t, ok := d.At(s)
		if !ok {
			return Never
		}
		t = t.Round(time.Minute)
		return t.Hour()*60 + t.Minute()
	}
	return Sun{
		Dawn: minute(q.Dawn), Rise: minute(q.Sunrise), Set: minute(q.Sunset), Dusk: minute(q.Dusk),
		Up: d.Polar.Sunrise == site.AlwaysAbove,
	}
}

// clockIn prints a minute of the day in the project's way.
func clockIn(minute int, u q.System) string {
	return q.DayTime{Offset: time.Duration(minute) * time.Minute}.Show(u)
}
