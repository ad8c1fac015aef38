package readback

import (
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
)

func (t *teller) leak() {
	t.goal = "leak"
	g := t.room.Brief.Leak
	if g.State == model.Declined {
		t.say("Nobody is told of water on the floor here.")
	}
	if !g.Wanted() {
		return
	}
	l := g.Want
	where := t.points(l.Points)
	who, one := t.names(l.Tell)
	within := ""
	if l.Within > 0 {
		within = " within " + span(l.Within)
	}
	switch {
	case who != "":
		t.say("When there is water at ", where, ", ", who, they(one, " is", " are"), " told", within, ".")
	case l.Sound:
		t.say("When there is water at ", where, ", a sounder goes off in the house", within, "; nobody else is told.")
	default:
		t.say("Water at ", where, " is watched for, and nobody is to be told yet.")
	}
	if l.Again > 0 && (who != "" || l.Sound) {
		t.say("The message comes again every ", every(span(l.Again)), " until somebody acknowledges it.")
	}
	if l.Sound && who != "" {
		t.say("A sounder in the house goes off as well.")
	}
	if l.Shut != "" {
		t.say("The water is shut at ", t.stopcock(l.Shut), ". Only a person opens it again.")
		t.caution("The valve is a licensed plumber's work and keeps a handle that works without power.")
	}
	t.caution("This helps, and replaces no certified smoke, CO or flood alarm.")
}

// every drops the 1 of "every 1 hour".
func every(text string) string {
	if !strings.Contains(text, " and ") {
		return strings.TrimPrefix(text, "1 ")
	}
	return text
}

func (t *teller) points(ids []string) string {
	if len(ids) == 0 {
		return "any water point of the room"
	}
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = "the " + words(id)
	}
	return english.Join(names, "or")
}

// names of people, and whether it is just one.
func (t *teller) names(ids []string) (text string, one bool) {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = words(id)
		for _, p := range t.p.People {
			if p.ID == id && p.Name != "" {
				names[i] = p.Name
			}
		}
	}
	return english.Join(names, "and"), len(names) == 1
}

// stopcock names a stopcock by its path, room/water-point.
func (t *teller) stopcock(path string) string {
	room, point, ok := strings.Cut(path, "/")
	if !ok {
		return "the " + words(path)
	}
	for _, r := range t.p.Rooms {
		if r.ID == room && r.Name != "" {
			room = r.Name
		}
	}
	name := words(point)
	if !strings.Contains(name, "stop") && !strings.Contains(name, "valve") {
		name += " stopcock"
	}
	return "the " + name + " (" + words(room) + ")"
}
