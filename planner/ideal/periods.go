package ideal

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/site"
)

// period of a room, named and with its guard. A period is now when its start is the latest one that has
// passed, so the periods of a day have neither gap nor overlap, whatever their order.
type period struct {
	model.Period
	name  string // morning, day, evening, night
	guard []rules.Literal
}

// prepare names the periods and works out their guards.
func (r *room) prepare(ps []model.Period) {
	used := map[string]int{}
	for i, p := range ps {
		if later := slices.IndexFunc(ps[i+1:], func(o model.Period) bool { return o.From == p.From }); later >= 0 {
			r.find(true, fmt.Sprintf("brief/lighting/periods/%d/from", i),
				"Two periods of %s start at %s; only the last of them is planned, so give them different starts.", r.the(), p.From.Show(q.Metric))
			continue
		}
		name := partOfDay(p.From)
		if used[name]++; used[name] > 1 {
			name = fmt.Sprintf("%s-%d", name, used[name])
		}
		r.periods = append(r.periods, period{Period: p, name: name})
	}
	if len(r.periods) < 2 {
		return
	}
	ring, fixed := r.ring()
	for i := range r.periods {
		p := &r.periods[i]
		for j, o := range r.periods {
			if j != i && (!fixed || ring[i] == j) {
				p.guard = append(p.guard, rules.Literal{Kind: rules.Between, From: p.From, To: o.From})
			}
		}
	}
}

// ring is which period follows which, and whether that is so on every day of the year. Where it isn't, a
// period needs all the other starts in its guard, and the household should know.
func (r *room) ring() (next []int, fixed bool) {
	year := r.h.o.Year
	sunny := slices.ContainsFunc(r.periods, func(p period) bool { return p.From.Sun != q.NoSun })
	known := len(year) > 0
	if !sunny || !known {
		year = []rules.Day{rules.Equinox}
	}
	next = follow(r.periods, year[0])
	if sunny && !known {
		r.find(false, "brief/lighting/periods", "A period of %s starts with the sun, and the home's place and time zone aren't known; note them in the home.", r.the())
		return next, false
	}
	fixed = true
	for n, day := range year {
		if now := follow(r.periods, day); !slices.Equal(now, next) {
			r.find(false, "brief/lighting/periods", "The order of the periods of %s changes over the year, the first time on %s, when %s. "+
				"Each period then lasts until the next start, whichever it is; move a start if that isn't meant.",
				r.the(), dayOfYear(n), r.starts(day))
			return next, false
		}
		fixed = fixed && !(sunny && r.close(next, day))
	}
	return next, fixed
}

// SunDoubt is by how much two reckonings of a sun time may differ: refraction, horizon and a controller's own formula. Starts that come
// closer than this may change places.
const SunDoubt = 10 * 60

// close reports whether two neighbours of the ring, one of them a sun time, come so close on a day that their order is in doubt.
func (r *room) close(next []int, day rules.Day) bool {
	for i, j := range next {
		a, b := r.periods[i].From, r.periods[j].From
		gap := (day.Second(b) - day.Second(a) + rules.DaySeconds) % rules.DaySeconds
		if a.Sun != b.Sun && gap < SunDoubt {
			return true
		}
	}
	return false
}

func dayOfYear(n int) string {
	return time.Date(2025, 1, 1+n, 0, 0, 0, 0, time.UTC).Format("2 January")
}

func (r *room) starts(day rules.Day) string {
	var out []string
	for _, p := range r.periods {
		if p.From.Sun != q.NoSun {
			s := day.Second(p.From)
			out = append(out, fmt.Sprintf("%s is at %02d:%02d", p.From.Show(q.Metric), s/3600, s/60%60))
		}
	}
	return strings.Join(out, " and ")
}

// follow is the successor of each period on a day. Of two that start in one second the later in the brief counts
// as later.
func follow(ps []period, day rules.Day) []int {
	order := make([]int, len(ps))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return day.Second(ps[a].From) - day.Second(ps[b].From) })
	next := make([]int, len(ps))
	for i, p := range order {
		next[p] = order[(i+1)%len(order)]
	}
	return next
}

