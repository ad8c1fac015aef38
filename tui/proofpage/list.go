// Package proofpage is the page of what the briefs promise: each promise of a room with its verdict, and the
// story of a broken one.
package proofpage

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/story"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/theme"
)

// Page is the promises of a room, and how the other rooms stand.
type Page struct {
	snap  page.Snapshot
	leaf  draw.Leaf
	lines []line // by item
	drawn drawn
}

// line is what an item stands for: a promise, or a room.
type line struct {
	verdict *proof.Verdict
	room    string
}

// drawn is what the rows were made from; while it stays, so do they.
type drawn struct {
	proofs  *page.Proofs
	proving bool
	fault   error
	room    string
	inner   int
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
		p.leaf.Go(0)
	}
	p.snap, p.leaf.Theme = s, s.Theme
	p.refresh()
}

// Title names the page.
func (p *Page) Title() string { return "Promises" }

func (p *Page) refresh() {
	if p.leaf.Theme.R == nil || p.snap.Project == nil {
		return
	}
	now := drawn{p.snap.Proofs, p.snap.Proving, p.snap.PlanFault, p.snap.Room, p.leaf.Inner()}
	if p.drawn == now {
		return
	}
	p.drawn, p.lines = now, nil
	p.leaf.Head = []string{"  " + p.head(), ""}
	rows := p.promises()
	if !p.leaf.Wide() {
		rows = append(rows, p.assumed()...)
	}
	p.leaf.SetRows(append(rows, p.others()...))
}

// head counts the promises of the room, and says at the right when that is about to change.
func (p *Page) head() string {
	t, left, right := p.leaf.Theme, "", ""
	if x, ok := p.snap.Proofs.Of(p.snap.Room); ok && len(x.Verdicts) > 0 {
		left = number(len(x.Verdicts), "promise") + ": " + page.Said(x.Tally())
	}
	if p.snap.Proving {
		right = "proving"
	}
	return t.Faint.Render(layout.Ends(left, right, p.leaf.Inner(), t.Glyphs.More))
}

// promises of the room that is open, or a sentence why there are none.
func (p *Page) promises() []draw.Row {
	x, known := p.snap.Proofs.Of(p.snap.Room)
	if why := p.nothing(x, known); why != "" {
		var rows []draw.Row
		for _, s := range draw.Wrap(why, p.leaf.Inner()) {
			rows = append(rows, draw.Row{Text: s, Item: -1})
		}
		return rows
	}
	var rows []draw.Row
	for i := range x.Verdicts {
		rows = append(rows, p.promise(&x.Verdicts[i])...)
	}
	return rows
}

// nothing says why there is no promise to show; "" when there is one.
func (p *Page) nothing(x page.Proved, known bool) string {
	switch {
	case p.snap.PlanFault != nil && !known:
		return fmt.Sprintf("There are no rules, so nothing can be proved: %v", p.snap.PlanFault)
	case !known:
		return "The promises are being proved; they come in a moment."
	case x.Fault != nil:
		return fmt.Sprintf("The promises could not be proved: %v", x.Fault)
	case len(x.Verdicts) > 0:
		return ""
	case p.snap.Room == "":
		return "Nothing is promised for the home as a whole. Each room has promises of its own."
	}
	return "Nothing is promised for this room yet. Press 2 for its interview."
}

const wordCells = 11 // of a verdict's word with the space before it

// promise is the rows of one promise: its mark, its sentence, its verdict at the right.
func (p *Page) promise(v *proof.Verdict) []draw.Row {
	t, inner := p.leaf.Theme, p.leaf.Inner()
	mark, style := verdict(t, v.State)
	lines := draw.Wrap(story.Sentence(*v), max(inner-2-wordCells, 12))
	item := len(p.lines)
	p.lines = append(p.lines, line{verdict: v, room: p.snap.Room})
	var rows []draw.Row
	for i, s := range lines {
		text := "  " + s
		if i == 0 {
			word := draw.Right(string(v.State), wordCells, "")
			text = style(mark) + " " + layout.Fit(s, max(inner-2-wordCells, 1), t.Glyphs.More) + style(word)
		}
		rows = append(rows, draw.Row{Text: text, Item: item})
	}
	rows[0].Note = p.note(v)
	return rows
}

// verdict is the mark of a verdict and how it is written: only what is broken alarms.
func verdict(t theme.Theme, s proof.State) (mark string, style func(...string) string) {
	switch s {
	case proof.Kept:
		return t.Glyphs.Done, t.Text.Render
	case proof.Breaks:
		return t.Glyphs.Broken, t.Danger.Render
	case proof.Empty:
		return t.Glyphs.Note, t.Faint.Render
	}
	return t.Glyphs.Open, t.Text.Render
}

