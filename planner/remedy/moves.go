package remedy

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/ideal"
)

// Move is one change of a project's decisions that might mend a promise.
type Move struct {
	ID        string // doors:patient
	Words     string // what to do, to follow "To mend it:"
	Household bool   // changes the brief: the household decides
	Edits     []projectfile.Edit

	axis  string // of two moves on one axis only one can be made
	apply func(*model.Project)
}

// Moves are the moves that there are for a room, in the order in which they are tried where prices are alike:
// choices before edits of the brief.
func Moves(p *model.Project, c *catalogue.Catalogue, room string) []Move {
	i := slices.IndexFunc(p.Rooms, func(r model.Room) bool { return r.ID == room })
	if i < 0 {
		return nil
	}
	m := mover{p: p, c: c, r: &p.Rooms[i], at: i}
	m.senses()
	m.brief()
	m.own()
	return m.out
}

type mover struct {
	p   *model.Project
	c   *catalogue.Catalogue
	r   *model.Room
	at  int // of the room in the project
	out []Move
}

// senses are the moves about how the room knows of people.
func (m *mover) senses() {
	modes := ideal.Modes(m.p, m.r)
	if len(modes) == 0 {
		return
	}
	now := ideal.Usual().In(&m.p.Choices, m.r)
	doors := slices.Contains(modes, "doors")
	if doors && !now.PatientDoors {
		still := ideal.LongestStill(m.r.Kind)
		m.choose("doors", "patient", fmt.Sprintf("Once the last door has shut, wait for %s, as long as people here may keep still, before the room counts as empty", still), func(c *model.Choices, room string) {
			c.Doors = with(c.Doors, room, "patient")
		})
	}
	if modes[0] == "motion" && doors {
		m.choose("sense", "doors", "Put a contact on each door, so that motion behind shut doors is somebody until a door opens", sense("doors"))
	}
	if modes[0] != "still" {
		m.choose("sense", "still", "Put in a sensor that sees people who keep still, instead of motion", sense("still"))
		for _, b := range m.blindTimes(now.Blind) {
			m.choose("blind", b.String(), fmt.Sprintf("Use a motion sensor that reports again after %s", b), func(c *model.Choices, room string) {
				c.Blind = with(c.Blind, room, b)
			})
		}
	}
}

func sense(how string) func(*model.Choices, string) {
	return func(c *model.Choices, room string) { c.Sense = with(c.Sense, room, how) }
}

// with is a map with one more entry; the map itself stays as it is.
func with[V any](m map[string]V, key string, v V) map[string]V {
	out := maps.Clone(m)
	if out == nil {
		out = map[string]V{}
	}
	out[key] = v
	return out
}

// choose adds a move that is one of the project's choices for the room.
func (m *mover) choose(key, value, words string, apply func(*model.Choices, string)) {
	room := m.r.ID
	m.out = append(m.out, Move{ID: key + ":" + value, Words: words, axis: key,
		Edits: []projectfile.Edit{projectfile.Set("choices/"+key+"/"+room, value)},
		apply: func(p *model.Project) { apply(&p.Choices, room) }})
}

// blindTimes are the next shorter time for which a motion sensor of the shelf is blind, and the shortest.
func (m *mover) blindTimes(now q.Span) []q.Span {
	var all []q.Span
	for _, x := range m.c.Parts {
		if b := x.Behaviour.Blind; slices.Contains(x.Does, catalogue.SenseMotion) && !slices.Contains(x.Does, catalogue.SenseStill) && b > 0 && b < now {
			all = append(all, b)
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	if n := len(all); n > 2 {
		all = []q.Span{all[n-1], all[0]}
	}
	return all
}

// brief are the moves that change what the household asked for.
func (m *mover) brief() {
	l := m.r.Brief.Lighting
	if !l.Wanted() {
		return
	}
	if long := m.patience(); l.Want.Stop.After > 0 && l.Want.Stop.After < long {
		m.ask("lighting/stop/after", long.String(), fmt.Sprintf("Leave the light on for %s after the last sign of somebody", long), func(b *model.Brief) {
			b.Lighting.Want.Stop.After = long
		})
	}
	if !l.Want.KeepManual {
		m.ask("lighting/keep_manual", "yes", "Leave a lamp that somebody set by hand as it is until the room is empty", func(b *model.Brief) {
			b.Lighting.Want.KeepManual = true
		})
	}
}

// patience is a stop time that outlasts whoever keeps still here, in whole minutes.
func (m *mover) patience() q.Span {
	o := ideal.Usual().In(&m.p.Choices, m.r)
	long := time.Duration(ideal.LongestStill(m.r.Kind) + o.Blind + o.Margin)
	return q.Span((long + time.Minute - time.Second).Truncate(time.Minute))
}

// ask adds a move that the household has to agree to: an edit of the room's brief.
func (m *mover) ask(path, value, words string, apply func(*model.Brief)) {
	at := m.at
	m.out = append(m.out, Move{ID: path + ":" + value, Words: words, Household: true, axis: path,
		Edits: []projectfile.Edit{projectfile.Set("rooms/"+m.r.ID+"/brief/"+path, value)},
		apply: func(p *model.Project) { apply(&p.Rooms[at].Brief) }})
}

// made is the project with some moves made. The project itself stays as it is.
func made(p *model.Project, moves []Move) *model.Project {
	out := *p
	out.Rooms = slices.Clone(p.Rooms)
	for _, m := range moves {
		m.apply(&out)
	}
	return &out
}
