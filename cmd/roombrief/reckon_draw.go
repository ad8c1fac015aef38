package main

import (
	"fmt"
	"math"
	"strings"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
	"example.org/roombrief/tui/theme"
)

func put(line []rune, at int, s string) {
	for i, r := range []rune(s) {
		if at+i < len(line) {
			line[at+i] = r
		}
	}
}

// yearOfSun draws the days of a year: a column a week, a row an hour and a half, day, twilight and night, and the edges
// that follow the sun.
func yearOfSun(th theme.Theme, at spot, year int, loc *time.Location, edges []q.DayTime, width int) []string {
	const rows = 16
	cols := min(max(width-8, 26), 52)
	day, dusk, night := "█", "▒", " "
	if !th.Glyphs.Line {
		day, dusk = "#", "+"
	}
	grid := make([][]string, rows)
	for i := range grid {
		grid[i] = make([]string, cols)
	}
	for col := range cols {
		date := site.DateOf(time.Date(year, 1, 1+int((float64(col)+0.5)*365/float64(cols)), 12, 0, 0, 0, time.UTC))
		d, err := site.SunDay(at.latitude, at.longitude, date, loc)
		if err != nil {
			continue
		}
		for row := range rows {
			minute := (float64(row) + 0.5) * 24 * 60 / rows
			switch {
			case inside(d.Sunrise, d.Sunset, d.Polar.Sunrise, minute, date, loc):
				grid[row][col] = day
			case inside(d.Dawn, d.Dusk, d.Polar.Dawn, minute, date, loc):
				grid[row][col] = dusk
			default:
				grid[row][col] = night
			}
		}
		for i, e := range edges {
			if m, ok := edgeMinute(d, e, date, loc); ok {
				m = math.Mod(m+2*24*60, 24*60)
				grid[min(rows-1, int(m/60/24*rows))][col] = string(rune('a' + i%26))
			}
		}
	}
	var out []string
	for row := range rows {
		label := "      "
		if row%2 == 0 {
			label = fmt.Sprintf("%02d:00 ", row*24/rows)
		}
		out = append(out, strings.TrimRight(label+strings.Join(grid[row], ""), " "))
	}
	months := []rune(strings.Repeat(" ", cols+8))
	for m := range 12 {
		put(months, 6+m*cols/12, "JFMAMJJASOND"[m:m+1])
	}
	out = append(out, strings.TrimRight(string(months), " "), "      "+day+" sun up  "+dusk+" twilight")
	for i, e := range edges {
		out = append(out, fmt.Sprintf("      %c %s", 'a'+i%26, e))
	}
	return out
}

func midnightOf(d site.Date, loc *time.Location) time.Time {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, loc)
}

// inside tells whether a minute of a civil day lies between two events of its sun.
func inside(from, to time.Time, sky site.Sky, minute float64, d site.Date, loc *time.Location) bool {
	switch sky {
	case site.AlwaysAbove:
		return true
	case site.AlwaysBelow:
		return false
	}
	start := clockMinute(from, d, loc)
	stop := clockMinute(to, d, loc)
	for _, m := range []float64{minute - 24*60, minute, minute + 24*60} {
		if m >= start && m < stop {
			return true
		}
	}
	return false
}

// clockMinute is where an instant stands on the clock of a day, in minutes: over 24 h past midnight, negative before.
func clockMinute(t time.Time, d site.Date, loc *time.Location) float64 {
	t = t.In(loc)
	m := float64(t.Hour()*60+t.Minute()) + float64(t.Second())/60
	if on := site.DateOf(t); on != d {
		if t.After(midnightOf(d, loc)) {
			return m + 24*60
		}
		return m - 24*60
	}
	return m
}

// edgeMinute is when an edge falls, in minutes of the day's clock: it may be over 24 h, or negative.
func edgeMinute(d site.Day, e q.DayTime, date site.Date, loc *time.Location) (float64, bool) {
	if e.Sun == q.NoSun {
		return e.Offset.Minutes(), true
	}
	at, ok := d.At(e.Sun)
	if !ok {
		return 0, false
	}
	return clockMinute(at, date, loc) + e.Offset.Minutes(), true
}
