package interview

import (
	"fmt"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

// airAsks are about when the fan runs.
func (s *scope) airAsks() {
	if len(s.room.Fans) == 0 {
		return
	}
	goal := s.room.Brief.Ventilation
	s.reasonAsk(goal)
	if !goal.Wanted() {
		return
	}
	v := goal.Want
	if v.Ceiling.Wanted() {
		s.ceilingAsk(v)
		if v.Ceiling.Reckoned {
			s.coldestAsk()
		}
		s.within("ventilation/within", Air, "How soon after the damp ends should the air be back under it?",
			"It is the promise that the fan is checked against. A fan too weak for it is found out on paper.", s.kind.Within, v.Within, 5*time.Minute, 24*time.Hour)
		s.atMostAsk(v)
	}
	if v.WithPeople != (model.WithPeople{}) {
		s.within("ventilation/with_people/after", Air, "After how long in the room should it start for people?",
			"A short visit needs no fan.", s.kind.InFor, v.WithPeople.After, 0, 2*time.Hour)
		s.within("ventilation/with_people/run_on", Air, "How long should it run on after they leave?",
			"Fifteen to twenty minutes of run-on is the trade's usual figure.", s.kind.RunOn, v.WithPeople.RunOn, time.Minute, 4*time.Hour)
	}
	s.requestAsk(v)
	s.quietAsk(v)
}

// within adds a plain question for a time.
func (s *scope) within(rel string, ch Chapter, askText, why, def string, now q.Span, least, most time.Duration) {
	path := s.base + "/brief/" + rel
	example := "30 min"
	if least < time.Minute && most <= time.Hour {
		example = "1 min"
	}
	s.add(ask{
		Question: Question{
			Chapter: ch, Path: path, Kind: Amount, Unit: "min", Ask: askText, Why: why,
			Default: def, Example: example, Now: shown(now > 0, now.String()), Answer: shown(now > 0, now.Show(s.sys)),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			_, written, err := span(t, "min", q.Span(least), q.Span(most))
			if err != nil {
				return nil, err
			}
			return []projectfile.Edit{projectfile.Set(path, written)}, nil
		},
	})
}

func (s *scope) reasonAsk(goal model.Goal[model.Ventilation]) {
	v := goal.Want
	const damp, bears = "when the air is damp", "reckoned from the room and its fan; or a figure, as in 60 %"
	people := "when somebody has been in for " + spanWords(s.kind.InFor) + ", and " + spanWords(s.kind.RunOn) + " on"
	choices := []Choice{
		{"d", damp, "damp", bears}, {"p", people, "people", ""}, {"b", "for both", "both", ""},
		{"r", "only when a person asks for it", "request", "and off again by itself"}, {"n", "leave the fan to people", "none", "no ventilation goal for this room"},
	}
	now, answer := "", ""
	hasPeople := v.WithPeople != (model.WithPeople{})
	switch {
	case goal.State == model.Declined:
		now, answer = "none", "left to people"
	case v.Ceiling.Wanted() && hasPeople:
		now, answer = "both", "for damp air and for people"
	case v.Ceiling.Reckoned:
		now, answer = "damp", damp
	case v.Ceiling.Wanted():
		now, answer = "damp", "when the air is damper than "+v.Ceiling.String()
	case hasPeople:
		now, answer = "people", "when somebody is in the room"
	case goal.Wanted():
		now, answer = "request", "only when a person asks for it"
	}
	s.add(ask{
		Question: Question{
			Chapter: Air, Path: "brief/ventilation", Kind: OneOf, Choices: choices, Ask: "When should the fan run by itself?",
			Why:     "Damp makes mould; where there is no shower it is people and smells that a fan is for.",
			Default: s.kind.Reason, Example: "60 %", Now: now, Answer: answer,
			Caution: "Where a boiler, stove or fire takes its air from the house, a fan can draw fumes in: have a licensed fitter check it.",
		},
		write: func(t string) ([]projectfile.Edit, error) { return s.writeReason(choices, t, goal) },
	})
}

func spanWords(text string) string {
	var v q.Span
	if v.UnmarshalText([]byte(text)) != nil {
		return text
	}
	return v.Show(q.Metric)
}

func (s *scope) writeReason(choices []Choice, text string, goal model.Goal[model.Ventilation]) ([]projectfile.Edit, error) {
	path := s.base + "/brief/ventilation"
	ceiling := reckonedWord
	c, ok := choose(choices, text)
	if !ok {
		_, written, err := percent(text, 30, 95)
		if err != nil {
			return nil, fmt.Errorf("%q is not one of the answers here: %s; a humidity such as 60 %% is fine too", text, offer(choices))
		}
		ceiling, c.Value = written, "damp"
	}
	if c.Value == "none" {
		return []projectfile.Edit{projectfile.Set(path, "none")}, nil
	}
	damp := c.Value == "damp" || c.Value == "both"
	people := c.Value == "people" || c.Value == "both"
	var lines []string
	if damp {
		lines = append(lines, "ceiling: "+ceiling)
	}
	if people {
		lines = append(lines, fmt.Sprintf("with_people: {after: %s, run_on: %s}", s.kind.InFor, s.kind.RunOn))
	}
	if !damp && !people {
		lines = append(lines, "on_request: [{run: "+s.kind.Request+"}]")
	}
	if !goal.Wanted() {
		return []projectfile.Edit{projectfile.Set(path, strings.Join(lines, "\n"))}, nil
	}
	return s.changeReason(path, lines, damp, people, !ok), nil
}

// changeReason adds what is new and takes away the reason that no longer holds; its details stay.
func (s *scope) changeReason(path string, lines []string, damp, people, figure bool) []projectfile.Edit {
	var out []projectfile.Edit
	for _, l := range lines {
		key, yaml, _ := strings.Cut(l, ": ")
		if figure || !s.d.Has(path+"/"+key) {
			out = append(out, projectfile.Set(path+"/"+key, yaml))
		}
	}
	if !damp && s.d.Has(path+"/ceiling") {
		out = append(out, projectfile.Remove(path+"/ceiling"))
	}
	if !people && s.d.Has(path+"/with_people") {
		out = append(out, projectfile.Remove(path+"/with_people"))
	}
	return out
}

// reckonedWord has the ceiling worked out from the room.
var reckonedWord = (&model.Ceiling{}).Word()

func (s *scope) ceilingAsk(v model.Ventilation) {
	path := s.base + "/brief/ventilation/ceiling"
	s.add(ask{
		Question: Question{
			Chapter: Air, Path: path, Kind: Amount, Unit: "%", Ask: "Which humidity should the room come back under?",
			Why:     "Mould grows where the air at the coldest wall stays over about 80 %, and no fan gets a room drier than the house. Both follow from the room and the season.",
			Default: reckonedWord, DefaultWhy: "what the room's coldest wall bears; it changes with the fan and the room", Example: "60 %", Now: v.Ceiling.String(),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			if strings.EqualFold(t, reckonedWord) {
				return []projectfile.Edit{projectfile.Set(path, reckonedWord)}, nil
			}
			_, written, err := percent(t, 30, 95)
			if err != nil {
				return nil, fmt.Errorf("%w; or write %s, and it follows from the room", err, reckonedWord)
			}
			return []projectfile.Edit{projectfile.Set(path, written)}, nil
		},
	})
}

func (s *scope) atMostAsk(v model.Ventilation) {
	path := s.base + "/brief/ventilation/at_most"
	const what = "ventilation/at_most"
	s.add(ask{
		Question: Question{
			Chapter: Air, Path: path, Kind: Amount, Unit: "h a day", Ask: "After how much running in a day should the household hear that the air stays damp?",
			Why:     "A fan that runs for hours is trying to tell you something: wet washing, a leak, or a blocked duct. Say no when nobody wants to hear.",
			Default: s.kind.AtMost, Example: "2 h a day", Now: shown(v.AtMost > 0, v.AtMost.String()), Answer: shown(v.AtMost > 0, v.AtMost.Show(s.sys)),
		},
		declined: what,
		write: func(t string) ([]projectfile.Edit, error) {
			if isNone(t) {
				return s.decline(what, path), nil
			}
			head := t
			for _, end := range []string{"a day", "per day", "/ day", "/day", "/d", "daily"} {
				head = strings.TrimSpace(strings.TrimSuffix(head, end))
			}
			_, written, err := span(head, "h", q.Span(10*time.Minute), q.Span(24*time.Hour))
			if err != nil {
				return nil, err
			}
			return s.want(what, path, written+" a day"), nil
		},
	})
}

func (s *scope) requestAsk(v model.Ventilation) {
	runs := make([]string, len(v.OnRequest))
	for i, r := range v.OnRequest {
		runs[i] = r.Run.String()
	}
	path := s.base + "/brief/ventilation/on_request"
	s.add(ask{
		Question: Question{
			Chapter: Air, Path: path, Kind: Text, Unit: "min", Ask: "When a person asks for the fan, how long should it run?",
			Why:     "A run asked for lasts its full time, whatever else stops meanwhile. More than one is fine; none is too.",
			Default: s.kind.Request, Example: "20m, 1h", Now: noneIf(runs, ", "),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			if isNone(t) {
				return []projectfile.Edit{projectfile.Set(path, "[]")}, nil
			}
			var list []string
			for _, one := range items(t, ";,", " and ", " or ") {
				_, written, err := span(one, "min", q.Span(time.Minute), q.Span(12*time.Hour))
				if err != nil {
					return nil, err
				}
				list = append(list, "{run: "+written+"}")
			}
			if len(list) == 0 || len(list) > 5 {
				return nil, fmt.Errorf("%q is not how long a fan runs; write one to five times, as in 20m, 1h, or none", t)
			}
			return []projectfile.Edit{projectfile.Set(path, "["+strings.Join(list, ", ")+"]")}, nil
		},
	})
}

var exceptWords = map[string]string{
	"humidity": "humidity", "damp": "humidity", "damp air": "humidity", "request": "request", "requests": "request", "a request": "request", "both": "both", "nothing": "nothing", "none": "nothing",
}

func (s *scope) quietAsk(v model.Ventilation) {
	path := s.base + "/brief/ventilation/quiet"
	const what = "ventilation/quiet"
	now := ""
	if v.Quiet != (model.Quiet{}) {
		now = v.Quiet.From.String() + "-" + v.Quiet.To.String()
		if v.Quiet.Except != "" {
			now += " except " + v.Quiet.Except
		}
	}
	s.add(ask{
		Question: Question{
			Chapter: Air, Path: path, Kind: Text, Ask: "In which hours should it keep quiet, and what may still run it?",
			Why:     "A fan through a bedroom wall wakes people; damp that is left over night does harm too.",
			Default: s.kind.Quiet, Example: "23:00-06:00 except humidity (or request, both, nothing); none", Now: now,
		},
		declined: what,
		write: func(t string) ([]projectfile.Edit, error) {
			if isNone(t) {
				return s.decline(what, path), nil
			}
			from, to, except, err := readQuiet(t)
			if err != nil {
				return nil, err
			}
			return s.want(what, path, fmt.Sprintf("{from: %s, to: %s, except: %s}", quoteClock(from), quoteClock(to), except)), nil
		},
	})
}

func quoteClock(t string) string {
	if t[0] >= '0' && t[0] <= '9' {
		return `"` + t + `"`
	}
	return t
}

// readQuiet reads "23:00-06:00 except humidity", "11 pm to 6 am".
func readQuiet(text string) (from, to, except string, err error) {
	bad := fmt.Errorf("%q are not quiet hours; write from and to, as in 23:00-06:00 except humidity, or none", text)
	hours, rest, _ := strings.Cut(strings.ToLower(text), "except")
	except = "nothing"
	if rest = fold(strings.Trim(rest, " :")); rest != "" {
		e, ok := exceptWords[rest]
		if !ok {
			return "", "", "", fmt.Errorf("%q is no exception to quiet hours; accepted: humidity, request, both, nothing", rest)
		}
		except = e
	}
	hours = strings.NewReplacer(" to ", " ", " until ", " ", " and ", " ", "between ", "", "from ", "", "–", " ", "−", "-", ",", " ").Replace(hours)
	var times []string
	for _, w := range spaceDash(strings.Fields(hours)) {
		if w == "am" || w == "pm" {
			if len(times) == 0 {
				return "", "", "", bad
			}
			times[len(times)-1] += w
			continue
		}
		times = append(times, w)
	}
	if len(times) != 2 {
		return "", "", "", bad
	}
	for i, t := range times {
		var v q.DayTime
		if n, unit := splitNumber(t); n != "" && (unit == "" || unit == "am" || unit == "pm") {
			t = n + ":00" + unit
		}
		if v.UnmarshalText([]byte(t)) != nil {
			return "", "", "", bad
		}
		times[i] = v.String()
	}
	if times[0] == times[1] {
		return "", "", "", bad
	}
	return times[0], times[1], except, nil
}

// spaceDash parts "23:00-06:00" and leaves "sunrise-00:30" whole.
func spaceDash(words []string) []string {
	var out []string
	for _, w := range words {
		head, tail, ok := strings.Cut(w, "-")
		if !ok || strings.HasPrefix(w, "sun") || strings.HasPrefix(w, "d") {
			out = append(out, w)
			continue
		}
		for _, p := range []string{head, tail} {
			if p != "" {
				out = append(out, p)
			}
		}
	}
	return out
}
