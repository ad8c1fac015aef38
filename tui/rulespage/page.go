// Package rulespage is the page of a room's rules: in words, or as the chart of causes and effects.
package rulespage

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/english"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// Page is the rules of a room.
type Page struct {
	snap  page.Snapshot
	leaf  draw.Leaf
	chart bool
	ideal bool // as on a controller without limits
	drawn drawn
	count int
	col   int // first column of the chart that is shown
	cols  int // columns of the chart
	seen  int // columns that fit
}

// drawn is what the rows were made from; while it stays, so do they.
type drawn struct {
	plan  *planner.Plan
	fault error
	room  string
	inner int
	chart bool
	ideal bool
	col   int
	busy  bool
}

// New is an empty page.
func New() page.Page { return &Page{} }

// SetSize gives the page its room.
func (p *Page) SetSize(w, h int) {
	p.leaf.SetSize(w, h)
	p.refresh()
}

// Show takes what is known now.
func (p *Page) Show(s page.Snapshot) {
	if s.Room != p.snap.Room {
		p.col = 0
		p.leaf.Go(0)
	}
	p.snap, p.leaf.Theme = s, s.Theme
	p.refresh()
}

// Title names the page.
func (p *Page) Title() string { return "Rules" }

func (p *Page) refresh() {
	if p.leaf.Theme.R == nil {
		return
	}
	now := drawn{p.snap.Plan, p.snap.PlanFault, p.snap.Room, p.leaf.Inner(), p.chart, p.ideal, p.col, p.snap.Planning}
	if p.drawn == now {
		return
	}
	p.drawn, p.leaf.Head = now, nil
	if why := p.nothing(); why != "" {
		p.count = 0
		p.leaf.SetRows(append([]draw.Row{{Item: -1}}, draw.Paragraph(why, p.leaf.Inner())...))
		return
	}
	if p.chart {
		p.drawChart()
		return
	}
	if p.host() != nil {
		p.drawEntries()
		return
	}
	p.drawWords()
}

// host is the controller whose rules are shown; nil where they are shown as on one without limits.
func (p *Page) host() *fitting.HostPlan {
	if p.ideal || p.snap.Plan == nil {
		return nil
	}
	return p.snap.Plan.HostOf(p.snap.Room)
}

// sheet is what the page shows.
func (p *Page) sheet() rules.Sheet {
	if h := p.host(); h != nil {
		return h.Fit.Sheet
	}
	return p.snap.Plan.Sheet
}

// mine are the rules of the room that is open.
func (p *Page) mine() []rules.Rule {
	var out []rules.Rule
	for _, r := range p.sheet().Rules {
		if r.Room == p.snap.Room {
			out = append(out, r)
		}
	}
	return out
}

func (p *Page) nothing() string {
	switch {
	case p.snap.Plan == nil && p.snap.PlanFault != nil:
		return fmt.Sprintf("There are no rules: %v", p.snap.PlanFault)
	case p.snap.Plan == nil:
		return "The rules are being planned; they come in a moment."
	}
	p.count = len(p.mine())
	switch {
	case p.count > 0:
		return ""
	case p.snap.Room == "":
		return "No room is open. Press 1 and choose one."
	}
	return "Nothing is asked of this room yet, so it has no rules. Press 2 for its interview."
}

// head stays over the rules: how many there are, and what else a view has to say of itself.
func (p *Page) head(more string) string {
	t, text := p.leaf.Theme, fmt.Sprintf("%d rules", p.count)
	if p.count == 1 {
		text = "One rule"
	}
	switch h := p.host(); {
	case h != nil:
		text += " on " + h.Host
	case p.ideal:
		text += " as without limits"
	}
	return "  " + t.Faint.Render(layout.Ends(text+more, draw.Planning(p.snap), p.leaf.Inner(), t.Glyphs.More))
}

