// Package readback tells a brief back in plain sentences, and keeps who agreed to it.
package readback

import (
	"fmt"
	"slices"
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

// GoalWord is a goal as a household calls it.
func GoalWord(goal string) string {
	switch goal {
	case "lighting":
		return "light"
	case "ventilation":
		return "air"
	case "leak":
		return "water"
	case "shutoff":
		return "appliances"
	}
	return goal
}

func (t *teller) said() {
	t.goal = "said"
	for _, s := range t.room.Brief.Said {
		about := "You said"
		if slices.Contains(goals, s.Goal) {
			about = "You said of " + GoalWord(s.Goal)
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
		text := "Still open: " + t.openWords(rest)
		if o.Ask != "" {
			text += "; ask " + t.title(o.Ask)
		}
		if o.Words != "" {
			text += " (“" + o.Words + "”)"
		}
		t.say(text, ".")
	}
}

func (t *teller) title(who string) string {
	if x, ok := t.p.Person(who); ok {
		return x.Title()
	}
	return who
}

// facts are what a survey may leave open about one thing of a list; %s is the thing.
var facts = map[string]string{
	"circuits/dimmable": "whether the %s lamps can be dimmed",
	"circuits/switch":   "which switch box feeds the %s lamps",
	"circuits/zone":     "how near the water the %s lamps are",
	"switches/neutral":  "whether there is a neutral in %s",
	"switches/depth":    "how deep %s is",
	"switches/gangs":    "how many switches %s has",
	"fans/airflow":      "how much air the %s fan moves",
	"fans/switch":       "which switch box feeds the %s fan",
	"water/pipe":        "how thick the pipe at the %s is",
}

// openWords tells a path in words: "switches/box-1/neutral" is "whether there is a neutral in the switch box by the door".
func (t *teller) openWords(path string) string {
	path = strings.TrimPrefix(path, "brief/")
	steps := strings.Split(path, "/")
	if len(steps) == 3 {
		if text, ok := facts[steps[0]+"/"+steps[2]]; ok {
			return fmt.Sprintf(text, t.listed(steps[0], steps[1]))
		}
	}
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

// listed names one thing of a list within a sentence.
func (t *teller) listed(list, id string) string {
	if list == "switches" {
		for _, b := range t.room.Switches {
			if b.ID == id && b.Place() != "" {
				return "the switch box " + b.Place()
			}
		}
	}
	return strings.NewReplacer("-", " ", "_", " ").Replace(id)
}

func isList(step string) bool {
	switch step {
	case "circuits", "switches", "fans", "water", "appliances", "doors", "windows", "outlets":
		return true
	}
	return false
}
