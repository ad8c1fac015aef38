package proofpage

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/english"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/story"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/margin"
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/strip"
)

// Tale is the page of one story: the strip chart over the lines of the story, one cursor for both.
type Tale struct {
	snap    page.Snapshot
	w, h    int
	promise string // id
	verdict proof.Verdict
	from    *page.Proofs // that the story was told from
	story   story.Story
	why     string // there is nothing to show; "" when there is
	blame   string // the limit that breaks the promise; "" when none does
	at      int    // line under the cursor
	top     int    // first row of the lines that is shown
	rows    []row
	chart   int // row of the page on which the chart begins
	list    int // row on which the lines begin
}

// row of the list of lines.
type row struct {
	text string
	line int
	dull bool // what the rules do, and what a change brings with it
	bad  bool // what is wrong at the end
}

// NewStory is an empty page.
func NewStory() page.Page { return &Tale{} }

// SetSize gives the page its room.
func (p *Tale) SetSize(w, h int) {
	p.w, p.h = max(w, 0), max(h, 0)
	p.lay()
}

// Show takes what is known now. A story is told anew only when the verdicts have changed.
func (p *Tale) Show(s page.Snapshot) {
	if s.At != "" && s.At != p.promise {
		p.promise, p.from = s.At, nil
	}
	fresh := p.from == nil
	if s.Room != p.snap.Room {
		p.from = nil
	}
	p.snap = s
	if p.from == nil || p.from != s.Proofs {
		p.tell()
		p.from = s.Proofs
	}
	if fresh {
		p.at, p.top = p.end(), 0
	}
	p.lay()
	p.at = max(min(p.at, p.last()), 0)
}

// Title names the page.
func (p *Tale) Title() string { return "Story" }

// tell tells the story of the promise, as far as it still breaks.
func (p *Tale) tell() {
	x, known := p.snap.Proofs.Of(p.snap.Room)
	p.why = "The promise is being proved; its story comes in a moment."
	if !known {
		return
	}
	v, made := x.Verdict(p.promise)
	p.story, p.blame = story.Story{}, ""
	switch {
	case !made && p.snap.Faults && !x.Failed:
	case !made:
		p.why = "This promise is not made any more."
	case v.State != proof.Breaks:
		p.verdict, p.why = v, fmt.Sprintf("This promise is %s now, so there is no story to show.", v.State)
	case len(v.Story) == 0:
		p.verdict, p.why, p.blame = v, "", x.Blame(&v)
	default:
		s, err := story.Of(x.Sheet, v)
		if err != nil {
			p.why = fmt.Sprintf("The story can't be told: %v", err)
			return
		}
		p.verdict, p.story, p.why, p.blame = v, s, "", x.Blame(&v)
	}
}

const gutter = 2 // cells before each line, where the cursor stands

// lay writes the lines of the story to the width of the page.
func (p *Tale) lay() {
	p.rows = p.rows[:0]
	if p.why != "" || p.snap.Theme.R == nil {
		return
	}
	bw, _ := layout.Columns(p.w)
	since := 0
	for _, l := range p.story.Lines {
		since = max(since, len(story.Since(l.At)))
	}
	for i, l := range p.story.Lines {
		lead := fmt.Sprintf("%s  %s  ", story.Time(l.Clock), draw.Right("+"+story.Since(l.At), since+1, ""))
		for _, s := range draw.Hang(lead, l.Text, bw-gutter) {
			p.rows = append(p.rows, row{text: s, line: i})
		}
		if len(l.Then) > 0 {
			for _, s := range draw.Hang(draw.Spaces(len(lead)+2), strings.Join(l.Then, "; "), bw-gutter) {
				p.rows = append(p.rows, row{text: s, line: i, dull: true})
			}
		}
		if i == len(p.story.Lines)-1 {
			mark := draw.Spaces(len(lead)-2) + p.snap.Theme.Glyphs.Broken + " "
			for _, s := range draw.Hang(mark, p.story.Broke, bw-gutter) {
				p.rows = append(p.rows, row{text: s, line: i, bad: true})
			}
		}
	}
	p.rows = append(p.rows, p.always(bw-gutter)...)
	p.rows = append(p.rows, p.mends(bw-gutter)...)
}

// always is what breaks a promise whatever happens, and the limit that does.
func (p *Tale) always(w int) []row {
	var texts []string
	if len(p.story.Lines) == 0 {
		texts = append(texts, "It is broken whatever happens, so there is no story to show: "+p.verdict.Why+".")
	}
	if p.blame != "" {
		texts = append(texts, p.blame)
	}
	var out []row
	for _, text := range texts {
		if len(p.rows)+len(out) > 0 {
			out = append(out, row{line: p.end()})
		}
		for _, s := range draw.Wrap(text, w) {
			out = append(out, row{text: s, line: p.end()})
		}
	}
	return out
}

// end is the last line of the story; of a promise that has none it is the sentence that says so.
func (p *Tale) end() int { return max(len(p.story.Lines)-1, 0) }