// drawWords writes each rule as its purpose over cause, guard, effects and hold.
func (p *Page) drawWords() {
	w, t, width := rules.NewWording(p.sheet()), p.leaf.Theme, p.leaf.Inner()
	var rows []draw.Row
	goal := ""
	for i, r := range p.mine() {
		if i > 0 {
			rows = append(rows, draw.Row{Item: -1})
		}
		if r.Goal != goal {
			goal = r.Goal
			rows = append(rows, draw.Row{Text: draw.Heading(t, goalName(goal), width), Item: -1, Head: true}, draw.Row{Item: -1})
		}
		note := p.note(r)
		add := func(lines []string) {
			for _, s := range lines {
				rows = append(rows, draw.Row{Text: s, Item: i, Note: note})
				note = nil
			}
		}
		head := draw.Hang(draw.Right(fmt.Sprint(i+1), 3, "")+"  ", r.Purpose, width)
		for j := range head {
			head[j] = t.Strong.Render(head[j])
		}
		add(head)
		said := w.Rule(r)
		for _, part := range []struct{ label, text string }{
			{"Cause", said.Cause}, {"Guard", said.Guard}, {"Effect", said.Effect}, {"Hold", said.Hold},
		} {
			if part.text != "" {
				add(labelled(part.label, part.text, width, t.Faint.Render))
			}
		}
	}
	p.leaf.Head = []string{p.head(""), ""}
	p.leaf.SetRows(rows)
}

// labelled hangs a text behind its faint label of up to seven letters.
func labelled(label, text string, width int, faint func(...string) string) []string {
	lines := draw.Hang(strings.Repeat(" ", 13), english.Upper(text), width)
	if len(lines) > 0 && len(lines[0]) >= 13 {
		lines[0] = "     " + faint(label) + strings.Repeat(" ", 8-len(label)) + lines[0][13:]
	}
	return lines
}

// note is what a rule comes from: its goal, and what the household said of it.
func (p *Page) note(r rules.Rule) []string {
	out := []string{"Follows from what is asked of this room: " + english.Lower(goalName(r.Goal)) + "."}
	if room, ok := p.snap.RoomNow(); ok {
		for _, s := range room.Brief.Said {
			if s.Goal == r.Goal {
				out = append(out, "They said: \""+s.Words+"\"")
			}
		}
	}
	return append(out, "On the papers this is "+r.ID+".")
}

// goalName prints a goal of a brief.
func goalName(goal string) string {
	switch goal {
	case "shutoff":
		return "Shut-off"
	case "leak":
		return "Leak alerts"
	case "":
		return "The room"
	}
	return english.Upper(goal)
}

// View draws the page.
func (p *Page) View() string { return p.leaf.View() }

// Takes leaves letters to the globals.
func (p *Page) Takes() page.Takes { return page.Own }

// Help is the keys that work now.
func (p *Page) Help() []keys.Binding {
	bs := keys.Rules.Copy()
	if p.count == 0 {
		keys.Off(bs, keys.Chart, "There are no rules to chart.")
	}
	if p.snap.Plan == nil || p.snap.Plan.HostOf(p.snap.Room) == nil {
		keys.Off(bs, keys.Ideal, "No controller runs this room's rules, so they have no limits yet.")
	}
	switch {
	case !p.chart || p.count == 0:
		bs = keys.Without(bs, keys.Left, keys.Right)
	case p.seen == p.cols:
		keys.Off(bs, keys.Left, "All columns are in sight.")
		keys.Off(bs, keys.Right, "All columns are in sight.")
	}
	if p.chart {
		bs = keys.Without(bs, keys.NextPart, keys.PrevPart)
	}
	return bs
}

// Update takes keys and the mouse.
func (p *Page) Update(msg tea.Msg) page.Action { return p.leaf.Take(msg, p.Help(), p.do) }

func (p *Page) do(do keys.Command) page.Action {
	switch do {
	case keys.Chart:
		p.chart = !p.chart
		p.refresh()
	case keys.Ideal:
		p.ideal = !p.ideal
		p.leaf.Go(0)
		p.refresh()
	case keys.Left:
		p.col = max(p.col-1, 0)
		p.refresh()
	case keys.Right:
		if p.col+p.seen < p.cols {
			p.col++
		}
		p.refresh()
	}
	return draw.Beside(p.snap, page.Rules, do)
}

var _ page.Titled = (*Page)(nil)
