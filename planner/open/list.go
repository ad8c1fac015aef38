package open

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
)

// List is what is open in a home, parked questions first, then unknown facts in the order of the project.
func List(p *model.Project) []Point {
	if p == nil {
		return nil
	}
	var out []Point
	seen, rooms := map[string]bool{}, map[string]*model.Room{}
	for i := range p.Rooms {
		rooms[p.Rooms[i].ID] = &p.Rooms[i]
	}
	add := func(x Point) {
		if !seen[x.At] {
			seen[x.At] = true
			out = append(out, x)
		}
	}
	for _, o := range p.Open {
		add(parked(p, rooms, o))
	}
	for _, path := range unknowns(p) {
		x := point(rooms, path)
		x.Fact = true
		add(x)
	}
	return out
}

func parked(p *model.Project, rooms map[string]*model.Room, o model.OpenPoint) Point {
	out := point(rooms, strings.Split(o.At, "/"))
	out.Parked, out.Words = true, o.Words
	_, out.Fact = factAt(p, out.At)
	if o.Ask != "" {
		out.Ask = o.Ask
		if who, ok := p.Person(o.Ask); ok {
			out.Ask = who.Title()
		}
		out.Text += ", ask " + out.Ask
	}
	return out
}

// point puts a path in words.
func point(rooms map[string]*model.Room, steps []string) Point {
	if steps[0] == "rooms" {
		steps = steps[1:]
	}
	out := Point{At: strings.Join(steps, "/")}
	if len(steps) == 0 {
		return out
	}
	r := rooms[steps[0]]
	if r != nil {
		out.Room, steps = steps[0], steps[1:]
	}
	if out.Asks = phrase(steps); r != nil && len(steps) == 3 && steps[0] == "switches" {
		for _, b := range r.Switches {
			if place := b.Place(); b.ID == steps[1] && place != "" { // nobody knows a box by its id
				out.Asks = phrase([]string{"the switch box " + place, steps[2]})
			}
		}
	}
	out.Text = out.Asks
	return out
}

// asked says in words what is open about the last key of a path; %s is the thing that it belongs to.
var asked = map[string]string{
	"dimmable": "can the %s lamps be dimmed",
	"neutral":  "is there a neutral in %s",
	"depth":    "how deep is %s",
	"switch":   "which box feeds the %s",
	"airflow":  "how much air the %s moves",
	"pipe":     "how thick is the pipe at the %s",
	"position": "where the %s is",
	"walls":    "what the walls are made of",
	"wired":    "when the house was wired",
	"coldest":  "how cold its coldest wall gets in winter",
	"outdoor":  "what the air outside is like",
	"outline":  "how big the room is",
	"circuits": "which lamp circuits there are",
	"doors":    "which doors there are",
	"windows":  "which windows there are",
	"switches": "which switch boxes there are",
	"fans":     "which fans there are",
	"water":    "where water can escape",
}

// phrase turns the end of a path into words: switches/box-1/neutral is "is there a neutral in box 1".
func phrase(steps []string) string {
	if n := len(steps); n > 2 {
		steps = steps[n-2:]
	}
	if len(steps) == 0 {
		return ""
	}
	words := make([]string, len(steps))
	for i, s := range steps {
		words[i] = spaced(s)
	}
	text, ok := asked[steps[len(steps)-1]]
	switch {
	case ok && strings.Contains(text, "%s") && len(steps) == 2:
		return fmt.Sprintf(text, words[0])
	case ok && !strings.Contains(text, "%s"):
		return text
	}
	return strings.Join(words, ": ")
}

func spaced(id string) string { return strings.NewReplacer("-", " ", "_", " ").Replace(id) }
