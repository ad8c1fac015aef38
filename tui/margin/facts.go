package margin

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// plural writes a count with its word.
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Line is what follows from the project in one line: the room in hand first, then the home.
func Line(s page.Snapshot) string {
	if s.PlanFault != nil {
		return "No plan: " + s.PlanFault.Error()
	}
	if s.Plan == nil {
		return "Working out what this needs" + s.Theme.Glyphs.More
	}
	b := s.Plan.Bill
	var parts []string
	if s.Room != "" {
		if t, ok := roomTotal(b, s.Room); ok && t.Devices > 0 {
			parts = append(parts, fmt.Sprintf("here %s %s", plural(t.Devices, "device", "devices"), t.Amount.Plain()))
		} else {
			parts = append(parts, "here nothing yet")
		}
		if b.Total == 0 {
			parts = nil
		}
	}
	if text := promisedShort(tally(s, s.Room)); text != "" {
		parts = append(parts, text)
	}
	if b.Total > 0 {
		parts = append(parts, fmt.Sprintf("home about %s with tax", b.Total.In(b.Currency)))
	} else {
		parts = append(parts, "nothing to buy yet")
	}
	if n := len(OpenPoints(s.Project, "")); n > 0 {
		parts = append(parts, fmt.Sprintf("%d open", n))
	}
	if n := len(b.Unmet); n > 0 {
		parts = append(parts, fmt.Sprintf("%d not to be had", n))
	}
	return strings.Join(parts, " "+s.Theme.Glyphs.Note+" ")
}

func roomTotal(b bill.Bill, room string) (bill.Total, bool) {
	for _, t := range b.Rooms {
		if t.Room == room {
			return t, true
		}
	}
	return bill.Total{}, false
}

// Room is what follows from a room, as notes for a margin of w cells: cost, devices, what is not met, open
// points. An empty id is the home.
func Room(s page.Snapshot, room string, w, at int) []Note {
	if s.PlanFault != nil {
		return []Note{{At: at, Head: "No plan", Text: s.PlanFault.Error(), Alarm: true}}
	}
	if s.Plan == nil {
		return []Note{{At: at, Text: "Working out what this needs" + s.Theme.Glyphs.More}}
	}
	b := s.Plan.Bill
	notes := []Note{cost(s, room, at)}
	if n, ok := promised(s, room, at); ok {
		notes = append(notes, n)
	}
	if text := devices(s, b, room, w); text != "" {
		notes = append(notes, Note{At: at, Head: "Devices, in " + b.Currency, Text: text})
	}
	if text := unmet(s, room); text != "" {
		notes = append(notes, Note{At: at, Head: "Not to be had", Text: text})
	}
	if text := open(s, room, w); text != "" {
		notes = append(notes, Note{At: at, Head: "Open points", Text: text})
	}
	return notes
}

func cost(s page.Snapshot, room string, at int) Note {
	b := s.Plan.Bill
	if b.Total == 0 {
		return Note{At: at, Head: "What this comes to", Text: "Nothing to buy yet."}
	}
	all := "The home: " + b.Total.In(b.Currency) + " with tax. " + bill.PriceNote(b, model.Date{Time: s.Today})
	if room == "" {
		return Note{At: at, Head: "What this comes to", Text: all}
	}
	here := "Nothing to buy here yet."
	if t, ok := roomTotal(b, room); ok && t.Devices > 0 {
		here = fmt.Sprintf("This room: %s before tax, %s.", t.Amount.In(b.Currency),
			plural(t.Devices, "device", "devices"))
	}
	return Note{At: at, Head: "What this comes to", Text: here + "\n" + all}
}

// promised counts the promises of a room, or of the home, by their verdicts.
func promised(s page.Snapshot, room string, at int) (Note, bool) {
	t := tally(s, room)
	if t.All() == 0 {
		return Note{}, false
	}
	text := page.Said(t) + "."
	if x, _ := s.Proofs.Of(room); s.Proving && (room == "" || x.Stale) {
		text += " Proving" + s.Theme.Glyphs.More
	}
	return Note{At: at, Head: "Promises", Text: text, Alarm: t.Broken > 0}, true
}

func tally(s page.Snapshot, room string) page.Tally {
	if room == "" {
		return s.Proofs.Tally()
	}
	x, _ := s.Proofs.Of(room)
	return x.Tally()
}

// promisedShort is the same in a word or two: how many are broken, else how many are kept.
func promisedShort(t page.Tally) string {
	switch {
	case t.Broken > 0:
		return fmt.Sprintf("%d broken", t.Broken)
	case t.Kept > 0:
		return fmt.Sprintf("%d kept", t.Kept)
	}
	return ""
}

