package proofpage

import (
	"fmt"
	"slices"

	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// assumptions of the room, each once.
func (p *Page) assumptions() []string {
	var out []string
	x, _ := p.snap.Proofs.Of(p.snap.Room)
	for _, v := range x.Verdicts {
		for _, a := range v.Promise.Assumes {
			if !slices.Contains(out, a.Text) {
				out = append(out, a.Text)
			}
		}
	}
	return out
}

// assumed lists them under the promises.
func (p *Page) assumed() []draw.Row {
	all := p.assumptions()
	if len(all) == 0 {
		return nil
	}
	t, inner := p.leaf.Theme, p.leaf.Inner()
	rows := []draw.Row{{Item: -1}, {Text: draw.Heading(t, "It is assumed that", inner), Item: -1}}
	for i, s := range all {
		for _, l := range draw.Hang(draw.Right(fmt.Sprint(i+1), 2, "")+"  ", s, inner) {
			rows = append(rows, draw.Row{Text: t.Faint.Render(l), Item: -1})
		}
	}
	return rows
}

// applied are what the plan has for the sake of the promises, and why.
func (p *Page) applied() []draw.Row {
	x, _ := p.snap.Proofs.Of(p.snap.Room)
	if len(x.Applied) == 0 {
		return nil
	}
	t, inner := p.leaf.Theme, p.leaf.Inner()
	rows := []draw.Row{{Item: -1}, {Text: draw.Heading(t, "For their sake the plan has already", inner), Item: -1, Head: true}}
	for _, a := range x.Applied {
		for _, s := range draw.Hang(t.Glyphs.Note+" ", a.Text(), inner) {
			rows = append(rows, draw.Row{Text: t.Faint.Render(s), Item: -1})
		}
	}
	return rows
}

// remarks are what there is to say of a verdict besides its word.
func remarks(v *proof.Verdict) []string {
	var out []string
	switch v.State {
	case proof.Empty:
		out = append(out, v.Hollow())
	case proof.Undecided:
		out = append(out, "Not decided: "+v.Why+".")
	case proof.Breaks:
		if v.Why != "" {
			out = append(out, english.Upper(v.Why)+".")
		}
		if v.Moving > 0 {
			out = append(out, fmt.Sprintf("It is kept if whoever is inside moves at least every %s.", q.Span(v.Moving)))
		}
	}
	return out
}

// others are the rooms of the home with their counts.
func (p *Page) others() []draw.Row {
	t, inner := p.leaf.Theme, p.leaf.Inner()
	if len(p.snap.Project.Rooms) < 2 && p.snap.Room != "" {
		return nil
	}
	title := "The other rooms"
	if p.snap.Room == "" {
		title = "The rooms"
	}
	rows := []draw.Row{{Item: -1}, {Text: draw.Heading(t, title, inner), Item: -1, Head: true}}
	add := func(room, name string) {
		if room == p.snap.Room {
			return
		}
		x, known := p.snap.Proofs.Of(room)
		mark, style, said := " ", t.Text.Render, ""
		switch tally := x.Tally(); {
		case !known:
			said = "proving"
		case tally.All() == 0:
			said = "nothing promised"
		case tally.Broken > 0:
			mark, style = verdict(t, proof.Breaks)
			said = page.Said(tally)
		default:
			mark, style = verdict(t, proof.Kept)
			said = page.Said(tally)
		}
		if !known && (!p.snap.Proving && !p.snap.Planning) {
			said = ""
		}
		cells := min(layout.Width(said), max(inner-10, 1))
		text := style(mark) + " " + layout.Fit(name, max(inner-cells-3, 1), t.Glyphs.More) + " " + layout.Cut(said, cells, t.Glyphs.More)
		rows = append(rows, draw.Row{Text: text, Item: len(p.lines), Note: []string{"Press Enter for the promises of this room."}})
		p.lines = append(p.lines, line{room: room})
	}
	if x, ok := p.snap.Proofs.Of(""); ok && len(x.Verdicts) > 0 {
		add("", "The home as a whole")
	}
	for _, r := range p.snap.Project.Rooms {
		add(r.ID, page.RoomName(r))
	}
	return rows
}
