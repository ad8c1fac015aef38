package papers

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// Sizes of the picture of a room's light over the day, in mm.
const (
	ribbonName = 26.0 // for the names of the lamps
	ribbonHead = 5.0  // for the name of the day and the sun
	ribbonRow  = 8.0  // for one track: its words over a bar of at most ribbonBar
	ribbonBar  = 4.6
	ribbonFoot = 7.0 // for the starts of the periods and the hours
	ribbonText = 2.3
	ribbonHour = (sheetW - ribbonName - 2) / 24
)

// lightDay is one day that is drawn.
type lightDay struct {
	name string // "shortest day, 21 December"
	sun  rules.Day
	dark bool // nobody knows when the sun rises: it isn't drawn
}

// lightDays are the shortest and the longest day of the year where the home stands; a home without a place has one day without a sun.
func (s source) lightDays() []lightDay {
	year := fitting.YearOf(s.project)
	if len(year) == 0 {
		return []lightDay{{name: "every day", sun: rules.Equinox, dark: true}}
	}
	daylight := func(d rules.Day) int { return (d.Sunset - d.Sunrise + rules.DaySeconds) % rules.DaySeconds }
	shortest, longest := 0, 0
	for i, d := range year {
		if daylight(d) < daylight(year[shortest]) {
			shortest = i
		}
		if daylight(d) > daylight(year[longest]) {
			longest = i
		}
	}
	on := func(name string, i int) lightDay {
		return lightDay{name: name + ", " + time.Date(ideal.SunYear, 1, 1+i, 0, 0, 0, 0, time.UTC).Format("2 January"), sun: year[i]}
	}
	return []lightDay{on("shortest day", shortest), on("longest day", longest)}
}

// span is a period on one day: seconds from and to, which is past midnight where it is more than a day.
type span struct {
	from, to int
	period   model.Period
}

