package fitting

import (
	"fmt"
	"maps"
	"slices"
	"strings"

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
	pins  map[string]string
}

// Pin says on which controllers the rules of some rooms are to run, by their names. A crew runs where the first of its rooms that is
// pinned says; a controller that isn't there pins nothing.
func (h *Home) Pin(rooms map[string]string) { h.pins = rooms }

// NewHome takes the ideal rules of a home. Year gives the sun on each day of a year, and is asked only where a controller
// doesn't know the sun.
func NewHome(sheet rules.Sheet, year func() []rules.Day) *Home {
	return &Home{sheet: sheet, year: year, crews: map[bool][]crew{}, fits: map[string]Fitted{}}
}

// farMore is how many times the rules of a controller a home must have for Count to look at a part of it only.
const farMore = 4

// Count is how many rules the home comes to on controllers with such limits, however many there are of them. Of a home with far more
// rules than one controller takes, only the first rooms are fitted, and the others taken to be like them.
func (h *Home) Count(lim catalogue.Limits) int {
	if h.many(lim) {
		info := Info{Day: h.day}
		if !lim.SunTimes {
			info.Year = h.year()
		}
		part := h.first(max(2*lim.Rules, 200))
		return h.scaled(part, lim, len(Fit(part, lim, info).Sheet.Rules))
	}
	n := 0
	for _, c := range h.of(!lim.SeesOthers) {
		n += len(h.fit(c, lim, nil).Sheet.Rules)
	}
	return n
}

