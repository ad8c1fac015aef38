package physics

import (
	"example.org/roombrief/model"
)

// Note is what the physics says of one thing of a room.
type Note struct {
	Verdict
	Goal string // lighting, ventilation, leak, shutoff
	Path string // of the thing in the project: rooms/shower-room/…
}

// Unreckoned is the verdict of what can't be worked out, because a figure is out of the range of its formula.
func Unreckoned(err error) Verdict {
	return Verdict{Say: "This can't be reckoned: " + err.Error() + "; correct that figure in the survey."}
}

// Room is all that the physics says of a room by itself, goal by goal in a fixed order. What can't be reckoned, because a
// figure is out of range, is a note that isn't well.
func Room(p *model.Project, r model.Room) []Note {
	var out []Note
	at := "rooms/" + r.ID
	add := func(goal, path string, v Verdict, err error) {
		if err != nil {
			v = Unreckoned(err)
		}
		out = append(out, Note{v, goal, path})
	}
	if len(r.Circuits) > 0 {
		l, err := Light(p, r)
		add("lighting", at+"/circuits", l.Verdict, err)
	}
	if b := r.Brief.Ventilation; b.Wanted() && b.Want.Ceiling.Wanted() && Airs(r) {
		a, err := Air(p, r)
		add("ventilation", at+"/brief/ventilation", a.Verdict, err)
		if err == nil {
			add("ventilation", at+"/brief/ventilation/ceiling", a.Threshold, nil)
		}
	}
	if e, ok := Extract(p, r); ok {
		add("ventilation", at+"/fans", e.Verdict, nil)
	}
	if r.Brief.Leak.Wanted() {
		for _, w := range r.Water {
			if l, ok, err := Leak(p, r, w); ok {
				add("leak", at+"/water/"+w.ID, l.Verdict, err)
			}
		}
	}
	for _, a := range r.Appliances {
		if a.Power > 0 && !a.Fixed {
			c, err := Plugged(p, a, 0)
			add("shutoff", at+"/appliances/"+a.ID, c.Verdict, err)
		}
	}
	return out
}
