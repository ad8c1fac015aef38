// Package ribbon draws the day of a room, 24 hours for each lamp circuit, and the page on which its
// periods are moved.
package ribbon

import (
	"slices"
	"sort"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
)

const day = 24 * 60 // minutes

// Sun is what the sun does on a date, in minutes of the local day; Never where it doesn't.
type Sun struct {
	Dawn, Rise, Set, Dusk int
	Up                    bool // where it neither rises nor sets: it is up all day
}

// Never is the minute of what does not happen that day.
const Never = -1

// Minute is when a time of day is on a date with this sun, and whether it is at all.
func (s Sun) Minute(t q.DayTime) (int, bool) {
	base := 0
	switch t.Sun {
	case q.Dawn:
		base = s.Dawn
	case q.Sunrise:
		base = s.Rise
	case q.Sunset:
		base = s.Set
	case q.Dusk:
		base = s.Dusk
	}
	if base == Never {
		return 0, false
	}
	return wrap(base + int(t.Offset.Minutes())), true
}

func wrap(m int) int { return ((m % day) + day) % day }

// stretch is a period on a date: it runs from From to To, past midnight when To is larger than a day.
type stretch struct {
	period   int // index in the brief
	from, to int
}

// stretches sorts periods by their start on a date. A period whose sun time does not come that day is
// left out: the one before it goes on.
func stretches(ps []model.Period, sun Sun) []stretch {
	var out []stretch
	for i, p := range ps {
		if m, ok := sun.Minute(p.From); ok {
			out = append(out, stretch{period: i, from: m})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].from < out[j].from })
	for i := range out {
		if i+1 < len(out) {
			out[i].to = out[i+1].from
		} else {
			out[i].to = out[0].from + day
		}
	}
	return out
}

// light is a circuit at a moment. Alone: the level is left as it is found.
type light struct {
	level  float64
	colour int // kelvin, 0 is as the lamp is
	alone  bool
}

func lightOf(p model.Period, circuit string) light {
	if len(p.Circuits) > 0 && !slices.Contains(p.Circuits, circuit) {
		return light{}
	}
	if p.Level == 0 {
		return light{alone: true}
	}
	return light{level: float64(p.Level), colour: int(p.Colour)}
}

// track is the circuits that do the same all day.
type track struct {
	circuits []string
	lights   []light // by stretch
}

// tracks groups circuits that do the same in every period, in the order of the room.
func tracks(ps []model.Period, cs []model.Circuit, ss []stretch) []track {
	var out []track
next:
	for _, c := range cs {
		ls := make([]light, len(ss))
		for i, s := range ss {
			ls[i] = lightOf(ps[s.period], c.ID)
		}
		for i := range out {
			if slices.Equal(out[i].lights, ls) {
				out[i].circuits = append(out[i].circuits, c.ID)
				continue next
			}
		}
		out = append(out, track{[]string{c.ID}, ls})
	}
	return out
}

// brightest is the strongest light of a track in [from, to) minutes of the day, so that a short
// period stays visible however coarse the drawing.
func brightest(t track, ss []stretch, from, to float64) light {
	var best light
	for i, s := range ss {
		for _, shift := range []float64{0, -day} {
			a, b := float64(s.from)+shift, float64(s.to)+shift
			if a < to && b > from && better(t.lights[i], best) {
				best = t.lights[i]
			}
		}
	}
	return best
}

func better(a, b light) bool {
	if a.level != b.level {
		return a.level > b.level
	}
	return a.alone && !b.alone
}
