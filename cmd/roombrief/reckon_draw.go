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

// humidityCurve draws the humidity of a room over time: bars for the best case, dots up to the worst, a line at the ceiling.
func humidityCurve(th theme.Theme, c site.Course, ceiling float64, width int) []string {
	d, dry := c.Damp, c.Drying
	const rows, low = 10, 0.3 // nothing happens under 30 %
	cols := min(max(width-12, 20), 90)
	end := d.Minutes + 60
	if !math.IsInf(dry.FilmM, 1) {
		end = d.Minutes + dry.FilmM*1.2 + 5
	}
	best, most := make([]float64, cols), make([]float64, cols)
	for i := range cols {
		at := end * (float64(i) + 0.5) / float64(cols)
		best[i], most[i] = c.At(at)
	}
	var out []string
	for row := range rows {
		bottom := 1 - float64(row+1)*(1-low)/rows
		top := bottom + (1-low)/rows
		marks := ceiling > bottom && ceiling <= top
		label := fmt.Sprintf("%4.0f %% ", 100*top)
		if marks {
			label = fmt.Sprintf("%4.0f %% ", 100*ceiling)
		}
		var b strings.Builder
		for i := range cols {
			b.WriteString(curveCell(th, best[i], most[i], bottom, top, marks))
		}
		tail := ""
		if marks {
			tail = " ceiling"
		}
		out = append(out, strings.TrimRight(label+b.String()+tail, " "))
	}
	return append(out, minuteAxis(cols, end, d.Minutes)...)
}

func curveCell(th theme.Theme, best, most, bottom, top float64, marks bool) string {
	steps := th.Glyphs.Eighths
	part := math.Round((best - bottom) / (top - bottom) * float64(len(steps)-1))
	switch {
	case part >= 1:
		return steps[min(int(part), len(steps)-1)]
	case most > (bottom+top)/2:
		return th.Glyphs.Dot
	case marks:
		return th.Glyphs.Hair
	}
	return " "
}

// minuteAxis writes the minutes under a curve, and where the source stops.
func minuteAxis(cols int, end, stop float64) []string {
	step := 5.0
	for _, s := range []float64{5, 10, 15, 30, 60, 120, 240, 480} {
		step = s
		if end/s*6 <= float64(cols) {
			break
		}
	}
	line := []rune(strings.Repeat(" ", cols+12))
	for m := 0.0; m <= end; m += step {
		put(line, 7+int(m/end*float64(cols)), fmt.Sprintf("%.0f", m))
	}
	mark := []rune(strings.Repeat(" ", cols+40))
	at := 7 + int(stop/end*float64(cols))
	put(mark, at, "^ the source stops")
	return []string{strings.TrimRight(string(line), " ") + " min", strings.TrimRight(string(mark), " ")}
}

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
