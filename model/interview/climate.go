package interview

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

func (s *scope) indoorAsk(h model.Home) {
	def := "19 C 45 %, 24 C 62 %"
	if s.sys == q.US {
		def = "68 F 40 %, 76 F 55 %"
	}
	now := ""
	if h.Indoor != (model.Indoor{}) {
		now = airsText(h.Indoor)
	}
	const path = "home/indoor"
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: path, Kind: Text,
			Ask:     "What is the air in the hall like: on a winter day, and on a summer day?",
			Why:     "A fan can't make a room drier than the house. In a damp summer a fixed limit alone would run it for ever.",
			Default: def, DefaultWhy: "a usual house; a cheap hygrometer tells", Example: "18 C 50 %, 26 C 65 %", Now: now,
		},
		write: func(t string) ([]projectfile.Edit, error) { return writeAirs(path, t) },
	})
}

// outdoorAsk comes once a fan is to run for damp air: how cold walls get, and how dry airing makes a house, follow from it.
func (s *scope) outdoorAsk(h model.Home) {
	damp := func(r model.Room) bool {
		return len(r.Fans) > 0 && r.Brief.Ventilation.Wanted() && r.Brief.Ventilation.Want.Ceiling.Wanted()
	}
	if !slices.ContainsFunc(s.p.Rooms, damp) {
		return
	}
	usual := model.UsualOutdoor(h.Place)
	def := airsText(usual)
	if s.sys == q.US {
		def = fmt.Sprintf("%.0f F %s, %.0f F %s", fahrenheit(usual.Winter.Temperature), usual.Winter.Humidity, fahrenheit(usual.Summer.Temperature), usual.Summer.Humidity)
	}
	now := ""
	if noted, ok := h.Outdoor.Get(); ok {
		now = airsText(noted)
	} else if h.Outdoor.State == model.Unknown {
		now = "unknown"
	}
	const path = "home/outdoor"
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: path, Kind: Text, CanBeUnknown: true,
			Ask:     "What is the air outside like: on a winter day, and on a summer day?",
			Why:     "In winter it makes walls cold, and damp settles there first. In summer it may be too damp itself to air with.",
			Default: def, DefaultWhy: "usual at this latitude; the weather service has the figures of the place", Example: "4 C 87 %, 17 C 75 %", Now: now,
		},
		write: func(t string) ([]projectfile.Edit, error) {
			if s.d.Has(path + "/winter") {
				return writeAirs(path, t)
			}
			f, err := readAirs(t)
			if err != nil {
				return nil, err
			}
			return []projectfile.Edit{projectfile.Set(path, fmt.Sprintf("winter: {temperature: %s, humidity: %s}\nsummer: {temperature: %s, humidity: %s}", f[0], f[1], f[2], f[3]))}, nil
		},
	})
}

func fahrenheit(t q.Temperature) float64 { return float64(t)*9/5 + 32 }

func airsText(a model.Indoor) string {
	return fmt.Sprintf("%s %s, %s %s", a.Winter.Temperature, a.Winter.Humidity, a.Summer.Temperature, a.Summer.Humidity)
}

func writeAirs(path, text string) ([]projectfile.Edit, error) {
	figures, err := readAirs(text)
	if err != nil {
		return nil, err
	}
	var out []projectfile.Edit
	for i, at := range []string{"/winter/temperature", "/winter/humidity", "/summer/temperature", "/summer/humidity"} {
		out = append(out, projectfile.Set(path+at, figures[i]))
	}
	return out, nil
}

// readAirs reads "18 C 50 %, 26 C 65 %": temperature and humidity of a winter and of a summer day, each as the file has it.
func readAirs(text string) (figures []string, err error) {
	bad := fmt.Errorf("%q is not the air of a winter and of a summer day; write temperature and humidity of both, as in 19 C 45 %%, 24 C 62 %%", text)
	words := strings.Fields(strings.NewReplacer(",", " ", ";", " ", "winter", " ", "summer", " ", "%", " % ", "°", " ").Replace(strings.ToLower(decimal(text))))
	for _, w := range words {
		_, err := strconv.ParseFloat(w, 64)
		switch {
		case err == nil:
			figures = append(figures, w)
		case len(figures) > 0 && !strings.Contains(figures[len(figures)-1], " "):
			figures[len(figures)-1] += " " + strings.ToUpper(w)
		default:
			return nil, bad
		}
	}
	if len(figures) != 4 {
		return nil, bad
	}
	for i, f := range figures {
		if i%2 == 1 {
			if _, figures[i], err = percent(f, 1, 100); err != nil {
				return nil, bad
			}
			continue
		}
		v, written, err := figure[q.Temperature](f, "C")
		if err != nil || v < -45 || v > 50 {
			return nil, bad
		}
		figures[i] = written
	}
	return figures, nil
}

// coldestAsk is for a room whose ceiling of humidity follows from its coldest wall.
func (s *scope) coldestAsk() {
	path := s.base + "/coldest"
	now, answer := "", ""
	if v, known := s.room.Coldest.Get(); known {
		now, answer = s.written("coldest"), v.Show(s.sys)
	} else if s.room.Coldest.State == model.Unknown {
		now = "unknown"
	}
	unit := map[q.System]string{q.Metric: "C", q.US: "F"}[s.sys]
	s.add(ask{
		Question: Question{
			Chapter: Air, Path: path, Kind: Amount, Unit: unit, CanBeUnknown: true,
			Ask:     "On a cold morning, how warm is the coldest spot of its walls, ceiling and window reveals?",
			Why:     "Damp settles there first, and mould begins there. The fan has to start before that spot gets too damp.",
			Default: "unknown", DefaultWhy: "it takes a winter's day and an infrared thermometer, held to the corners",
			Example: map[q.System]string{q.Metric: "14.5 C", q.US: "58 F"}[s.sys], Now: now, Answer: answer,
		},
		write: func(t string) ([]projectfile.Edit, error) {
			v, written, err := figure[q.Temperature](strings.TrimSpace(strings.ReplaceAll(t, "°", "")), unit)
			if err != nil {
				return nil, fmt.Errorf("%q is not a temperature; write it as in 14.5 C or 58 F, or unknown", t)
			}
			low, high := s.wallsBetween()
			if low < high && (v <= low || v >= high) && t != now { // what is written may be older than what bounds it
				return nil, fmt.Errorf("%s is no inside surface on a usual winter day here; accepted: between %s, as it is outside, and %s, as it is in the house", v.Show(s.sys), low.Show(s.sys), high.Show(s.sys))
			}
			return []projectfile.Edit{projectfile.Set(path, written)}, nil
		},
	})
}

// wallsBetween is the air outside and inside on a winter day: no inside surface is colder than the one or warmer than the other.
func (s *scope) wallsBetween() (outside, inside q.Temperature) {
	in, out := s.p.Home.Indoor.Winter, s.p.Home.Outdoor.Or(model.Indoor{}).Winter
	if in.Humidity == 0 {
		in.Temperature = 20
	}
	if out.Humidity == 0 {
		out = model.UsualOutdoor(s.p.Home.Place).Winter
	}
	return out.Temperature, in.Temperature
}
