// Package proofpage is the page of what the briefs promise: each promise of a room with its verdict, and the
// story of a broken one.
package proofpage

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/english"
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
	faults  bool
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

// Show takes what is known now. In another room the cursor begins on the first promise that is broken.
func (p *Page) Show(s page.Snapshot) {
	other := s.Room != p.snap.Room || len(p.lines) == 0
	p.snap, p.leaf.Theme = s, s.Theme
	p.refresh()
	if other {
		p.leaf.Go(max(slices.IndexFunc(p.lines, func(l line) bool { return l.verdict != nil && l.verdict.State == proof.Breaks }), 0))
	}
}

// Title names the page.
func (p *Page) Title() string { return "Promises" }

func (p *Page) refresh() {
	if p.leaf.Theme.R == nil || p.snap.Project == nil {
		return
	}
	now := drawn{p.snap.Proofs, p.snap.Proving, p.snap.Faults, p.snap.PlanFault, p.snap.Room, p.leaf.Inner()}
	if p.drawn == now {
		return
	}
	p.drawn, p.lines = now, nil
	p.leaf.Head = []string{"  " + p.head(), ""}
	rows := append(p.promises(), p.applied()...)
	if !p.leaf.Wide() {
		rows = append(rows, p.assumed()...)
	}
	p.leaf.SetRows(append(rows, p.others()...))
}

// head counts the promises of the room, and says at the right when that is about to change.
func (p *Page) head() string {
	t, left, right := p.leaf.Theme, "", ""
	if x, ok := p.snap.Proofs.Of(p.snap.Room); ok && len(x.Verdicts) > 0 {
		left = english.Upper(english.Some(len(x.Verdicts), "promise")) + ": " + page.Said(x.Tally())
		if f := (page.Proved{Verdicts: x.Faults}).Tally(); p.snap.Faults && x.Failed && f.All() > 0 {
			left += "; with a fault " + page.Said(f)
		}
	}
	if x, _ := p.snap.Proofs.Of(p.snap.Room); p.snap.Proving || p.snap.Faults && !x.Failed && len(x.Verdicts) > 0 {
		right = "proving"
	}
	return t.Faint.Render(layout.Ends(left, right, p.leaf.Inner(), t.Glyphs.More))
}

// promises of the room that is open, or a sentence why there are none.
func (p *Page) promises() []draw.Row {
	x, known := p.snap.Proofs.Of(p.snap.Room)
	if why := p.nothing(x, known); why != "" {
		return draw.Paragraph(why, p.leaf.Inner())
	}
	var rows []draw.Row
	if p.snap.Faults && x.FailFault != nil {
		rows = append(draw.Paragraph(fmt.Sprintf("What faults do could not be found: %v", x.FailFault), p.leaf.Inner()), draw.Row{Item: -1})
	}
	for i := range x.Verdicts {
		v := &x.Verdicts[i]
		rows = append(rows, p.promise(x, v, story.Sentence(*v), "")...)
		if p.snap.Faults {
			rows = append(rows, p.faults(x, v)...)
		}
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

// promise is the rows of one promise: its mark, its sentence, its verdict at the right, and under it the limit that breaks it.
func (p *Page) promise(x page.Proved, v *proof.Verdict, sentence, in string) []draw.Row {
	t, inner := p.leaf.Theme, p.leaf.Inner()
	mark, style := verdict(t, v.State)
	lead := in + "  "
	words := max(inner-len(lead)-wordCells, 12)
	lines := draw.Wrap(sentence, words)
	item := len(p.lines)
	p.lines = append(p.lines, line{verdict: v, room: p.snap.Room})
	var rows []draw.Row
	for i, s := range lines {
		text := lead + s
		if i == 0 {
			word := draw.Right(string(v.State), wordCells, "")
			text = in + style(mark) + " " + layout.Fit(s, max(inner-len(lead)-wordCells, 1), t.Glyphs.More) + style(word)
		}
		rows = append(rows, draw.Row{Text: text, Item: item})
	}
	for _, s := range draw.Wrap(x.Blame(v), words) {
		rows = append(rows, draw.Row{Text: lead + t.Faint.Render(s), Item: item})
	}
	rows[0].Note = p.note(v)
	return rows
}

// faults are what one fault at a time does to a promise: those that break it each on its own, the others in one sentence.
func (p *Page) faults(x page.Proved, v *proof.Verdict) []draw.Row {
	const in = "  "
	t := p.leaf.Theme
	var kept []string
	var rows []draw.Row
	for _, f := range x.FaultsOf(v) {
		if f.State == proof.Kept {
			kept = append(kept, f.Fault.String())
			continue
		}
		rows = append(rows, p.promise(x, f, english.Upper(f.Fault.String())+".", in)...)
	}
	if len(kept) == 0 {
		return rows
	}
	for _, s := range draw.Wrap("Kept "+english.List(kept)+".", max(p.leaf.Inner()-2*len(in)-wordCells, 12)) {
		rows = append(rows, draw.Row{Text: in + in + t.Faint.Render(s), Item: -1})
	}
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
		var of []string
		all := p.assumptions()
		for _, a := range v.Promise.Assumes {
			of = append(of, fmt.Sprintf("%s (%d)", a.Of(), slices.Index(all, a.Text)+1))
		}
		return append(out, "It leans on "+english.List(of)+", below.")
	}
	out = append(out, "It leans on this:")
	for _, a := range v.Promise.Assumes {
		out = append(out, english.Upper(a.Text)+".")
	}
	return out
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
	case l.verdict.State != proof.Breaks:
		keys.Off(bs, keys.Take, "Only a broken promise has a story.")
	}
	return bs
}

// Update takes keys and the mouse.
func (p *Page) Update(msg tea.Msg) page.Action { return p.leaf.Take(msg, p.Help(), p.do) }

func (p *Page) do(do keys.Command) page.Action {
	switch do {
	case keys.Take:
		return p.open()
	case keys.Fails:
		return page.Faults{}
	}
	return draw.Beside(p.snap, page.Promises, do)
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
	case l.verdict.State == proof.Breaks:
		return page.Goto{Page: page.Story, At: l.verdict.Promise.ID}
	}
	return nil
}

var _ page.Titled = (*Page)(nil)
