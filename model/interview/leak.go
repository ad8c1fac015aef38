package interview

import (
	"fmt"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

// LeakCaution goes with everything that is said about leak alerts.
const LeakCaution = "This helps, and replaces no certified smoke, CO or flood alarm."

// leakAsks are about who is told of water, and what is shut.
func (s *scope) leakAsks() {
	var points []Choice
	for _, w := range s.room.Water {
		if w.Kind != "stopcock" {
			points = append(points, Choice{Label: wordsOf(w.ID), Value: w.ID})
		}
	}
	if len(points) == 0 {
		return
	}
	goal := s.room.Brief.Leak
	s.pointsAsk(keyed(points, ""), goal)
	if !goal.Wanted() {
		return
	}
	s.tellAsk(WaterGoal, "brief/leak/tell", "Who should be told?", "It is no use to tell nobody, or only somebody who can't come.", goal.Want.Tell, false)
	s.within("leak/within", WaterGoal, "How soon after the first water?", "A burst hose lets out some 40 litres a minute.", "30s", goal.Want.Within, time.Second, time.Hour)
	s.againAsk(goal.Want)
	s.soundAsk(goal.Want)
	s.shutAsk(goal.Want)
}

func (s *scope) pointsAsk(points []Choice, goal model.Goal[model.Leak]) {
	var all []string
	for _, p := range points {
		all = append(all, p.Value)
	}
	now := strings.Join(goal.Want.Points, ", ")
	answer := labels(points, goal.Want.Points)
	if goal.State == model.Declined {
		now, answer = "none", "no leak alerts here"
	}
	path := s.base + "/brief/leak"
	s.add(ask{
		Question: Question{
			Chapter: WaterGoal, Path: path + "/points", Kind: Several, Choices: points, Ask: "Which of these points should be watched for water?",
			Why:     "A sensor lies on the floor beneath each. Say none to leave leaks out of this room.",
			Default: strings.Join(all, ", "), DefaultAs: labels(points, all), Now: now, Answer: answer, Caution: LeakCaution,
		},
		done: func() bool { return goal.State == model.Declined || s.d.Has(path+"/points") },
		write: func(t string) ([]projectfile.Edit, error) {
			picked, more := pickSeveral(points, t)
			if len(more) > 0 {
				return nil, fmt.Errorf("%q is no water point of this room; accepted: %s, all or none", more[0], offer(points))
			}
			if len(picked) == 0 {
				return []projectfile.Edit{projectfile.Set(path, "none")}, nil
			}
			yaml := inlineList(values(picked))
			if !goal.Wanted() {
				return []projectfile.Edit{projectfile.Set(path, "points: "+yaml)}, nil
			}
			return []projectfile.Edit{projectfile.Set(path+"/points", yaml)}, nil
		},
	})
}

func values(cs []Choice) []string {
	out := make([]string, len(cs))
	for i, c := range cs {
		out[i] = c.Value
	}
	return out
}

// tellAsk asks who hears of something; nobody may be fine, when a sounder does it.
func (s *scope) tellAsk(ch Chapter, rel, askText, why string, now []string, quiet bool) {
	people, allow := s.alerted()
	if len(people) == 0 {
		return
	}
	choices := make([]Choice, len(people))
	var def []string
	for i, p := range people {
		choices[i] = Choice{Label: nameOf(p.Name, p.ID), Value: p.ID}
		if p.Alerts {
			def = append(def, p.ID)
		}
	}
	if len(def) == 0 {
		def = []string{people[0].ID}
	}
	if quiet {
		def = []string{"none"}
	}
	choices = keyed(choices, "")
	path := s.base + "/" + rel
	s.add(ask{
		Question: Question{
			Chapter: ch, Path: path, Kind: Several, Choices: choices, Ask: askText, Why: why,
			Default: strings.Join(def, ", "), DefaultAs: labels(choices, def), Now: noneIf(now, ", "), Answer: noneIf([]string{labels(choices, now)}[:min(len(now), 1)], ""),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			picked, more := pickSeveral(choices, t)
			if len(more) > 0 {
				return nil, fmt.Errorf("%q is nobody who may be told; accepted: %s, all or none", more[0], offer(choices))
			}
			out := []projectfile.Edit{projectfile.Set(path, inlineList(values(picked)))}
			for _, c := range picked {
				if allow {
					out = append(out, projectfile.Set("people/"+c.Value+"/alerts", "true"))
				}
			}
			return out, nil
		},
	})
}

// alerted are those who may be told; when nobody was allowed yet, everybody may be, and is from then on.
func (s *scope) alerted() (people []model.Person, allow bool) {
	for _, p := range s.adults() {
		if p.Alerts {
			people = append(people, p)
		}
	}
	if len(people) == 0 {
		return s.adults(), true
	}
	return people, false
}

func (s *scope) againAsk(l model.Leak) {
	path := s.base + "/brief/leak/again"
	const what = "leak/again"
	s.add(ask{
		Question: Question{
			Chapter: WaterGoal, Path: path, Kind: Amount, Unit: "min", Ask: "How often should they be told again, until somebody answers?",
			Why:     "The first alert may come at night or in the theatre. Say no for once only.",
			Default: "15m", Example: "10 min", Now: shown(l.Again > 0, l.Again.String()), Answer: shown(l.Again > 0, "every "+l.Again.Show(s.sys)),
		},
		declined: what,
		write: func(t string) ([]projectfile.Edit, error) {
			if isNone(t) {
				return s.decline(what, path), nil
			}
			_, written, err := span(strings.TrimPrefix(t, "every "), "min", q.Span(30*time.Second), q.Span(24*time.Hour))
			if err != nil {
				return nil, err
			}
			return s.want(what, path, written), nil
		},
	})
}

func (s *scope) soundAsk(l model.Leak) {
	path := s.base + "/brief/leak/sound"
	s.add(ask{
		Question: Question{
			Chapter: WaterGoal, Path: path, Kind: YesNo, Choices: yesOrNo("heard in the house, also without internet", "only people are told"),
			Ask: "Should a sounder in the house go off as well?", Why: "Whoever is at home hears it even when a telephone is mute or the internet is down.",
			Default: "yes", Now: map[bool]string{true: "yes", false: "no"}[l.Sound], Caution: LeakCaution,
		},
		write: s.writeYesNo(path),
	})
}

func (s *scope) shutAsk(l model.Leak) {
	var choices []Choice
	for _, r := range s.p.Rooms {
		for _, w := range r.Water {
			if w.Kind == "stopcock" {
				choices = append(choices, Choice{Label: wordsOf(w.ID) + " in " + nameOf(r.Name, r.ID), Value: r.ID + "/" + w.ID})
			}
		}
	}
	if len(choices) == 0 {
		return
	}
	path := s.base + "/brief/leak/shut"
	const what = "leak/shut"
	choices = keyed(append(choices, Choice{Key: "n", Label: "leave the water on", Value: "no"}), "")
	s.add(ask{
		Question: Question{
			Chapter: WaterGoal, Path: path, Kind: OneOf, Choices: choices, Ask: "Should the water be shut off as well, and where?",
			Why:     "A motor valve closes in about ten seconds. It is never opened again by a rule.",
			Default: choices[0].Value, Now: l.Shut, Answer: labels(choices, []string{l.Shut}),
			Caution: "A valve in the supply is a licensed plumber's work, and sprinkler supplies never go through it.",
		},
		declined: what,
		write: func(t string) ([]projectfile.Edit, error) {
			c, err := pick(choices, t)
			if err != nil {
				return nil, err
			}
			if c.Value == "no" {
				return s.decline(what, path), nil
			}
			return s.want(what, path, projectfile.Quote(c.Value)), nil
		},
	})
}
