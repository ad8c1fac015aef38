package sheet

import (
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/caution"
	"example.org/roombrief/model/interview"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

// nature is what air, water, light and mains do in a room as it is set down in one document.
type nature struct {
	room               string
	airs               bool // vapour comes into the room's air, and nobody declined to have it out
	air                physics.Airing
	airing, threshold  physics.Verdict
	seasons            []string // the air of each season, in a sentence
	extract            []physics.Verdict
	leaks, light, load []physics.Verdict
	worst              []physics.Verdict // the leak that lets most out, alone
}

func natureOf(p *model.Project, r model.Room) nature {
	n := nature{room: r.ID}
	if r.Brief.Ventilation.State != model.Declined && physics.Airs(r) {
		var err error
		n.air, err = physics.Air(p, r)
		n.airs, n.airing = err == nil, reckoned(n.air.Verdict, err)
		if err == nil {
			n.threshold, n.seasons = n.air.Threshold, n.air.SeasonLines(physics.System(p))
		}
	}
	if e, ok := physics.Extract(p, r); ok {
		n.extract = append(n.extract, e.Verdict)
	}
	if len(r.Circuits) > 0 {
		l, err := physics.Light(p, r)
		n.light = append(n.light, reckoned(l.Verdict, err))
	}
	for _, a := range r.Appliances {
		if a.Power > 0 && !a.Fixed {
			c, err := physics.Plugged(p, a, 0)
			n.load = append(n.load, reckoned(c.Verdict, err))
		}
	}
	n.leak(p, r)
	return n
}

func (n *nature) leak(p *model.Project, r model.Room) {
	if r.Brief.Leak.State == model.Declined {
		return
	}
	most := -1.0
	for _, w := range r.Water {
		l, ok, err := physics.Leak(p, r, w)
		if !ok {
			continue
		}
		v := reckoned(l.Verdict, err)
		n.leaks = append(n.leaks, v)
		out := l.LToShut
		if l.Unwarned {
			out = l.LHour / 60 // a point that nobody watches speaks only where there is no other
		}
		if out > most {
			most, n.worst = out, []physics.Verdict{v}
		}
	}
}

// reckoned is a verdict, or why there is none.
func reckoned(v physics.Verdict, err error) physics.Verdict {
	if err != nil {
		return physics.Unreckoned(err)
	}
	return v
}

// of is what is said beside the line of a path, and whether the room's air is drawn there.
func (n nature) of(path string) (says []physics.Verdict, curve bool) {
	rest, ok := strings.CutPrefix(path, "rooms/"+n.room+"/")
	if !ok || n.room == "" {
		return nil, false
	}
	at := func(p string) bool { return rest == p || strings.HasPrefix(rest, p+"/") }
	switch {
	case at("brief/ventilation/ceiling") && n.airs:
		if !n.threshold.OK {
			return []physics.Verdict{n.threshold, n.airing}, true
		}
		return []physics.Verdict{n.airing, n.threshold}, true
	case at("brief/ventilation") && n.airing.Say != "":
		return []physics.Verdict{n.airing}, n.airs
	case at("fans"):
		says = append(says, n.extract...)
		if n.airing.Say != "" {
			says = append(says, n.airing)
		}
		return says, n.airs
	case rest == "brief/leak", rest == "brief/leak/points":
		return n.leaks, false
	case at("brief/leak"):
		return n.worst, false
	case rest == "circuits", rest == "brief/lighting/periods":
		return n.light, false
	case rest == "appliances":
		return n.load, false
	}
	return nil, false
}

// natural is what follows from nature for a line: sentences, what they take for granted, and the caution of work
// that they call for where the line has none of its own.
func (p *Page) natural(q interview.Question) []string {
	says, _ := p.nature().of(q.Path)
	var out, after []string
	seen := map[string]bool{}
	add := func(s string) {
		if !seen[s] {
			seen[s] = true
			after = append(after, s)
		}
	}
	for _, v := range says {
		out = append(out, v.Say)
		if text := caution.Text(v.Caution); !v.OK && q.Caution == "" && text != "" {
			add("! " + text)
		}
	}
	for _, v := range says {
		for _, a := range v.Assumed {
			add("Taken for granted: " + a + ".")
		}
	}
	return append(out, after...)
}

// seasons are said beside the ceiling, which follows from them.
func (p *Page) seasons(q interview.Question) []string {
	if !strings.HasSuffix(q.Path, "brief/ventilation/ceiling") {
		return nil
	}
	return p.nature().seasons
}

// curve draws the air of the room beside the lines that are about it, w cells wide. All of them have the same, which
// is drawn once for the rows; while a line is changed, only that one has it.
func (p *Page) curve(i int, q interview.Question, w, rows int) []string {
	n := p.nature()
	if _, ok := n.of(q.Path); !ok || p.mode != looking && i != p.leaf.At() {
		return nil
	}
	if p.plot == nil {
		p.plot = plotOf(p.leaf.Theme, n.air, w, rows)
	}
	return p.plot
}

// plotOf draws the season that takes longest.
func plotOf(th theme.Theme, a physics.Airing, w, rows int) []string {
	s := a.Worst()
	plot := draw.Humidity(th, s.Course, float64(s.Stop)/100, a.Within, w, rows)
	if plot == nil {
		return nil
	}
	title := "After " + a.Use.Name
	if long := title + ", in " + s.Name; layout.Width(long) <= w {
		title = long
	}
	return append([]string{layout.Cut(title, w, th.Glyphs.More)}, plot...)
}

// nature is that of what is being written or picked, while it makes sense; else that of the document.
func (p *Page) nature() nature {
	if p.mode == looking {
		return p.now
	}
	return p.tried.nature
}

// try works out what would follow from the answer that is in hand, once for each wording of it.
func (p *Page) try() {
	q, ok := p.here()
	says, _ := p.now.of(q.Path)
	text, answers := p.inHand(q)
	if !ok || !answers || len(says) == 0 {
		p.tried = guess{nature: p.now}
		return
	}
	if p.tried.id == q.ID && p.tried.text == text {
		return
	}
	old := p.tried
	p.tried = guess{id: q.ID, text: text, nature: p.now}
	doc, err := interview.Answer(p.snap.Doc, q, text)
	if err != nil {
		if old.id == q.ID {
			p.tried.nature = old.nature // half a number keeps what was said of the last whole one
		}
		return
	}
	if r, ok := doc.Project().Room(p.room.ID); ok {
		p.tried.nature = natureOf(doc.Project(), r)
	}
}

// guess is an answer in hand and what would follow from it.
type guess struct {
	id, text string
	nature   nature
}

// inHand is the answer that Enter would give now.
func (p *Page) inHand(q interview.Question) (string, bool) {
	switch {
	case p.mode == writing:
		return p.field.Text(), true
	case p.mode == marking && q.Kind == interview.Several:
		if values := p.picked(q); len(values) > 0 {
			return strings.Join(values, ", "), true
		}
		return "none", true
	case p.mode == marking && p.mark < len(q.Choices):
		return q.Choices[p.mark].Value, true
	}
	return "", false
}