// note says how far a verdict holds and what it leans on. Where there is no margin the assumptions stand in
// the page, and the note gives their numbers.
func (p *Page) note(v *proof.Verdict) []string {
	out := remarks(v)
	if len(v.Promise.Assumes) == 0 {
		return out
	}
	if !p.leaf.Wide() {
		var numbers []string
		all := p.assumptions()
		for _, a := range v.Promise.Assumes {
			numbers = append(numbers, fmt.Sprint(slices.Index(all, a.Text)+1))
		}
		return append(out, "It leans on "+draw.List(numbers)+" of what is assumed.")
	}
	out = append(out, "It leans on this:")
	for _, a := range v.Promise.Assumes {
		out = append(out, upper(a.Text)+".")
	}
	return out
}

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
	rows := []draw.Row{{Item: -1}, {Text: heading(t, "It is assumed that", inner), Item: -1}}
	for i, s := range all {
		for _, l := range draw.Hang(draw.Right(fmt.Sprint(i+1), 2, "")+"  ", s, inner) {
			rows = append(rows, draw.Row{Text: t.Faint.Render(l), Item: -1})
		}
	}
	return rows
}

// remarks are what there is to say of a verdict besides its word.
func remarks(v *proof.Verdict) []string {
	var out []string
	switch v.State {
	case proof.Empty:
		out = append(out, "What it is about never comes about, so there is nothing to keep.")
	case proof.Undecided:
		out = append(out, "Not decided: "+v.Why+".")
	case proof.Breaks:
		if v.Why != "" {
			out = append(out, upper(v.Why)+".")
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
	rows := []draw.Row{{Item: -1}, {Text: heading(t, title, inner), Item: -1, Head: true}}
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

// heading stands on a hair rule.
func heading(t theme.Theme, name string, width int) string {
	return t.Strong.Render(name) + " " + t.Hair.Render(strings.Repeat(t.Glyphs.Hair, max(width-layout.Width(name)-1, 0)))
}

func number(n int, what string) string {
	if n == 1 {
		return "One " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func upper(s string) string {
	if s != "" && s[0] >= 'a' && s[0] <= 'z' {
		return string(s[0]-'a'+'A') + s[1:]
	}
	return s
}

// View draws the page.
func (p *Page) View() string { return p.leaf.View() }

// Takes leaves letters to the globals.
func (p *Page) Takes() page.Takes { return page.Own }

// here is the line under the cursor.
func (p *Page) here() (line, bool) {
	if i := p.leaf.At(); i >= 0 && i < len(p.lines) {
		return p.lines[i], true
	}
	return line{}, false
}

// Help is the keys that work now.
func (p *Page) Help() []keys.Binding {
	bs := keys.Promises.Copy()
	l, ok := p.here()
	switch {
	case !ok:
		return keys.Without(bs, keys.Take)
	case l.verdict == nil:
		for i := range bs {
			if bs[i].Do == keys.Take {
				bs[i].Text = "to the room"
			}
		}
	case l.verdict.State == proof.Breaks && len(l.verdict.Story) == 0:
		keys.Off(bs, keys.Take, "it is broken whatever happens, so there is no story")
	case len(l.verdict.Story) == 0:
		keys.Off(bs, keys.Take, "only a broken promise has a story")
	}
	return bs
}

// Update takes keys and the mouse.
func (p *Page) Update(msg tea.Msg) page.Action {
	switch msg := msg.(type) {
	case tea.MouseMsg:
		if p.leaf.Mouse(msg) {
			return p.open()
		}
	case tea.KeyMsg:
		b, ok := keys.Find(p.Help(), msg)
		switch {
		case !ok:
		case b.Off != "":
			return page.Say{Text: b.Off}
		case p.leaf.Drive(b.Do):
		default:
			return p.do(b.Do)
		}
	}
	return nil
}

func (p *Page) do(do keys.Command) page.Action {
	switch do {
	case keys.Take:
		return p.open()
	case keys.NextRoom, keys.PrevRoom:
		by := 1
		if do == keys.PrevRoom {
			by = -1
		}
		if id := draw.RoomBeside(p.snap.Project, p.snap.Room, by); id != "" {
			return page.Goto{Page: page.Promises, Room: id}
		}
		return page.Say{Text: "There is no room beyond this one."}
	}
	return nil
}

// open turns to the story of a broken promise, or to the promises of another room.
func (p *Page) open() page.Action {
	l, ok := p.here()
	switch {
	case !ok:
	case l.verdict == nil:
		room := l.room
		if room == "" {
			room = page.HomeItself
		}
		return page.Goto{Page: page.Promises, Room: room}
	case len(l.verdict.Story) > 0:
		return page.Goto{Page: page.Story, At: l.verdict.Promise.ID}
	}
	return nil
}

var _ page.Titled = (*Page)(nil)