// spansOf sorts periods by their start on a day, as the rules do.
func spansOf(ps []model.Period, day rules.Day) []span {
	var out []span
	for _, p := range ps {
		out = append(out, span{from: day.Second(p.From), period: p})
	}
	slices.SortStableFunc(out, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	for i := range out {
		out[i].to = out[(i+1)%len(out)].from
		if i+1 == len(out) {
			out[i].to += rules.DaySeconds
		}
	}
	return out
}

// lampsOf groups the circuits of a room that are lit in the same periods.
func lampsOf(r model.Room) [][]string {
	var out [][]string
	var lit []string
	for _, c := range r.Circuits {
		key := ""
		for _, p := range r.Brief.Lighting.Want.Periods {
			key += fmt.Sprint(len(p.Circuits) == 0 || slices.Contains(p.Circuits, c.ID))
		}
		if i := slices.Index(lit, key); i >= 0 {
			out[i] = append(out[i], c.ID)
			continue
		}
		lit, out = append(lit, key), append(out, []string{c.ID})
	}
	return out
}

// lightRibbon draws the light of a room over its shortest and its longest day; "" where its brief asks for none by itself, or has a
// period that starts with a sun that nobody knows.
func (s source) lightRibbon(r model.Room) string {
	want := r.Brief.Lighting
	lamps := lampsOf(r)
	if !want.Wanted() || len(want.Want.Periods) == 0 || len(lamps) == 0 {
		return ""
	}
	days := s.lightDays()
	bySun := func(p model.Period) bool { return p.From.Sun != 0 }
	if days[0].dark && slices.ContainsFunc(want.Want.Periods, bySun) {
		return ""
	}
	tall := ribbonHead + float64(len(lamps))*ribbonRow + ribbonFoot
	d := newSVG(sheetW, float64(len(days))*tall, "Light over the day: "+r.Title())
	for i, day := range days {
		d.lightDay(day, spansOf(want.Want.Periods, day.sun), lamps, float64(i)*tall)
	}
	return strings.Replace(string(d.done()), ` xmlns="http://www.w3.org/2000/svg"`, "", 1) // a page needs none around a picture of its own
}

func hourX(second int) float64 { return ribbonName + float64(second)/3600*ribbonHour }

// lightDay draws one day from y on: the sun, a track for each group of lamps, the starts of the periods, and the hours.
func (s *svg) lightDay(day lightDay, spans []span, lamps [][]string, y float64) {
	s.text(0, y+3.6, 2.6, english.Upper(day.name), `font-style="italic"`)
	if !day.dark {
		s.sunLine(day.sun, y+3.6)
	}
	for k, ids := range lamps {
		foot := y + ribbonHead + float64(k+1)*ribbonRow
		s.line(ribbonName, foot, hourX(rules.DaySeconds), foot, 0.1, "")
		names := make([]string, len(ids))
		for i, id := range ids {
			names[i] = strings.ReplaceAll(id, "-", " ")
		}
		s.text(0, foot-1, ribbonText, shortened(english.List(names), ribbonName-1, ribbonText), "")
		for _, sp := range spans {
			s.lit(sp, ids[0], foot)
		}
	}
	foot := y + ribbonHead + float64(len(lamps))*ribbonRow
	last := -99.0
	for _, sp := range spans {
		x := hourX(sp.from)
		s.line(x, y+ribbonHead+1, x, foot+0.8, 0.2, `stroke-dasharray="0.6 0.6"`)
		if x-last > 8 && x < hourX(rules.DaySeconds)-6 {
			s.text(x, foot+2.9, ribbonText, clock(sp.from), "")
			last = x
		}
	}
	for h := 0; h <= 24; h += 3 {
		s.text(hourX(h*3600), foot+5.5, 2.1, fmt.Sprintf("%02d", h), `text-anchor="middle" fill="#6a6457"`)
	}
}

func clock(second int) string { return fmt.Sprintf("%02d:%02d", second/3600, second/60%60) }

// sunLine is a line while the sun is up, with the times at its ends.
func (s *svg) sunLine(d rules.Day, y float64) {
	from, to := d.Sunrise, d.Sunset
	words := fmt.Sprintf("sun up from %s to %s", clock(from), clock(to))
	switch {
	case from == to:
		words = "the sun stays down"
	case from == 0 && to == rules.DaySeconds-1:
		words = "the sun stays up"
	}
	draw := func(a, b int) {
		if a < b {
			s.line(hourX(a), y+0.9, hourX(b), y+0.9, 0.5, "")
		}
	}
	if to >= from {
		draw(from, to)
	} else { // it sets after midnight
		draw(0, to)
		draw(from, rules.DaySeconds)
	}
	s.text(hourX(12*3600), y, ribbonText, words, `text-anchor="middle"`)
}

// lit draws one period of a track: a bar as high as its level, with level and colour in words; nothing where the lamps are off then.
func (s *svg) lit(sp span, circuit string, foot float64) {
	p := sp.period
	if len(p.Circuits) > 0 && !slices.Contains(p.Circuits, circuit) {
		return
	}
	words := p.Level.String()
	if p.Colour > 0 {
		words += " " + p.Colour.String()
	}
	if p.Level == 0 {
		words = "as it was left"
	}
	piece := func(from, to int) {
		x, w := hourX(from), hourX(to)-hourX(from)
		if w <= 0 {
			return
		}
		if high := float64(min(p.Level, 100)) / 100 * ribbonBar; high > 0 {
			s.rect(x, foot-high, w, high, fmt.Sprintf(`fill="%s" stroke="#22201b" stroke-width="0.15"`, warmth(p)))
		}
		text := words
		if textWide(text, ribbonText) > w-0.8 {
			text = p.Level.String()
		}
		if textWide(text, ribbonText) <= w-0.8 {
			s.text(x+0.6, foot-ribbonBar-0.6, ribbonText, text, "")
		}
	}
	piece(sp.from, min(sp.to, rules.DaySeconds))
	if sp.to > rules.DaySeconds {
		piece(0, min(sp.to-rules.DaySeconds, rules.DaySeconds))
	}
}

// warmth is a fill by the colour of a light, the warmer the darker: a printer without colour shows it too.
func warmth(p model.Period) string {
	switch {
	case p.Colour == 0:
		return "#d9d4c8"
	case p.Colour < 2500:
		return "#e0a868"
	case p.Colour < 3500:
		return "#edd3a0"
	}
	return "#f4eeda"
}
