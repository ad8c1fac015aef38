package fitting

import (
	"fmt"
	"slices"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/rules"
)

// Home fits the rules of one home to any number of controllers. It remembers what it has fitted; it is for one goroutine.
type Home struct {
	sheet rules.Sheet
	year  func() []rules.Day
	day   int
	crews map[bool][]crew
	fits  map[string]Fitted
}

// NewHome takes the ideal rules of a home. Year gives the sun on each day of a year, and is asked only where a controller
// doesn't know the sun.
func NewHome(sheet rules.Sheet, year func() []rules.Day) *Home {
	return &Home{sheet: sheet, year: year, crews: map[bool][]crew{}, fits: map[string]Fitted{}}
}

// Count is how many rules the home comes to on controllers with such limits, however many there are of them.
func (h *Home) Count(lim catalogue.Limits) int {
	n := 0
	for _, c := range h.of(!lim.SeesOthers) {
		n += len(h.fit(c.Sheet, lim, nil).Sheet.Rules)
	}
	return n
}

// Place decides which controller runs the rules of which rooms, as the package's Place says. Parts are those that serve things,
// by the path of the thing.
func (h *Home) Place(hosts []Host, parts map[string]catalogue.Part) Placed {
	out := Placed{Joined: map[string]string{}}
	if len(hosts) == 0 {
		if len(h.sheet.Rules) > 0 {
			out.Lost = append(out.Lost, Lost{Text: "No controller runs the rules.", Promise: "each earns its place", Remedy: "Give the home a controller."})
			out.Asks = append(out.Asks, "a controller")
		}
		return out
	}
	p := placing{home: h, sheet: h.sheet, hosts: hosts, parts: parts, out: &out}
	p.crews = h.of(slices.ContainsFunc(hosts, func(h Host) bool { return !h.Limits.SeesOthers }))
	p.seat()
	p.join()
	for i := range hosts {
		out.Hosts = append(out.Hosts, p.plan(i))
	}
	p.across()
	return out
}

// of are the crews of the home.
func (h *Home) of(alone bool) []crew {
	if h.crews[alone] == nil {
		h.crews[alone] = gather(h.sheet, alone)
	}
	return h.crews[alone]
}

// fit fits some rules of the home once for each set of limits, and for each choice of parts that can only be toggled.
func (h *Home) fit(s rules.Sheet, lim catalogue.Limits, parts map[string]catalogue.Part) Fitted {
	if len(s.Rules) == 0 {
		return Fitted{From: map[string][]string{}}
	}
	info := Info{Parts: parts, Day: h.day}
	key := fmt.Sprintf("%+v %s %d", lim, s.Rules[0].ID, len(s.Rules))
	for _, t := range s.Things {
		if info.toggled(t.ID, lim) {
			key += " " + t.ID
		}
	}
	f, ok := h.fits[key]
	if !ok {
		if !lim.SunTimes {
			info.Year = h.year()
		}
		f = Fit(s, lim, info)
		h.fits[key] = f
	}
	return f
}

// Whole is the rules of all controllers as one sheet, each with its controller. Things keep the order of the ideal sheet; what
// controllers remember of their own comes last.
func (p Placed) Whole(ideal rules.Sheet) rules.Sheet {
	out := rules.Sheet{}
	used, known := map[string]bool{}, map[string]bool{}
	for _, t := range ideal.Things {
		known[t.ID] = true
	}
	var more []rules.Thing
	for _, h := range p.Hosts {
		for _, t := range h.Fit.Sheet.Things {
			used[t.ID] = true
			if !known[t.ID] {
				more = append(more, t)
			}
		}
		for _, r := range h.Fit.Sheet.Rules {
			r.Controller = h.Host
			out.Rules = append(out.Rules, r)
		}
	}
	for _, t := range ideal.Things {
		if used[t.ID] || t.Kind != rules.Flag {
			out.Things = append(out.Things, t)
		}
	}
	out.Things = append(out.Things, more...)
	return out
}

// joined is what one controller has of several crews.
func joined(fits []Fitted) Fitted {
	out := Fitted{From: map[string][]string{}}
	for _, f := range fits {
		out.Sheet.Rules = append(out.Sheet.Rules, f.Sheet.Rules...)
		out.Sheet.Things = union(out.Sheet.Things, f.Sheet.Things)
		for id, from := range f.From {
			out.From[id] = from
		}
		out.Notes, out.Lost, out.Races = union(out.Notes, f.Notes), union(out.Lost, f.Lost), append(out.Races, f.Races...)
		for _, t := range f.Tables {
			if !slices.ContainsFunc(out.Tables, func(o Table) bool { return o.Of == t.Of }) {
				out.Tables = append(out.Tables, t)
			}
		}
		out.Slack = max(out.Slack, f.Slack)
	}
	return out
}

// union adds what isn't in a list yet.
func union[T comparable](list, more []T) []T {
	for _, x := range more {
		if !slices.Contains(list, x) {
			list = append(list, x)
		}
	}
	return list
}