func partOfDay(t q.DayTime) string {
	switch t.Sun {
	case q.Dawn, q.Sunrise:
		return "morning"
	case q.Sunset, q.Dusk:
		return "evening"
	}
	switch h := t.Offset.Hours(); {
	case h < 5, h >= 22:
		return "night"
	case h < 11:
		return "morning"
	case h < 17:
		return "day"
	}
	return "evening"
}

// SunYear is the year whose sun times a draft is checked against: any year would do within minutes.
const SunYear = 2025

// yearOf is the sun at the home through a year, nil where the home's place or time zone isn't known, or no
// period starts with the sun.
func yearOf(p *model.Project) []rules.Day {
	if !sunUsed(p) || p.Home.Place.Timezone == "" {
		return nil
	}
	place := p.Home.Place
	loc, err := time.LoadLocation(place.Timezone)
	if err != nil {
		return nil
	}
	year, err := YearAt(float64(place.Latitude), float64(place.Longitude), loc)
	if err != nil {
		return nil
	}
	return year
}

// YearAt is the sun of each day of SunYear, at a latitude and longitude in degrees. Up to 55 degrees of latitude every fifth day is reckoned
// and the days between are drawn straight, in universal time, which is right within twenty seconds; beyond, every day is reckoned.
func YearAt(latitude, longitude float64, loc *time.Location) ([]rules.Day, error) {
	step := 5
	if latitude > 55 || latitude < -55 {
		step = 1
	}
	const days = 365
	noon := func(n int) time.Time { return time.Date(SunYear, 1, 1+n, 12, 0, 0, 0, time.UTC) }
	year := make([]rules.Day, 0, days)
	var last site.Day
	for n := 0; n < days+step; n += step {
		d, err := site.SunDay(latitude, longitude, site.DateOf(noon(n)), loc)
		if err != nil {
			return nil, err
		}
		for k := 1; k < step && n > 0; k++ {
			year = append(year, DayOf(between(last, d, k, step)))
		}
		year, last = append(year, DayOf(d)), d
	}
	return year[:days], nil
}

// between is the day k of n days after a, on the way to b.
func between(a, b site.Day, k, n int) site.Day {
	draw := func(x, y time.Time) time.Time {
		return x.Add(time.Duration(float64(y.Sub(x)) * float64(k) / float64(n)))
	}
	return site.Day{Dawn: draw(a.Dawn, b.Dawn), Sunrise: draw(a.Sunrise, b.Sunrise), Noon: draw(a.Noon, b.Noon),
		Sunset: draw(a.Sunset, b.Sunset), Dusk: draw(a.Dusk, b.Dusk)}
}

func sunUsed(p *model.Project) bool {
	for i := range p.Rooms {
		if l := p.Rooms[i].Brief.Lighting; l.Wanted() {
			for _, x := range l.Want.Periods {
				if x.From.Sun != q.NoSun {
					return true
				}
			}
		}
	}
	return false
}

// DayOf turns the sun of a day into the clock seconds that rules use. Where the sun stays up, its rise is at the start of the
// day and its set at the end; where it stays down, both are at noon.
func DayOf(d site.Day) rules.Day {
	second := func(s q.Sun, sky site.Sky, up, down int) int {
		if t, ok := d.At(s); ok {
			return t.Hour()*3600 + t.Minute()*60 + t.Second()
		}
		if sky == site.AlwaysAbove {
			return up
		}
		return down
	}
	const noon, last = 12 * 3600, 24*3600 - 1
	return rules.Day{
		Dawn:    second(q.Dawn, d.Polar.Dawn, 0, noon),
		Sunrise: second(q.Sunrise, d.Polar.Sunrise, 0, noon),
		Sunset:  second(q.Sunset, d.Polar.Sunset, last, noon),
		Dusk:    second(q.Dusk, d.Polar.Dusk, last, noon),
	}
}
