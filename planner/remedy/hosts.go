package remedy

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/rules"
)

// LimitMoves are the moves against the limits of a room's controller: another controller of the home for the room, another in its
// place, or times that it can keep. There are none where no limit changed a rule of the room.
func LimitMoves(p *model.Project, c *catalogue.Catalogue, plan planner.Plan, room string) []Move {
	felt := plan.Felt(room)
	i := slices.IndexFunc(p.Rooms, func(r model.Room) bool { return r.ID == room })
	if i < 0 || len(felt) == 0 {
		return nil
	}
	m := mover{p: p, c: c, r: &p.Rooms[i], at: i}
	now, _ := plan.Host(plan.HostOf(room).Host)
	m.joined(plan, now, felt)
	m.edges(now, felt)
	m.hosts(plan, now, felt)
	m.controllers(now, felt)
	return m.out
}

// hosts are other controllers of the plan for the room's rules.
func (m *mover) hosts(plan planner.Plan, now fitting.Host, felt []string) {
	for _, h := range plan.Hosts {
		if h.ID != now.ID && freer(h.Limits, now.Limits, felt) {
			m.choose("host", h.ID, fmt.Sprintf("Let the controller %s run the rules of this room instead of %s", h.ID, now.ID),
				func(c *model.Choices, room string) { c.Host = with(c.Host, room, h.ID) })
		}
	}
}

// controllers are others in the place of the room's, that can do all that the one there can, and more. What its place says of the limits of the one that sits there now isn't
// said of another.
func (m *mover) controllers(now fitting.Host, felt []string) {
	if m.p.Choices.Use["controllers/"+now.ID] != "" || m.p.Choices.Use[now.ID] != "" {
		return // the project names the very part
	}
	at := slices.IndexFunc(m.p.Controllers, func(c model.Controller) bool { return c.ID == now.ID })
	for _, l := range m.c.Limits {
		if l.ID == now.Limits.ID && (at < 0 || m.p.Controllers[at].Except == nil) ||
			!freer(l, now.Limits, felt) || freer(now.Limits, l, catalogue.LimitKeys()) {
			continue
		}
		place := model.Controller{ID: now.ID, Room: now.Room, Limits: l.ID}
		edits := []projectfile.Edit{projectfile.Append("controllers", fmt.Sprintf("{id: %s, limits: %s}", now.ID, l.ID))}
		if at >= 0 {
			place = m.p.Controllers[at]
			place.Limits, place.Except = l.ID, nil
			edits = []projectfile.Edit{projectfile.Set("controllers/"+now.ID+"/limits", l.ID)}
			if m.p.Controllers[at].Except != nil {
				edits = append(edits, projectfile.Remove("controllers/"+now.ID+"/except"))
			}
		}
		m.out = append(m.out, Move{ID: "limits:" + l.ID, axis: "host", Edits: edits,
			Words: fmt.Sprintf("Put a controller of the kind \"%s\" in the place of %s", l.Name, now.ID),
			apply: func(p *model.Project) {
				p.Controllers = slices.Clone(p.Controllers)
				if at >= 0 {
					p.Controllers[at] = place
				} else {
					p.Controllers = append(p.Controllers, place)
				}
			}})
	}
}

// edges are periods that begin when the controller can begin them: on a step of its clock, or by the clock where it doesn't know the sun.
func (m *mover) edges(now fitting.Host, felt []string) {
	l := m.r.Brief.Lighting
	if !l.Wanted() {
		return
	}
	step := time.Duration(now.Limits.ClockStep)
	coarse := step > time.Minute && slices.Contains(felt, "clock_step")
	sunless := !now.Limits.SunTimes && slices.Contains(felt, "sun_times")
	to, said := map[int]q.DayTime{}, []string(nil)
	var edits []projectfile.Edit
	for i, p := range l.Want.Periods {
		at := p.From
		switch {
		case at.Sun != q.NoSun && sunless:
			at = m.usually(at, max(step, 5*time.Minute))
		case at.Sun == q.NoSun && coarse:
			at.Offset = at.Offset.Truncate(step)
		}
		if at == p.From {
			continue
		}
		to[i] = at
		said = append(said, fmt.Sprintf("%s instead of %s", at, p.From))
		edits = append(edits, projectfile.Set(fmt.Sprintf("rooms/%s/brief/lighting/periods/%d/from", m.r.ID, i), `"`+at.String()+`"`))
	}
	if len(to) == 0 {
		return
	}
	index := m.at
	m.out = append(m.out, Move{ID: "edges:" + now.ID, axis: "edges", Household: true, Edits: edits,
		Words: fmt.Sprintf("Begin periods when %s can: at %s", now.ID, strings.Join(said, ", at ")),
		apply: func(p *model.Project) {
			w := &p.Rooms[index].Brief.Lighting.Want
			w.Periods = slices.Clone(w.Periods)
			for i, at := range to {
				w.Periods[i].From = at
			}
		}})
}

// usually is the clock time half way between the earliest and the latest of a sun time in the year, on a step of the clock. Where
// nobody knows the sun it stays as it is.
func (m *mover) usually(at q.DayTime, step time.Duration) q.DayTime {
	first, last := rules.DaySeconds, 0
	for _, d := range fitting.YearOf(m.p) {
		s := d.Second(at)
		first, last = min(first, s), max(last, s)
	}
	if first > last {
		return at
	}
	return q.DayTime{Offset: (time.Duration((first+last)/2) * time.Second).Truncate(step)}
}

// freer reports whether limits leave more room than others in one of some keys at least.
func freer(a, than catalogue.Limits, keys []string) bool {
	return slices.ContainsFunc(keys, func(k string) bool { return more(a, than, k) })
}

func more(a, b catalogue.Limits, key string) bool {
	most := func(x, y int64) bool { return y != 0 && (x == 0 || x > y) } // 0 is no bound
	looks := func(g string) int { return slices.Index([]string{"none", "time", "state", "both"}, g) }
	switch key {
	case "rules":
		return most(int64(a.Rules), int64(b.Rules))
	case "longest_wait":
		return most(int64(a.LongestWait), int64(b.LongestWait))
	case "most_guards":
		return most(int64(a.MostGuards), int64(b.MostGuards))
	case "clock_step":
		return a.ClockStep < b.ClockStep
	case "latency":
		return a.Latency < b.Latency
	case "guards":
		return looks(a.Guards) > looks(b.Guards)
	case "presses":
		return len(a.Presses) > len(b.Presses)
	case "toggle_only":
		return len(a.ToggleOnly) < len(b.ToggleOnly)
	case "end_inclusive":
		return !a.EndInclusive && b.EndInclusive
	}
	can := map[string][2]bool{"restarts": {a.Restarts, b.Restarts}, "stacks": {a.Stacks, b.Stacks}, "keeps": {a.Keeps, b.Keeps},
		"holds": {a.Holds, b.Holds}, "over_midnight": {a.OverMidnight, b.OverMidnight}, "sun_times": {a.SunTimes, b.SunTimes},
		"seen_for": {a.SeenFor, b.SeenFor}, "rises_by": {a.RisesBy, b.RisesBy}, "flags": {a.Flags, b.Flags},
		"ordered": {a.Ordered, b.Ordered}, "sees_others": {a.SeesOthers, b.SeesOthers}, "offline": {a.Offline, b.Offline},
		"restores_waits": {a.RestoresWaits, b.RestoresWaits}}[key]
	return can[0] && !can[1]
}
