package rulespage

import (
	"fmt"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/tui/draw"
)

// drawEntries writes what to enter into the controller: first what it can't do, then each rule with its fields.
func (p *Page) drawEntries() {
	t, width := p.leaf.Theme, p.leaf.Inner()
	var rows []draw.Row
	plain := func(lines []string) {
		for _, s := range lines {
			rows = append(rows, draw.Row{Text: s, Item: -1})
		}
	}
	e := p.entering()
	for _, l := range e.Lost {
		plain(draw.Hang("  "+t.Glyphs.Broken+" ", lostText(l), width))
	}
	for _, n := range e.Notes {
		if n.Costs != "" {
			plain(draw.Hang("  "+t.Glyphs.Note+" ", fmt.Sprintf("%s %s The limit is %s.", n.Text, n.Costs, n.Limit), width))
		}
	}
	for _, tab := range e.Tables {
		plain(draw.Hang("  "+t.Glyphs.Note+" ", "Through the year "+tab.Words()+".", width))
	}
	mine, goal := p.mine(), ""
	for i, x := range e.Entries {
		if len(rows) > 0 {
			rows = append(rows, draw.Row{Item: -1})
		}
		if mine[i].Goal != goal {
			goal = mine[i].Goal
			rows = append(rows, draw.Row{Text: draw.Heading(t, goalName(goal), width), Item: -1, Head: true}, draw.Row{Item: -1})
		}
		note := append([]string{"Serves the promise \"" + x.Promise + "\"."}, p.note(mine[i])...)
		add := func(lines []string) {
			for _, s := range lines {
				rows = append(rows, draw.Row{Text: s, Item: i, Note: note})
				note = nil
			}
		}
		head := draw.Hang(draw.Right(fmt.Sprint(x.Order), 3, "")+"  ", x.Purpose, width)
		for j := range head {
			head[j] = t.Strong.Render(head[j])
		}
		add(head)
		for _, f := range x.Fields {
			label := f.Name
			if label == planner.ThroughTheYear {
				label = "Year"
			}
			add(labelled(label, f.Value, width, t.Faint.Render))
		}
	}
	p.leaf.Head = []string{p.head(""), ""}
	p.leaf.SetRows(rows)
}

// entering is what the room's controller has of the room.
func (p *Page) entering() planner.Enter {
	for _, e := range p.snap.Plan.Entering(nil, p.snap.Room) {
		if e.Host.ID == p.host().Host {
			return e
		}
	}
	return planner.Enter{}
}

func lostText(l fitting.Lost) string {
	return fmt.Sprintf("%s It costs the promise \"%s\". %s", l.Text, l.Promise, l.Remedy)
}
