package promises

import (
	"fmt"
	"time"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// LampLatency is the longest that a lamp takes from an event to its light: a battery sensor's report, the radio,
// the lamp itself.
const LampLatency = 2 * time.Second

// maker builds the promises of one room.
type maker struct {
	p     *model.Project
	r     *model.Room
	sheet rules.Sheet
	opts  ideal.Options
	day   rules.Day
	out   []Promise
}

// Of lists the promises that a home's briefs make, room by room, on a day of sun.
func Of(p *model.Project, sheet rules.Sheet, o ideal.Options, day rules.Day) []Promise {
	var out []Promise
	for i := range p.Rooms {
		m := &maker{p: p, r: &p.Rooms[i], sheet: sheet, opts: o.In(&p.Choices, p.Rooms[i].ID), day: day}
		m.lighting()
		out = append(out, m.out...)
	}
	return out
}

// add keeps a promise with what every promise of the room leans on.
func (m *maker) add(x Promise) {
	x.Room = m.r.ID
	if x.ID == "" {
		x.ID = m.r.ID + "/" + slug(string(x.Kind))
	}
	x.World.Day = m.day
	m.out = append(m.out, x)
}

func slug(s string) string {
	b := []byte(s)
	for i, c := range b {
		if c == ' ' {
			b[i] = '-'
		}
	}
	return string(b)
}

// world is what is assumed of people in the room.
func (m *maker) world() World {
	return World{
		People: 2, StillFor: int32(time.Duration(ideal.LongestStill(m.r.Kind)) / time.Second),
		Blind: int32(time.Duration(m.opts.Blind) / time.Second), Gone: 30, DoorsSeen: true, Hands: true, Day: m.day,
	}
}

// lamps of the room that some rule sets.
func (m *maker) lamps() []string {
	set := map[string]bool{}
	for _, r := range m.sheet.Rules {
		if r.Room == m.r.ID && r.Goal == "lighting" {
			for _, e := range r.Effects {
				if e.Kind == rules.Set {
					set[e.Thing] = true
				}
			}
		}
	}
	var out []string
	for _, t := range m.sheet.Things {
		if t.Kind == rules.Lamp && set[t.ID] {
			out = append(out, t.ID)
		}
	}
	return out
}

// numbers of things in a program; those it doesn't know are left out.
func numbers(prog *rules.Program, ids []string) []int {
	var out []int
	for _, id := range ids {
		if n, ok := prog.Thing(id); ok {
			out = append(out, n)
		}
	}
	return out
}

func (m *maker) lighting() {
	want := m.r.Brief.Lighting
	lamps := m.lamps()
	if !want.Wanted() || len(lamps) == 0 {
		return
	}
	l := want.Want
	w := m.world()
	people := m.peopleAssumed(w)
	if l.Start != "on request" {
		m.add(Promise{Goal: "lighting", Kind: LightOnEntry, World: w, Assumes: people, about: lamps,
			Sentence: fmt.Sprintf("Whoever comes into %s has light within %s.", the(m.r), q.Span(LampLatency)),
			watch: func(prog *rules.Program) watcher {
				manual := -1
				if n, ok := prog.Thing(m.r.ID + "/by-hand"); ok {
					manual = n
				}
				return onEntry{m.periods(prog, l.Periods), manual, int32(LampLatency / time.Second)}
			}})
	}
	m.add(Promise{Goal: "lighting", Kind: NeverDark, World: w, Assumes: append(people, m.still(w)), about: lamps,
		Sentence: fmt.Sprintf("The light in %s doesn't go out on anybody inside.", the(m.r)),
		watch:    func(prog *rules.Program) watcher { return neverDark{numbers(prog, lamps)} }})
	within := m.emptyWithin(l)
	m.add(Promise{Goal: "lighting", Kind: NotLeftBurning, World: w, Assumes: people, about: lamps,
		Sentence: fmt.Sprintf("The light in %s is off %s after the last person has left and the doors have come to rest.", the(m.r), q.Span(within)),
		watch: func(prog *rules.Program) watcher {
			return notLeftBurning{numbers(prog, lamps), int32(within / time.Second)}
		}})
	if l.KeepManual {
		m.add(Promise{Goal: "lighting", Kind: AsAsked, World: w, Assumes: append(people, m.still(w)), about: lamps,
			Sentence: fmt.Sprintf("A level set by hand in %s stays until the room is empty or somebody changes it.", the(m.r)),
			watch:    func(prog *rules.Program) watcher { return asAsked{numbers(prog, lamps)} }})
	}
	m.notBlinding(l, lamps, w, people)
}

// notBlinding is about the dimmest period: the night.
func (m *maker) notBlinding(l model.Lighting, lamps []string, w World, people []Assumption) {
	if len(l.Periods) < 2 {
		return
	}
	night := -1
	for i, p := range l.Periods {
		if p.Level > 0 && (night < 0 || p.Level < l.Periods[night].Level) {
			night = i
		}
	}
	if night < 0 {
		return
	}
	from := l.Periods[night].From
	to := m.after(l.Periods, night)
	level := int(l.Periods[night].Level + 0.5)
	m.add(Promise{Goal: "lighting", Kind: NotBlinding, World: w, Assumes: people, about: lamps,
		Sentence: fmt.Sprintf("Between %s and %s no rule makes the light in %s brighter than %d %%.", from, to, the(m.r), level),
		watch: func(prog *rules.Program) watcher {
			return notBlinding{numbers(prog, lamps), m.day.Second(from), m.day.Second(to), level}
		}})
}

// after is the start of the period that follows one, on the day in hand.
func (m *maker) after(ps []model.Period, i int) q.DayTime {
	at := m.day.Second(ps[i].From)
	best, next := rules.DaySeconds+1, ps[i].From
	for j, p := range ps {
		d := (m.day.Second(p.From) - at + rules.DaySeconds) % rules.DaySeconds
		if j != i && d > 0 && d < best {
			best, next = d, p.From
		}
	}
	return next
}

// periods as seconds of the day in hand, with the lamps that each lights.
func (m *maker) periods(prog *rules.Program, ps []model.Period) []litPeriod {
	var out []litPeriod
	for i, p := range ps {
		x := litPeriod{from: m.day.Second(p.From), to: m.day.Second(m.after(ps, i)), level: int(p.Level + 0.5)}
		for _, c := range m.r.Circuits {
			if len(p.Circuits) > 0 && !named(p.Circuits, c.ID) {
				continue
			}
			if n, ok := prog.Thing(m.r.ID + "/" + c.ID); ok {
				x.lamps = append(x.lamps, n)
			}
		}
		out = append(out, x)
	}
	return out
}

func named(list []string, id string) bool {
	for _, x := range list {
		if x == id {
			return true
		}
	}
	return false
}

// emptyWithin is the stop time with what it takes to be sure that nobody is in: a sensor's blind time twice, and
// as long as people may keep still while a door stands open.
func (m *maker) emptyWithin(l model.Lighting) time.Duration {
	d := time.Duration(l.Stop.After) + 2*time.Duration(m.opts.Blind+m.opts.Margin)
	if l.Stop.NeverWhile != "moving" {
		d += time.Duration(ideal.LongestStill(m.r.Kind))
	}
	return d
}

func (m *maker) peopleAssumed(w World) []Assumption {
	return []Assumption{
		{"people", fmt.Sprintf("at most %d people are in the room at once, and they come, go and press at any second", w.People)},
		{"doors", "people pass only through doors that are open, and a contact says how its door stands"},
		{"seen", fmt.Sprintf("a movement is seen, unless the sensor has reported in the last %s", q.Span(time.Duration(w.Blind)*time.Second))},
	}
}

func (m *maker) still(w World) Assumption {
	return Assumption{"still", fmt.Sprintf("whoever is inside moves at least every %s", q.Span(time.Duration(w.StillFor)*time.Second))}
}

// the names a room within a sentence.
func the(r *model.Room) string {
	name := r.Title()
	if r.Name != "" && r.Name != model.Titled(r.ID) {
		return name
	}
	return "the " + lower(name)
}

func lower(s string) string {
	if s == "" || s == "WC" {
		return s
	}
	return string(s[0]|0x20) + s[1:]
}
