package promises

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/rules"
)

// OwnForms are the accepted phrases of a promise's `never`, for hints.
const OwnForms = "lamp on, lamp above 5 %, lights on, lights above 5 %, fan on, CIRCUIT on, CIRCUIT above 5 %, FAN on, APPLIANCE on"

// Phrase is a user's `never`, understood.
type Phrase struct {
	What  string // "lamp" for each lamp of the room, "fan" for each fan, or an id of the room
	Level int    // percent that must not be exceeded; 0 is on at all
}

// ParsePhrase reads what must never be: WHAT on, or WHAT above N %.
func ParsePhrase(text string) (Phrase, error) {
	bad := fmt.Errorf("%q is not something that a promise can say must never be; accepted: %s", text, OwnForms)
	words := strings.Fields(strings.ToLower(strings.ReplaceAll(text, "%", " % ")))
	if len(words) < 2 {
		return Phrase{}, bad
	}
	p := Phrase{What: words[0]}
	switch words[0] {
	case "lamp", "lamps", "light", "lights":
		p.What = "lamp"
	case "fan", "fans":
		p.What = "fan"
	}
	switch {
	case len(words) == 2 && words[1] == "on":
		return p, nil
	case (len(words) == 3 || len(words) == 4 && words[3] == "%") && (words[1] == "above" || words[1] == "over") && p.What != "fan":
		n, err := strconv.Atoi(words[2])
		if err != nil || n < 1 || n > 99 {
			return Phrase{}, fmt.Errorf("%q needs a whole number of percent from 1 to 99 after %q", text, words[1])
		}
		p.Level = n
		return p, nil
	}
	return Phrase{}, bad
}

// OwnFinding is what is wrong with a promise of the user's own.
type OwnFinding struct{ ID, Text string }

// Misunderstood lists the user's own promises that can't be understood, each with why.
func Misunderstood(p *model.Project, sheet rules.Sheet) []OwnFinding {
	h := &home{p: p, ix: NewIndex(sheet)}
	var out []OwnFinding
	for i := range p.Promises {
		own := &p.Promises[i]
		if _, _, err := h.understand(own); err != nil {
			out = append(out, OwnFinding{own.ID, err.Error()})
		}
	}
	return out
}

// understand finds the things that a promise of the user's own speaks of.
func (h *home) understand(own *model.OwnPromise) (Phrase, []string, error) {
	p, err := ParsePhrase(own.Never)
	if err != nil {
		return p, nil, err
	}
	if own.Unless != "" && own.Unless != "asked" {
		return p, nil, fmt.Errorf("the promise %s knows no exception %q; accepted: asked", own.ID, own.Unless)
	}
	if n := len(own.Between); n != 0 && n != 2 {
		return p, nil, fmt.Errorf("the promise %s needs two times in between, from and to", own.ID)
	}
	var things []string
	for _, t := range h.ix.sheet.Things {
		if t.Room != own.Room {
			continue
		}
		switch {
		case p.What == "lamp" && t.Kind == rules.Lamp, p.What == "fan" && t.Kind == rules.Fan:
			things = append(things, t.ID)
		case t.ID == own.Room+"/"+p.What && (t.Kind == rules.Lamp || t.Kind == rules.Fan || t.Kind == rules.Plug || t.Kind == rules.Sounder):
			things = append(things, t.ID)
		}
	}
	if len(things) == 0 {
		return p, nil, fmt.Errorf("the promise %s speaks of %q, and no rule moves such a thing in that room; write %s", own.ID, p.What, OwnForms)
	}
	return p, things, nil
}

// own are the user's promises about the room.
func (m *maker) own() {
	for i := range m.p.Promises {
		own := &m.p.Promises[i]
		if own.Room != m.r.ID {
			continue
		}
		p, things, err := m.understand(own)
		if err != nil {
			m.add(Promise{ID: m.r.ID + "/" + own.ID, Goal: "own", Kind: Own, Sentence: "Never " + own.Never + ".", fixed: &Computed{Why: err.Error()}})
			continue
		}
		m.add(Promise{ID: m.r.ID + "/" + own.ID, Goal: "own", Kind: Own, Sentence: sentenceOf(own, m.the()), Assumes: m.peopleAssumed(m.world()),
			facets: m.each(things, func(id string) facet {
				return facet{moments: own.Between, watch: func(prog *rules.Program) watcher {
					n := never{thing: number(prog, id), level: p.Level, always: len(own.Between) != 2, unless: own.Unless == "asked"}
					if !n.always {
						n.hours = hoursOf(prog, own.Between[0], own.Between[1])
						n.always = n.hours.from == n.hours.to
					}
					return n
				}}
			})})
	}
}

func sentenceOf(own *model.OwnPromise, room string) string {
	s := fmt.Sprintf("Never %s in %s", own.Never, room)
	if len(own.Between) == 2 {
		s += fmt.Sprintf(" between %s and %s", own.Between[0], own.Between[1])
	}
	if own.Unless == "asked" {
		s += ", unless somebody asks for it"
	}
	return s + "."
}