// View draws the page.
func (p *Tale) View() string {
	if p.w == 0 || p.h == 0 || p.snap.Theme.R == nil {
		return ""
	}
	t := p.snap.Theme
	bw, _ := layout.Columns(p.w)
	if p.why != "" {
		return margin.Page(t, p.w, p.h, layout.Indent(append([]string{""}, draw.Wrap(p.why, bw-gutter)...), gutter), nil)
	}
	var body []string
	for i, s := range draw.Wrap(story.Sentence(p.verdict), max(bw-gutter, 1)) {
		mark := "  "
		if i == 0 {
			mark = t.Danger.Render(t.Glyphs.Broken) + " "
		}
		body = append(body, mark+t.Strong.Render(s))
	}
	p.chart = len(body)
	most := max(min(strip.Height(p.story), p.h-len(body)-1-least(p.h)), 0)
	if most > 4 && len(p.story.Lines) > 0 {
		for _, s := range strip.Draw(t, p.story, min(p.at, len(p.story.Lines)-1), max(bw-gutter, 1), most) {
			body = append(body, draw.Spaces(gutter)+s)
		}
		body = append(body, "")
	}
	p.list = len(body)
	h := max(p.h-len(body), 0)
	body = append(body, p.lines(h, bw)...)
	if p.list > p.chart {
		body[p.list-1] = t.Faint.Render(draw.Right(p.further(h), bw, t.Glyphs.More))
	}
	return margin.Page(t, p.w, p.h, body, p.notes())
}

// further says on which sides of the h rows in sight there are more.
func (p *Tale) further(h int) string {
	var out []string
	if p.top > 0 {
		out = append(out, p.snap.Theme.Glyphs.Up+" more above")
	}
	if p.top+h < len(p.rows) {
		out = append(out, p.snap.Theme.Glyphs.Down+" more below")
	}
	return strings.Join(out, "  ")
}

// least is how many rows of the lines stay in sight under the chart.
func least(h int) int { return max(min(h/4, 8), 2) }

// lines are those around the cursor that fit.
func (p *Tale) lines(h, w int) []string {
	t := p.snap.Theme
	first, last := -1, 0
	for i, r := range p.rows {
		if r.line == p.at {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	p.top = layout.Scroll(p.top, last, h, len(p.rows))
	p.top = layout.Scroll(p.top, max(first, 0), h, len(p.rows))
	var out []string
	for i := p.top; i < len(p.rows) && len(out) < h; i++ {
		r := p.rows[i]
		style, mark := t.Text, draw.Spaces(gutter)
		switch {
		case r.bad:
			style = t.Danger
		case r.line == p.at:
			style = t.Picked
			if i == first {
				mark = t.Glyphs.Here + " "
			}
		case r.dull:
			style = t.Faint
		}
		out = append(out, style.Render(layout.Cut(mark+r.text, w, t.Glyphs.More)))
	}
	return out
}

// notes are what the verdict leans on.
func (p *Tale) notes() []margin.Note {
	var out []margin.Note
	if text := remarks(&p.verdict); len(text) > 0 {
		out = append(out, margin.Note{Head: "How far it holds", Text: strings.Join(text, "\n")})
	}
	var leans []string
	for _, a := range p.verdict.Promise.Assumes {
		leans = append(leans, english.Upper(a.Text)+".")
	}
	if len(leans) > 0 {
		out = append(out, margin.Note{Head: "It is assumed", Text: strings.Join(leans, "\n")})
	}
	return out
}

// Takes leaves letters to the globals.
func (p *Tale) Takes() page.Takes { return page.Own }

// Help is the keys that work now.
func (p *Tale) Help() []keys.Binding {
	bs := keys.Story.Copy()
	if p.why != "" {
		return keys.Without(bs, keys.Left, keys.Right, keys.Top, keys.Bottom, keys.Mend1, keys.Mend2, keys.Mend3)
	}
	return p.mendHelp(bs)
}

// Update takes keys and the mouse.
func (p *Tale) Update(msg tea.Msg) page.Action {
	switch msg := msg.(type) {
	case tea.MouseMsg:
		p.mouse(msg)
	case tea.KeyMsg:
		b, ok := keys.Find(p.Help(), msg)
		if !ok {
			return nil
		}
		if b.Off != "" {
			return page.Say{Text: b.Off}
		}
		switch b.Do {
		case keys.Mend1, keys.Mend2, keys.Mend3:
			return p.mend(slices.Index(mendKeys, b.Do))
		case keys.Left:
			p.move(p.at - 1)
		case keys.Right:
			p.move(p.at + 1)
		case keys.Top:
			p.move(0)
		case keys.Bottom:
			p.move(p.end())
		}
	}
	return nil
}

func (p *Tale) move(to int) { p.at = max(min(to, p.last()), 0) }

// last line that the cursor may stand on: of the story, or of the changes that mend it.
func (p *Tale) last() int { return p.end() + len(p.found()) }

// mouse puts the cursor on the line that is clicked, in the list or on the chart; the wheel walks.
func (p *Tale) mouse(m tea.MouseMsg) {
	bw, _ := layout.Columns(p.w)
	switch {
	case p.why != "":
	case m.Button == tea.MouseButtonWheelUp:
		p.move(p.at - 1)
	case m.Button == tea.MouseButtonWheelDown:
		p.move(p.at + 1)
	case m.Button != tea.MouseButtonLeft || m.Action != tea.MouseActionPress || m.X >= bw:
	case m.Y >= p.list && p.top+m.Y-p.list < len(p.rows):
		p.move(p.rows[p.top+m.Y-p.list].line)
	case m.Y >= p.chart && m.Y < p.list:
		if i, ok := strip.At(p.story, max(bw-gutter, 1), m.X-gutter); ok {
			p.move(i)
		}
	}
}

var _ page.Titled = (*Tale)(nil)
