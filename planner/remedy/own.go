package remedy

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

// own are the moves for promises that the household added itself: briefs that agree with them, or a promise that allows more.
func (m *mover) own() {
	for i := range m.p.Promises {
		own := &m.p.Promises[i]
		said, err := promises.ParsePhrase(own.Never)
		if own.Room != m.r.ID || err != nil {
			continue
		}
		if said.What == "lamp" && said.Level > 0 && len(own.Between) == 2 {
			m.night(own, said.Level)
		}
		if m.isFan(said.What) && len(own.Between) == 2 {
			m.quiet(own)
		}
		if own.Unless == "" {
			m.unless(i)
		}
	}
}

// night is a period for the hours in which a promise allows less light than the periods give.
func (m *mover) night(own *model.OwnPromise, level int) {
	l := m.r.Brief.Lighting
	if !l.Wanted() || len(l.Want.Periods) == 0 {
		return
	}
	at := model.Period{From: own.Between[0], Level: q.Percent(level)}
	for _, p := range l.Want.Periods {
		if p.Level > 0 && p.Level <= at.Level {
			at.Level, at.Colour, at.Circuits = p.Level, p.Colour, p.Circuits // a light that they have chosen for the night
		}
	}
	if i := slices.IndexFunc(l.Want.Periods, func(p model.Period) bool { return p.From == at.From }); i >= 0 {
		m.dim(i, at)
		return
	}
	text := fmt.Sprintf("{from: %q, level: %s", at.From, at.Level)
	if at.Colour > 0 {
		text += ", colour: " + at.Colour.String()
	}
	if len(at.Circuits) > 0 {
		text += ", circuits: [" + strings.Join(at.Circuits, ", ") + "]"
	}
	index := m.at
	m.out = append(m.out, Move{ID: "periods:" + own.ID, axis: "periods", Household: true,
		Words: fmt.Sprintf("Begin a period of %s at %s, so that no later sunset or dusk begins a brighter one", at.Level, at.From),
		Edits: []projectfile.Edit{projectfile.Append("rooms/"+m.r.ID+"/brief/lighting/periods", text+"}")},
		apply: func(p *model.Project) {
			w := &p.Rooms[index].Brief.Lighting.Want
			w.Periods = append(slices.Clone(w.Periods), at)
		}})
}

// dim has a period that begins with such hours give their light.
func (m *mover) dim(i int, to model.Period) {
	index, path := m.at, fmt.Sprintf("rooms/%s/brief/lighting/periods/%d/level", m.r.ID, i)
	m.out = append(m.out, Move{ID: "level:" + to.From.String(), axis: "periods", Household: true,
		Words: fmt.Sprintf("Let the period from %s give %s", to.From, to.Level),
		Edits: []projectfile.Edit{projectfile.Set(path, to.Level.String())},
		apply: func(p *model.Project) {
			w := &p.Rooms[index].Brief.Lighting.Want
			w.Periods = slices.Clone(w.Periods)
			w.Periods[i].Level = to.Level
		}})
}

func (m *mover) isFan(what string) bool {
	return what == "fan" || slices.ContainsFunc(m.r.Fans, func(f model.Fan) bool { return f.ID == what })
}

// quiet is quiet hours for the fan in the hours of a promise, where it has none, or shorter ones.
func (m *mover) quiet(own *model.OwnPromise) {
	v := m.r.Brief.Ventilation
	if !v.Wanted() {
		return
	}
	hours := model.Quiet{From: own.Between[0], To: own.Between[1], Except: "nothing"}
	if own.Unless == "asked" {
		hours.Except = "request"
	}
	if now := v.Want.Quiet; now == hours || now.From != now.To && !inside(now, hours) {
		return
	}
	m.ask("ventilation/quiet", fmt.Sprintf("{from: %q, to: %q, except: %s}", hours.From, hours.To, hours.Except),
		fmt.Sprintf("Give the fan quiet hours from %s to %s", hours.From, hours.To), func(b *model.Brief) { b.Ventilation.Want.Quiet = hours })
}

// inside reports whether hours lie within others, on a day of equal light and dark.
func inside(a, b model.Quiet) bool {
	at := func(t q.DayTime) int {
		return (rules.Equinox.Second(t) - rules.Equinox.Second(b.From) + rules.DaySeconds) % rules.DaySeconds
	}
	return at(a.From) <= at(a.To) && at(a.To) <= at(b.To)
}

// unless is the promise with the exception of what somebody asks for: people have their way, and the promise says so.
func (m *mover) unless(i int) {
	id := m.p.Promises[i].ID
	m.out = append(m.out, Move{ID: "unless:" + id, axis: "unless:" + id, Household: true,
		Words: "Let the promise make an exception for whoever asks",
		Edits: []projectfile.Edit{projectfile.Set("promises/"+id+"/unless", "asked")},
		apply: func(p *model.Project) {
			p.Promises = slices.Clone(p.Promises)
			p.Promises[i].Unless = "asked"
		}})
}
