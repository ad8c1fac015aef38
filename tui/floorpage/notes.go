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
	for _, x := range r.Says(s.Project) {
		say(x.OK, x.Text)
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
		out = append(out, note{mark: fmt.Sprintf("%c ", d.Mark), text: fmt.Sprintf("%d %s%s", d.Count, d.Part.Name, d.Where(s.Units))})
	}
	for _, c := range r.Controllers {
		out = append(out, note{mark: "C ", text: c.Name})
	}
	for _, text := range r.Cautions() {
		if !cautions[text] {
			out = append(out, note{"! ", text})
		}
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
		{text: "Dots are what sensors of people see. Devices whose place is noted stand there; the others, and doors in their walls, are drawn where they usually are."},
	}
	if len(words) > 0 {
		out = append(out, note{text: strings.Join(words, ", ") + "."})
	}
	return out
}

// measures are the size of a room and the stairs out of it.
func measures(s page.Snapshot, r *floorplan.Room) string {
	if r.W <= 0 || r.D <= 0 {
		return "No outline is noted: measure the room, and write it into its brief; till then its radio is taken to be in reach."
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
