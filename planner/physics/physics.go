// Package physics says what air, light, water, radio and power do in the rooms of a project: figures, and one plain
// sentence that says what to do. A fact that nobody knows is taken at its worst, and said.
package physics

import (
	"fmt"
	"math"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// Verdict is what a check comes to.
type Verdict struct {
	OK      bool
	Say     string   // one sentence: what is so, and what to do where it isn't well
	Assumed []string // facts that nobody knows or wrote down, and what was taken for them
	Caution string   // kind of the caution that goes with it, for model/caution; may be ""
}

func (v *Verdict) assume(format string, args ...any) {
	v.Assumed = append(v.Assumed, fmt.Sprintf(format, args...))
}

// Because is the sentence with what it leans on.
func (v Verdict) Because() string {
	if len(v.Assumed) == 0 {
		return v.Say
	}
	return v.Say + " Taken for granted: " + strings.Join(v.Assumed, "; ") + "."
}

// System is the system of units in which a project is shown.
func System(p *model.Project) q.System {
	if p.Home.Units == "us" {
		return q.US
	}
	return q.Metric
}

// Volume of a room in m³, and whether its outline is known.
func Volume(r model.Room) (float64, bool) {
	o := r.Outline
	v := float64(o.Width) * float64(o.Depth) * float64(o.Ceiling)
	return v, v > 0
}

// usual are a room's measures where the survey has none: a small room of its kind, in m.
const (
	usualSide    = 2.0
	usualCeiling = 2.4
)

// outline is the room's, with small sides where it has none.
func outline(r model.Room, v *Verdict) (width, depth, ceiling float64) {
	width, depth, ceiling = float64(r.Outline.Width), float64(r.Outline.Depth), float64(r.Outline.Ceiling)
	if width <= 0 || depth <= 0 {
		width, depth = usualSide, usualSide
		v.assume("no size is noted for %s, a room of 2 m by 2 m is taken", the(r))
	}
	if ceiling <= 0 {
		ceiling = usualCeiling
		v.assume("no ceiling height is noted for %s, 2.4 m is taken", the(r))
	}
	return width, depth, ceiling
}

// the room within a sentence: "the shower room", "the downstairs WC", "Rosa's study"; "the room" where it has neither name
// nor id.
func the(r model.Room) string {
	t := strings.TrimSpace(r.Title())
	if t == "" {
		return "the room"
	}
	if strings.ContainsAny(t, "'’0123456789") {
		return t
	}
	first, n := utf8.DecodeRuneInString(t)
	if second, _ := utf8.DecodeRuneInString(t[n:]); unicode.IsUpper(first) && !unicode.IsUpper(second) { // WC keeps its capitals
		t = string(unicode.ToLower(first)) + t[n:]
	}
	return "the " + strings.TrimPrefix(t, "the ")
}

// pressure of the air where the home stands, in Pa.
func pressure(p *model.Project) float64 {
	pa, err := site.Pressure(float64(p.Home.Place.Elevation))
	if err != nil {
		return site.SeaLevel
	}
	return pa
}

// volts of the mains; where nobody wrote them down, by the currency.
func volts(p *model.Project, v *Verdict) float64 {
	if p.Home.Mains.Voltage > 0 {
		return float64(p.Home.Mains.Voltage)
	}
	if p.Home.Currency == "USD" {
		v.assume("no mains voltage is noted, 120 V is taken")
		return 120
	}
	v.assume("no mains voltage is noted, 230 V is taken")
	return 230
}

// minutes as a span of whole minutes, rounded up; infinite is longest.
func minutes(m float64) q.Span {
	if math.IsInf(m, 1) || m > 366*24*60 {
		return q.Span(366 * 24 * time.Hour)
	}
	return q.Span(time.Duration(math.Ceil(m-1e-9)) * time.Minute)
}

func inMinutes(s q.Span) float64 { return s.Duration().Minutes() }

// shownSpan is a span in words: "45 min", "2 h 10 min".
func shownSpan(s q.Span) string { return s.Show(q.Metric) }
