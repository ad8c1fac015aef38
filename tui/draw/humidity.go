package draw

import (
	"fmt"
	"math"
	"strings"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

const (
	driest   = 0.3 // relative humidity at the foot of a curve: nothing happens under it
	curveTag = 6   // cells of "100 % " before it
	leastCol = 12  // cells under which a curve says nothing
)

// Humidity draws how a room's air gets on in at most w cells and rows lines of curve: filled up to the best case, dots up
// to the worst, a line at the ceiling, the minutes below with marks where the vapour stops and where the air is
// asked to be back under the ceiling. It is nil where it has no room.
func Humidity(th theme.Theme, c site.Course, ceiling float64, within q.Span, w, rows int) []string {
	cols := min(w-curveTag, 60)
	if cols < leastCol || rows < 3 {
		return nil
	}
	stop, asked := c.Damp.Minutes, c.Damp.Minutes+within.Duration().Minutes()
	end := asked * 1.1
	if back := stop + c.Drying.FilmM; !math.IsInf(back, 1) {
		end = max(end, min(back*1.1, 3*asked))
	}
	step := (1 - driest) / float64(rows)
	line := min(int((1-ceiling)/step), rows-1)
	out := make([]string, 0, rows+2)
	for row := range rows {
		text := ""
		if row == line {
			text = curveRule(th, c, cols, end, ceiling)
		} else {
			text = curveRow(th, c, cols, end, 1-float64(row+1)*step, step)
		}
		out = append(out, curveTagOf(row, line, ceiling)+text)
	}
	return append(out, minutesBelow(cols, end), marksBelow(th, cols, end, stop, asked))
}

func curveTagOf(row, line int, ceiling float64) string {
	switch row {
	case line:
		return fmt.Sprintf("%3.0f %% ", 100*ceiling)
	case 0:
		return "100 % "
	}
	return spaces(curveTag)
}

// curveRule is the line at the ceiling: filled while the air is over it for certain, dots while it may be.
func curveRule(th theme.Theme, c site.Course, cols int, end, ceiling float64) string {
	var b strings.Builder
	for i := range cols {
		best, most := c.At(end * (float64(i) + 0.5) / float64(cols))
		switch {
		case best > ceiling:
			b.WriteString(th.Glyphs.Eighths[len(th.Glyphs.Eighths)-1])
		case most > ceiling:
			b.WriteString(th.Glyphs.Dot)
		default:
			b.WriteString(th.Glyphs.Hair)
		}
	}
	return b.String()
}

func curveRow(th theme.Theme, c site.Course, cols int, end, bottom, step float64) string {
	var b strings.Builder
	steps := th.Glyphs.Eighths
	for i := range cols {
		best, most := c.At(end * (float64(i) + 0.5) / float64(cols))
		part := int(math.Round((best - bottom) / step * float64(len(steps)-1)))
		switch {
		case part >= 1:
			b.WriteString(steps[min(part, len(steps)-1)])
		case most > bottom+step/2:
			b.WriteString(th.Glyphs.Dot)
		default:
			b.WriteByte(' ')
		}
	}
	return strings.TrimRight(b.String(), " ")
}

// minutesBelow is the axis of a curve, with a number every eight cells or more.
func minutesBelow(cols int, end float64) string {
	step := 1440.0
	for _, s := range []float64{5, 10, 15, 30, 60, 120, 240, 480} {
		if s/end*float64(cols) >= 8 {
			step = s
			break
		}
	}
	line := ""
	for m := 0.0; m <= end; m += step {
		text := fmt.Sprintf("%.0f", m)
		if m == 0 {
			text = "0 min"
		}
		at := int(m / end * float64(cols))
		if at+len(text) > cols {
			break
		}
		line += spaces(at-len(line)) + text
	}
	return spaces(curveTag) + line
}

// marksBelow point at the minute at which the vapour stops and at the one that was asked for, each with its word where
// there is room.
func marksBelow(th theme.Theme, cols int, end, stop, asked float64) string {
	a, b := int(stop/end*float64(cols)), int(asked/end*float64(cols))
	up := th.Glyphs.Up
	line := spaces(a) + up
	wanted := up + " asked"
	if word := " stops"; b-a > layout.Width(word)+1 {
		line += word
	}
	if b+layout.Width(wanted) > cols {
		wanted = up
		if word := "asked " + up; b+1-layout.Width(word) > layout.Width(line) {
			wanted, b = word, b+1-layout.Width(word)
		}
	}
	if gap := b - layout.Width(line); gap >= 0 {
		line += spaces(gap) + wanted
	}
	return spaces(curveTag) + line
}
