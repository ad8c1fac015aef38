package fitting

import (
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/site"
)

// YearOf is the sun at a home on each day of ideal.SunYear; nil where its place or time zone isn't known.
func YearOf(p *model.Project) []rules.Day {
	place := p.Home.Place
	if place.Timezone == "" {
		return nil
	}
	loc, err := time.LoadLocation(place.Timezone)
	if err != nil {
		return nil
	}
	var year []rules.Day
	for n := range 365 {
		t := time.Date(ideal.SunYear, 1, 1+n, 12, 0, 0, 0, time.UTC)
		d, err := site.SunDay(float64(place.Latitude), float64(place.Longitude), site.DateOf(t), loc)
		if err != nil {
			return nil
		}
		year = append(year, ideal.DayOf(d))
	}
	return year
}
