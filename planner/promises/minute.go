package promises

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// everyMinute: each instant of each day of the year belongs to exactly one period. It is reckoned over the days
// of a year, each with its own sun, and holds on the nights on which the clock jumps as well, because windows go
// by what the clock shows: an hour that is left out or comes twice has its seconds in the same windows.
func (m *maker) everyMinute(l model.Lighting) {
	var periods [][][]rules.Literal
	used := map[string]bool{}
	for _, p := range l.Periods {
		if g, ok := m.guardOf(p, used); ok {
			periods = append(periods, g)
		}
	}
	if len(periods) == 0 || len(periods) < len(l.Periods) {
		return // light on request has no rule for a period at 0 %
	}
	out := Computed{Kept: true}
	for n, day := range m.days() {
		if second, owners := notOne(periods, day); owners != 1 {
			out = Computed{Why: fmt.Sprintf("%s at %02d:%02d:%02d belongs to %d periods", dayName(n, len(m.days())), second/3600, second/60%60, second%60, owners)}
			break
		}
	}
	assumed := []Assumption{{"clock", "the controller's clock and its reckoning of the sun are right"}}
	if len(m.opts.Year) == 0 && sunny(l.Periods) {
		assumed = append(assumed, Assumption{"sun", "the home's place is unknown, so this is reckoned for a day of twelve hours of sun only"})
	}
	m.add(Promise{Goal: "lighting", Kind: EveryMinute, Assumes: assumed, fixed: &out,
		Sentence: fmt.Sprintf("Every second of every day of the year belongs to exactly one period of %s, on the nights too on which the clock changes.", m.the())})
}

func sunny(ps []model.Period) bool {
	for _, p := range ps {
		if p.From.Sun != q.NoSun {
			return true
		}
	}
	return false
}

func dayName(n, of int) string {
	if of < 365 {
		return "a day of twelve hours of sun"
	}
	return time.Date(2025, 1, 1+n, 0, 0, 0, 0, time.UTC).Format("2 January")
}

// guardOf are the windows of a period, as the rules that act in it have them: one list for each rule that a limit of the controller
// made of one. The period is known by its beginning, or where the controller has another clock time for that, by its level. A period at
// 0 % lights nothing for anybody; its windows are those of the rule that keeps its lamps dark when the power returns.
func (m *maker) guardOf(p model.Period, used map[string]bool) ([][]rules.Literal, bool) {
	level, acts := int(p.Level+0.5), m.lights
	if level <= 0 {
		level, acts = -1, m.keepsDark
	}
	for _, known := range []bool{true, false} {
		for _, i := range m.rules[m.r.ID] {
			r := &m.ix.sheet.Rules[i]
			if !acts(r) || levelOf(r) != level || used[stem(r.ID)] {
				continue
			}
			out := m.windowsOf(stem(r.ID), acts)
			if known && slices.ContainsFunc(out, func(ws []rules.Literal) bool {
				return slices.ContainsFunc(ws, func(l rules.Literal) bool { return l.From != p.From })
			}) {
				continue
			}
			used[stem(r.ID)] = true
			return out, true
		}
	}
	return nil, false
}

// lights reports whether a rule lights lamps for somebody, and not because the hour or the power came.
func (m *maker) lights(r *rules.Rule) bool {
	return r.Goal == "lighting" && r.Cause.Kind != rules.Clock && r.Cause.Kind != rules.PowerBack
}

// keepsDark reports whether a rule has the lamps of an hour go off when the power returns.
func (m *maker) keepsDark(r *rules.Rule) bool {
	return r.Goal == "lighting" && r.Cause.Kind == rules.PowerBack && levelOf(r) < 0 &&
		slices.ContainsFunc(r.Guard, func(l rules.Literal) bool { _, ok := m.windowOf(l); return ok })
}

// windowOf is the window that a literal looks at: its own, or that of a note which the clock makes at its beginning and forgets at its end,
// whatever else is so.
func (m *maker) windowOf(l rules.Literal) (rules.Literal, bool) {
	if l.Kind == rules.Between {
		return l, true
	}
	by, at := m.ix.sets[l.Thing], m.ix.thing[l.Thing]
	if l.Kind != rules.Is || len(by) != 2 || m.ix.sheet.Things[at].Kind != rules.Flag {
		return l, false
	}
	out, edges := rules.Literal{Not: l.Not, Kind: rules.Between}, 0
	for _, i := range by {
		r := &m.ix.sheet.Rules[i]
		if r.Cause.Kind != rules.Clock || len(r.Guard) > 0 {
			return l, false
		}
		for _, e := range r.Effects {
			switch {
			case e.Kind != rules.Set || e.Thing != l.Thing:
			case e.Value.On:
				out.From, edges = r.Cause.At, edges|1
			default:
				out.To, edges = r.Cause.At, edges|2
			}
		}
	}
	return out, edges == 3
}

// stem is what the parts of one rule share: hall/light-on-night~2 is a part of hall/light-on-night.
func stem(id string) string {
	id, _, _ = strings.Cut(id, "~")
	return id
}

// windowsOf are the windows of the parts of a rule. Parts without any are steps after one that has them, unless none has.
func (m *maker) windowsOf(id string, acts func(*rules.Rule) bool) [][]rules.Literal {
	var out [][]rules.Literal
	for _, i := range m.rules[m.r.ID] {
		r := &m.ix.sheet.Rules[i]
		if stem(r.ID) != id || !acts(r) {
			continue
		}
		var ws []rules.Literal
		for _, l := range r.Guard {
			if w, ok := m.windowOf(l); ok && !w.Not {
				ws = append(ws, w)
			}
		}
		if len(ws) > 0 {
			out = append(out, ws)
		}
	}
	if out == nil {
		out = [][]rules.Literal{nil}
	}
	return out
}

// levelOf is the level at which a rule lights a lamp, -1 when it lights none.
func levelOf(r *rules.Rule) int {
	for _, e := range r.Effects {
		if e.Kind == rules.Set && e.Value.On && e.Value.Level > 0 {
			return e.Value.Level
		}
	}
	return -1
}

// notOne finds a second of a day that belongs to no period or to several.
func notOne(periods [][][]rules.Literal, day rules.Day) (second, owners int) {
	check := func(s int) bool {
		second, owners = (s+rules.DaySeconds)%rules.DaySeconds, 0
		for _, parts := range periods {
			if slices.ContainsFunc(parts, func(ws []rules.Literal) bool { return allHold(ws, day, second) }) {
				owners++
			}
		}
		return owners == 1
	}
	if !check(0) {
		return second, owners
	}
	for _, parts := range periods {
		for _, w := range slices.Concat(parts...) {
			for _, t := range [2]q.DayTime{w.From, w.To} {
				for d := -1; d <= 1; d++ {
					if !check(day.Second(t) + d) {
						return second, owners
					}
				}
			}
		}
	}
	return 0, 1
}