// first is the rules of the first rooms that have so many together.
func (h *Home) first(most int) rules.Sheet {
	end := min(most, len(h.sheet.Rules))
	for end < len(h.sheet.Rules) && h.sheet.Rules[end].Room == h.sheet.Rules[end-1].Room {
		end++
	}
	part := rules.Sheet{Rules: h.sheet.Rules[:end]}
	named := map[string]bool{}
	for _, r := range part.Rules {
		each(r, func(thing, _ string, _ bool) { named[thing] = true })
	}
	for _, t := range h.sheet.Things {
		if named[t.ID] {
			part.Things = append(part.Things, t)
		}
	}
	return part
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
	p.survey()
	p.seat()
	p.join()
	p.delays()
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

// fit fits a crew once for each set of limits, and for each choice of parts that can only be toggled. Whether there are too many rules
// is for whoever puts crews together.
func (h *Home) fit(c crew, lim catalogue.Limits, parts map[string]catalogue.Part) Fitted {
	info := Info{Parts: parts, Day: h.day}
	var key strings.Builder
	fmt.Fprintf(&key, "%+v %s %d", lim, c.Rules[0].ID, len(c.Rules))
	for _, t := range c.Things {
		if info.toggled(t.ID, lim) {
			key.WriteString(" " + t.ID)
		}
	}
	f, ok := h.fits[key.String()]
	if !ok {
		if !lim.SunTimes {
			info.Year = h.year()
		}
		var fits []Fitted
		for _, s := range knots(c.Sheet, lim) {
			fits = append(fits, Fit(s, lim, info))
		}
		f = joined(fits)
		f.Lost = slices.DeleteFunc(f.Lost, func(l Lost) bool { return l.Limit == "rules" })
		h.fits[key.String()] = f
	}
	return f
}

// scarce is the same where there are too many rules, so that those of different goals become one as well.
func (h *Home) scarce(c crew, lim catalogue.Limits, parts map[string]catalogue.Part) Fitted {
	lim.Rules = 1
	return h.fit(c, lim, parts)
}

// knots cuts a sheet into rooms that can be fitted one by one: no two share a wait, set the same thing, or hold a
// wait by what another sets; nor a note where the controller can't remember. What a limit makes of a rule depends on nothing else.
func knots(sheet rules.Sheet, lim catalogue.Limits) []rules.Sheet {
	notes := map[string]bool{}
	if !lim.Flags {
		for _, t := range sheet.Things {
			notes[t.ID] = t.Kind == rules.Flag
		}
	}
	g := bound(sheet, func(thing string) bool { return notes[thing] })
	for _, r := range sheet.Rules {
		for _, l := range r.Hold {
			if l.Thing != "" {
				g.share("thing "+l.Thing, r.Room)
			}
		}
	}
	thing := map[string]int{}
	for i, t := range sheet.Things {
		thing[t.ID] = i
	}
	at := map[string]int{}
	var out []rules.Sheet
	var named []map[int]bool
	for _, r := range sheet.Rules {
		top := g.find(r.Room)
		i, ok := at[top]
		if !ok {
			i = len(out)
			at[top] = i
			out, named = append(out, rules.Sheet{}), append(named, map[int]bool{})
		}
		out[i].Rules = append(out[i].Rules, r)
		each(r, func(id, _ string, _ bool) {
			if n, ok := thing[id]; ok {
				named[i][n] = true
			}
		})
	}
	for i := range out {
		for _, n := range slices.Sorted(maps.Keys(named[i])) {
			out[i].Things = append(out[i].Things, sheet.Things[n])
		}
	}
	return out
}

// groups are rooms that share something.
type groups struct{ parent, owner map[string]string }

func newGroups() groups { return groups{map[string]string{}, map[string]string{}} }

// find names the group of a room.
func (g groups) find(room string) string {
	if up, ok := g.parent[room]; ok && up != room {
		top := g.find(up)
		g.parent[room] = top
		return top
	}
	return room
}

// share puts rooms together that name one key.
func (g groups) share(key, room string) {
	if first, ok := g.owner[key]; ok {
		g.parent[g.find(room)] = g.find(first)
		return
	}
	g.owner[key] = room
}

// Timed is a sheet whose things take as long as their parts do.
func (p Placed) Timed(sheet rules.Sheet) rules.Sheet {
	sheet.Things = slices.Clone(sheet.Things)
	for i := range sheet.Things {
		sheet.Things[i].Takes = p.Takes[sheet.Things[i].ID]
	}
	return sheet
}

// Whole is the rules of all controllers as one sheet, each with its controller. Things keep the order of the ideal sheet; what
// controllers remember of their own comes last.
func (p Placed) Whole(ideal rules.Sheet) rules.Sheet {
	out := rules.Sheet{Links: p.Links}
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
			t.Takes, t.At = p.Takes[t.ID], p.Joined[t.ID]
			out.Things = append(out.Things, t)
		}
	}
	out.Things = append(out.Things, more...)
	return out
}

// joined is what one controller has of several crews.
func joined(fits []Fitted) Fitted {
	if len(fits) == 1 {
		return fits[0]
	}
	out := Fitted{From: map[string][]string{}}
	var things, notes, lost = once[rules.Thing]{}, once[Note]{}, once[Lost]{}
	for _, f := range fits {
		out.Sheet.Rules = append(out.Sheet.Rules, f.Sheet.Rules...)
		out.Sheet.Things = things.add(out.Sheet.Things, f.Sheet.Things)
		maps.Copy(out.From, f.From)
		out.Notes, out.Lost, out.Races = notes.add(out.Notes, f.Notes), lost.add(out.Lost, f.Lost), append(out.Races, f.Races...)
		for _, t := range f.Tables {
			if !slices.ContainsFunc(out.Tables, func(o Table) bool { return o.Of == t.Of }) {
				out.Tables = append(out.Tables, t)
			}
		}
		out.Slack = max(out.Slack, f.Slack)
	}
	return out
}

// once keeps what is in a list already.
type once[T comparable] map[T]bool

// add adds what isn't in the list yet.
func (o once[T]) add(list, more []T) []T {
	for _, x := range more {
		if !o[x] {
			o[x] = true
			list = append(list, x)
		}
	}
	return list
}