func devices(s page.Snapshot, b bill.Bill, room string, w int) string {
	var out []string
	for _, l := range b.Lines {
		if l.Room != room {
			continue
		}
		amount := l.Amount.Plain()
		count := fmt.Sprintf("%d ", l.Quantity)
		name := layout.Wrap(l.Name, max(w-len(count)-len(amount)-2, 8))
		for i, part := range name {
			if i > 0 {
				count = strings.Repeat(" ", len(count))
			}
			if i < len(name)-1 {
				out = append(out, count+part)
			} else {
				out = append(out, layout.Ends(count+part, amount, w, s.Theme.Glyphs.More))
			}
		}
	}
	return strings.Join(out, "\n")
}

func unmet(s page.Snapshot, room string) string {
	rooms := map[string]string{}
	names := map[string]string{}
	for _, n := range s.Plan.Needs {
		rooms[n.ID], names[n.ID] = n.Room, n.Name
	}
	var out []string
	for _, u := range s.Plan.Bill.Unmet {
		if rooms[u.Need] == room {
			out = append(out, upper(names[u.Need])+": "+u.Reason)
		}
	}
	return strings.Join(out, "\n")
}

func open(s page.Snapshot, room string, w int) string {
	var out []string
	for _, o := range OpenPoints(s.Project, room) {
		mark := s.Theme.Glyphs.Open + " "
		for _, l := range layout.Wrap(o.Text, max(w-2, 8)) {
			out = append(out, mark+l)
			mark = "  "
		}
	}
	return strings.Join(out, "\n")
}

// Open is a parked question or an unknown fact.
type Open struct {
	At   string // path
	Room string // "" is the home
	Text string // to print
}

// OpenPoints lists those of a room; of the whole home for "".
func OpenPoints(p *model.Project, room string) []Open {
	if p == nil {
		return nil
	}
	var out []Open
	seen := map[string]bool{}
	add := func(o Open) {
		if !seen[o.At] && (room == "" || o.Room == room) {
			seen[o.At] = true
			out = append(out, o)
		}
	}
	for _, o := range p.Open {
		add(parked(p, o))
	}
	if p.Home.Walls.State == model.Unknown {
		add(Open{At: "home/walls", Text: asked["walls"]})
	}
	for _, r := range p.Rooms {
		for _, o := range unknowns(r) {
			add(o)
		}
	}
	return out
}

func parked(p *model.Project, o model.OpenPoint) Open {
	parts := strings.Split(o.At, "/")
	if parts[0] == "rooms" {
		parts = parts[1:]
	}
	out := Open{At: strings.Join(parts, "/")}
	for _, r := range p.Rooms {
		if r.ID == parts[0] {
			out.Room = r.ID
			parts = parts[1:]
			break
		}
	}
	out.Text = phrase(parts)
	if o.Ask != "" {
		name := o.Ask
		if who, ok := p.Person(o.Ask); ok {
			name = who.Title()
		}
		out.Text += ", ask " + name
	}
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
	"walls":    "what the walls are made of",
	"wired":    "when the house was wired",
	"outline":  "how big the room is",
	"circuits": "which lamp circuits there are",
	"doors":    "which doors there are",
	"windows":  "which windows there are",
	"switches": "which switch boxes there are",
	"fans":     "which fans there are",
	"water":    "where water can escape",
}

// phrase turns the end of a path into words: switches/box-1/neutral is "is there a neutral in box 1".
func phrase(parts []string) string {
	if n := len(parts); n > 2 {
		parts = parts[n-2:]
	}
	if len(parts) == 0 {
		return ""
	}
	key := parts[len(parts)-1]
	words := make([]string, len(parts))
	for i, p := range parts {
		words[i] = strings.NewReplacer("-", " ", "_", " ").Replace(p)
	}
	text, ok := asked[key]
	switch {
	case ok && strings.Contains(text, "%s") && len(parts) == 2:
		return fmt.Sprintf(text, words[0])
	case ok && !strings.Contains(text, "%s"):
		return text
	}
	return strings.Join(words, ": ")
}

// unknowns are the facts of a room that its survey did not find out.
func unknowns(r model.Room) []Open {
	var out []Open
	add := func(state model.FactState, list, id, key string) {
		if state == model.Unknown {
			at := strings.Join([]string{r.ID, list, id, key}, "/")
			out = append(out, Open{At: at, Room: r.ID, Text: phrase([]string{id, key})})
		}
	}
	for _, c := range r.Circuits {
		add(c.Dimmable.State, "circuits", c.ID, "dimmable")
		add(c.Switch.State, "circuits", c.ID, "switch")
	}
	for _, b := range r.Switches {
		add(b.Neutral.State, "switches", b.ID, "neutral")
		add(b.Depth.State, "switches", b.ID, "depth")
	}
	for _, f := range r.Fans {
		add(f.Airflow.State, "fans", f.ID, "airflow")
		add(f.Switch.State, "fans", f.ID, "switch")
	}
	for _, w := range r.Water {
		add(w.Pipe.State, "water", w.ID, "pipe")
	}
	return out
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
