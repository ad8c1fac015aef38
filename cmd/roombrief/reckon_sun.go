package main

import (
	"fmt"
	"math"
	"strings"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
	"example.org/roombrief/tui/theme"

	"github.com/spf13/cobra"
)

func sunCalculator(p process) calculator {
	var place *given[spot, *spot]
	var zone, day string
	var edges []string
	return calculator{
		name: "sun", short: "Sunrise, sunset, twilight, and when periods that follow the sun begin over the year",
		long: `Times of the local clock, summer time included. An --edge is a time of day as a brief has
it: sunset, sunrise+00:30, 22:45.`,
		example: `  roombrief reckon sun --place '53.96, -1.08' --timezone Europe/London
  roombrief reckon sun --place '44.71, -85.56' --timezone America/Detroit --date 2026-12-21
  roombrief reckon sun --place '69.65, 18.96' --timezone Europe/Oslo --edge sunset-01:00 --edge 22:30 --picture`,
		flags: func(c *cobra.Command) {
			place = quantity[spot](c, "place", "", "latitude, longitude; south and west negative")
			c.Flags().StringVar(&zone, "timezone", "", "IANA time zone; the hour of the longitude when absent")
			c.Flags().StringVar(&day, "date", "", "YYYY-MM-DD; today when absent")
			c.Flags().StringArrayVar(&edges, "edge", nil, "start of a period; may be repeated")
		},
		reckon: func(c *cobra.Command, u q.System) (reckoned, error) {
			r := reckoned{ok: true}
			if err := need(c, "place"); err != nil {
				return r, err
			}
			loc, err := zoneOf(zone, place.v, &r)
			if err != nil {
				return r, err
			}
			date := site.DateOf(today(p).In(loc))
			if day != "" {
				t, err := time.Parse(time.DateOnly, day)
				if err != nil {
					return r, fmt.Errorf("%q is no date; write it as 2026-03-02", day)
				}
				date = site.DateOf(t)
			} else {
				r.taken = append(r.taken, "today, "+date.String())
			}
			var times []q.DayTime
			for _, e := range edges {
				var t q.DayTime
				if err := t.UnmarshalText([]byte(e)); err != nil {
					return r, err
				}
				times = append(times, t)
			}
			return sunAnswer(r, place.v, date, loc, times)
		},
	}
}

func zoneOf(name string, at spot, r *reckoned) (*time.Location, error) {
	if name == "" {
		hours := int(math.Round(at.longitude / 15))
		r.taken = append(r.taken, fmt.Sprintf("a clock of UTC%+d, without summer time", hours))
		return time.FixedZone("", hours*3600), nil
	}
	loc, err := time.LoadLocation(name)
	if err != nil || name == "Local" {
		return nil, fmt.Errorf("no time zone %q; give an IANA name as in Europe/London", name)
	}
	return loc, nil
}

func sunAnswer(r reckoned, at spot, date site.Date, loc *time.Location, edges []q.DayTime) (reckoned, error) {
	d, err := site.SunDay(at.latitude, at.longitude, date, loc)
	if err != nil {
		return r, err
	}
	length := dayLength(d)
	clock := func(t time.Time) string {
		t = t.Round(time.Minute)
		s := t.Format("15:04")
		if site.DateOf(t) != date {
			s += " the next day"
			if t.Before(d.Noon) {
				s = t.Format("15:04") + " the day before"
			}
		}
		return s
	}
	switch d.Polar.Sunrise {
	case site.AlwaysAbove:
		r.line = fmt.Sprintf("On %s the sun is up all day; it stands highest at %s", date, clock(d.Noon))
	case site.AlwaysBelow:
		r.line = fmt.Sprintf("On %s the sun does not rise", date)
		if d.Polar.Dawn == site.Crosses {
			r.line += fmt.Sprintf("; there is twilight from %s to %s", clock(d.Dawn), clock(d.Dusk))
		}
	default:
		r.line = fmt.Sprintf("On %s the sun rises at %s and sets at %s, %s later", date, clock(d.Sunrise), clock(d.Sunset), q.Span(d.Sunset.Sub(d.Sunrise).Round(time.Minute)).Show(q.Metric))
		if d.Polar.Dawn == site.Crosses && d.Polar.Dusk == site.Crosses {
			r.line += fmt.Sprintf("; twilight from %s, and to %s", clock(d.Dawn), clock(d.Dusk))
		} else {
			r.line += "; twilight lasts all night"
		}
	}
	var says []string
	for _, e := range edges {
		says = append(says, edgeOver(at, date.Year, loc, e, d, date))
	}
	if len(says) > 0 {
		r.line += "; " + strings.Join(says, "; ")
	}
	r.line += "."
	minute := func(t time.Time, s site.Sky) float64 {
		if s != site.Crosses {
			return math.Inf(1)
		}
		return clockMinute(t, date, loc)
	}
	r.figures = []figure{{"dawn_min", minute(d.Dawn, d.Polar.Dawn)}, {"sunrise_min", minute(d.Sunrise, d.Polar.Sunrise)}, {"noon_min", minute(d.Noon, site.Crosses)},
		{"sunset_min", minute(d.Sunset, d.Polar.Sunset)}, {"dusk_min", minute(d.Dusk, d.Polar.Dusk)}, {"day_length_min", length}}
	for i, e := range edges {
		m, ok := edgeMinute(d, e, date, loc)
		if !ok {
			m = math.Inf(1)
		}
		r.figures = append(r.figures, figure{fmt.Sprintf("edge_%d_min", i+1), m})
	}
	r.picture = func(th theme.Theme, width int) []string { return yearOfSun(th, at, date.Year, loc, edges, width) }
	return r, nil
}

func dayLength(d site.Day) float64 {
	switch d.Polar.Sunrise {
	case site.AlwaysAbove:
		return 24 * 60
	case site.AlwaysBelow:
		return 0
	}
	return d.Sunset.Sub(d.Sunrise).Minutes()
}

// edgeOver says when an edge falls on the day, and from when to when over the year.
func edgeOver(at spot, year int, loc *time.Location, e q.DayTime, today site.Day, date site.Date) string {
	m, ok := edgeMinute(today, e, date, loc)
	on := "does not come that day"
	if ok {
		on = "is at " + clockOf(m)
	}
	if e.Sun == q.NoSun {
		return fmt.Sprintf("%s is the clock's", e)
	}
	early, late, never := math.Inf(1), math.Inf(-1), 0
	for i := range 365 {
		day := site.DateOf(time.Date(year, 1, 1+i, 12, 0, 0, 0, time.UTC))
		d, err := site.SunDay(at.latitude, at.longitude, day, loc)
		if err != nil {
			continue
		}
		m, ok := edgeMinute(d, e, day, loc)
		if !ok {
			never++
			continue
		}
		early, late = math.Min(early, m), math.Max(late, m)
	}
	s := fmt.Sprintf("%s %s", e, on)
	if !math.IsInf(early, 1) {
		s += fmt.Sprintf(", and from %s to %s over the year", clockOf(early), clockOf(late))
	}
	if never > 0 {
		s += fmt.Sprintf(", and on %d days not at all", never)
	}
	return s
}

func clockOf(minute float64) string {
	const day = 24 * 60
	m := (int(math.Round(minute))%day + day) % day
	return fmt.Sprintf("%02d:%02d", m/60, m%60)
}
