// Package readback tells a brief back in plain sentences, and keeps who agreed to it.
package readback

import (
	"strings"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
)

// Sentence is one thing that the household hears back.
type Sentence struct {
	Goal    string // lighting, ventilation, leak, shutoff, buttons, said, open
	Text    string
	Caution bool // said for safety, not asked for
}

// Room tells a room's brief back, goal by goal. A goal that nobody has talked about is not mentioned; a room
// that does not exist has nothing to say.
func Room(p *model.Project, roomID string) []Sentence {
	if p == nil {
		return nil
	}
	for i := range p.Rooms {
		if p.Rooms[i].ID != roomID {
			continue
		}
		t := teller{p: p, room: &p.Rooms[i], sys: q.Metric}
		if p.Home.Units == "us" {
			t.sys = q.US
		}
		t.lighting()
		t.ventilation()
		t.leak()
		t.shutoff()
		t.buttons()
		t.said()
		t.open()
		return t.out
	}
	return nil
}

// teller gathers the sentences of one room.
type teller struct {
	p    *model.Project
	room *model.Room
	sys  q.System
	goal string
	out  []Sentence
}

func (t *teller) say(parts ...string) {
	t.out = append(t.out, Sentence{Goal: t.goal, Text: strings.Join(parts, "")})
}

func (t *teller) caution(text string) {
	t.out = append(t.out, Sentence{Goal: t.goal, Text: text, Caution: true})
}

func (t *teller) said() {
	t.goal = "said"
	for _, s := range t.room.Brief.Said {
		about := "You said"
		if name, ok := map[string]string{"lighting": "light", "ventilation": "air", "leak": "water", "shutoff": "appliances", "buttons": "buttons"}[s.Goal]; ok {
			about = "You said of " + name
		}
		t.say(about, ": “", s.Words, "”")
	}
}

// open names what is parked for this room.
func (t *teller) open() {
	t.goal = "open"
	for _, o := range t.p.Open {
		at := strings.TrimPrefix(o.At, "rooms/")
		rest, ok := strings.CutPrefix(at, t.room.ID+"/")
		if !ok {
			continue
		}
		text := "Still open: " + openWords(rest)
		if o.Ask != "" {
			text += "; ask " + o.Ask
		}
		if o.Words != "" {
			text += " (“" + o.Words + "”)"
		}
		t.say(text, ".")
	}
}

// openWords tells a path in words: "switches/box-1/neutral" is "the neutral of box 1".
func openWords(path string) string {
	path = strings.TrimPrefix(path, "brief/")
	steps := strings.Split(path, "/")
	for i, s := range steps {
		steps[i] = strings.NewReplacer("-", " ", "_", " ").Replace(s)
	}
	switch last := len(steps) - 1; {
	case last == 0:
		return "the " + steps[0]
	case len(steps) >= 3 && isList(steps[0]):
		return "the " + steps[last] + " of " + steps[1]
	default:
		return "the " + steps[last] + " of the " + steps[0]
	}
}

func isList(step string) bool {
	switch step {
	case "circuits", "switches", "fans", "water", "appliances", "doors", "windows", "outlets":
		return true
	}
	return false
}
