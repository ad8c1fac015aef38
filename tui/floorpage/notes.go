package floorpage

import (
	"fmt"
	"math"
	"strings"

	"example.org/roombrief/model/caution"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/floorplan"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/site"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/theme"
)

// note is one remark about the chosen room.
type note struct {
	mark string // "! " where something is to be done
	text string
}

// notesOf is what follows for a room: first what is to be done, then what is well, its devices, and what the signs mean.
func notesOf(s page.Snapshot, f *floorplan.Floor, r *floorplan.Room) []note {
	var todo, well []note
	say := func(ok bool, text string) {
		if ok {
			well = append(well, note{text: text})
			return
		}
		todo = append(todo, note{"! ", text})
	}
	for _, l := range r.Links {
		say(l.State <= floorplan.Passed, linkNote(s, r, l))
	}
	if ok, text := coverNote(r); text != "" {
		say(ok, text)
	}
	cautions := map[string]bool{}
	for _, n := range physics.Room(s.Project, r.Room) {
		say(n.OK, n.Because())
		if text := caution.Text(n.Caution); !n.OK && text != "" && !cautions[text] {
			cautions[text] = true
			todo = append(todo, note{"! ", text})
		}
	}
	out := append([]note{{text: measures(s, r)}}, todo...)
	out = append(out, well...)
	for _, d := range r.Devices {
		out = append(out, note{mark: fmt.Sprintf("%c ", d.Mark), text: fmt.Sprintf("%d %s", d.Count, d.Part.Name)})
	}
	for _, c := range r.Controllers {
		out = append(out, note{mark: "C ", text: c.Name})
	}
	return append(out, legend(f, s.Theme)...)
}

func legend(f *floorplan.Floor, t theme.Theme) []note {
	var words []string
	for _, m := range f.Legend() {
		words = append(words, fmt.Sprintf("%c %s", m.Letter, m.Means))
	}
	g := glyphsOf(t)
	out := []note{
		{text: fmt.Sprintf("dB is what a room's radio has to spare on its way to the controller; under %.0f it is weak. %s marks the way, %s one that fails.", site.UsualMargin, g.way, g.lost)},
		{text: fmt.Sprintf("%s is a door that is shut, %s one that stands open, a gap has none.", g.shut, g.open)},
		{text: "Dots are what sensors of people see. Where devices hang, and where in a wall a door is, nobody has measured: they are drawn where they usually are."},
	}
	if len(words) > 0 {
		out = append(out, note{text: strings.Join(words, ", ") + "."})
	}
	return out
}

// measures are the size of a room and the stairs out of it.
func measures(s page.Snapshot, r *floorplan.Room) string {
	if r.W <= 0 || r.D <= 0 {
		return "No outline is noted: measure the room, and write it into its brief; links are reckoned over 15 m."
	}
	text := r.Outline.Width.Show(s.Units) + " x " + r.Outline.Depth.Show(s.Units)
	if r.Outline.Ceiling > 0 {
		text += ", ceiling " + r.Outline.Ceiling.Show(s.Units)
	}
	text += "."
	for _, d := range r.Doors {
		switch {
		case d.Storeys > 0:
			text += " Up to " + d.ToName + "."
		case d.Storeys < 0:
			text += " Down to " + d.ToName + "."
		}
	}
	return text
}

// radioNames as they are printed.
var radioNames = map[string]string{"zigbee": "Zigbee", "thread": "Thread", "wifi": "Wi-Fi", "ble": "Bluetooth LE"}

func linkNote(s page.Snapshot, r *floorplan.Room, l floorplan.Link) string {
	name := radioNames[l.Radio]
	if name == "" {
		name = l.Radio
	}
	switch l.State {
	case floorplan.Good:
		return fmt.Sprintf("%s: %.0f dB to spare, %.0f wanted.", name, math.Floor(l.Spare), l.Straight.Least)
	case floorplan.Passed:
		var rooms []string
		for _, id := range l.Via {
			rooms = append(rooms, roomName(s, id))
		}
		return fmt.Sprintf("%s: %.0f dB straight is too little; devices in %s pass it on with %.0f dB to spare.", name,
			l.Straight.Margin.Spare, draw.List(rooms), math.Floor(l.Spare))
	}
	text := name + ": " + l.Straight.Because()
	if l.Radio == "wifi" {
		return text + " Wi-Fi is taken to come from where the controller is."
	}
	in, first, second, ok := l.Repeater(s.Project, r.ID)
	switch {
	case !ok || in.ID == r.ID:
	case first.OK && second.OK:
		text += fmt.Sprintf(" One in %s would have %.0f dB to here and %.0f dB onwards.", in.Title(), math.Floor(first.Margin.Spare), math.Floor(second.Margin.Spare))
	default:
		text += fmt.Sprintf(" One in %s alone is not enough: it would have %.0f dB to here and %.0f dB onwards.", in.Title(), math.Floor(first.Margin.Spare), math.Floor(second.Margin.Spare))
	}
	return text
}

func roomName(s page.Snapshot, id string) string {
	if r, ok := s.Project.Room(id); ok {
		return r.Title()
	}
	return id
}

// coverNote says how much of the floor is seen, and what to do where that is too little.
func coverNote(r *floorplan.Room) (ok bool, text string) {
	if len(r.Cover) == 0 {
		return true, ""
	}
	sees := fmt.Sprintf("Its sensor sees %.0f %% of the floor", math.Round(100*r.Seen))
	if len(r.Cover) > 1 {
		sees = fmt.Sprintf("Its %d sensors see %.0f %% of the floor", len(r.Cover), math.Round(100*r.Seen))
	}
	n, will := r.More()
	switch {
	case n == 0 && will:
		return true, sees + "."
	case !will:
		return false, sees + ", and more like it would not see it all: take one that sees further."
	case n == 1:
		return false, sees + ": one more like it sees the rest."
	}
	return false, fmt.Sprintf("%s: %d more like it see the rest.", sees, n)
}

// linesOf wraps notes to w cells, what is to be done in its own ink.
func linesOf(s page.Snapshot, head string, notes []note, w int, marked bool) []string {
	t := s.Theme
	var out []string
	if marked {
		out = append(out, t.Accent.Render(head))
	}
	for _, n := range notes {
		style := t.Faint
		if n.mark == "! " {
			style = t.Text
		}
		for _, line := range draw.Hang(n.mark, n.text, w) {
			out = append(out, style.Render(line))
		}
	}
	return out
}

func scaleText(perCol float64, u q.System) string {
	return "a column is " + q.Length(math.Round(perCol*100)/100).Show(u)
}
