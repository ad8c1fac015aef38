package sheet

import (
	"fmt"
	"strings"

	"example.org/roombrief/model/english"
	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/readback"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

func (p *Page) refresh() {
	if p.leaf.Theme.R == nil || p.snap.Doc == nil {
		return
	}
	now := drawn{p.snap.Doc, p.snap.Plan, p.tally(), p.snap.Room, p.leaf.Inner(), p.snap.Planning}
	if p.drawn == now && p.mode == looking {
		return
	}
	p.drawn = now
	if p.mode != looking {
		p.drawn = drawn{} // the open line is drawn again after every key
		p.try()
	}
	p.plot = nil
	p.count()
	p.leaf.Head = p.head()
	p.leaf.SetRows(p.rows())
}

// rows are the lines of all questions under their chapters, with what the household said.
func (p *Page) rows() []draw.Row {
	var rows []draw.Row
	t, chapter := p.leaf.Theme, interview.Chapter("")
	left := max(p.leaf.Inner()*3/5, 1)
	for i, q := range p.asks {
		if q.Chapter != chapter {
			chapter = q.Chapter
			if len(rows) > 0 {
				rows = append(rows, draw.Row{Item: -1})
			}
			rows = append(rows, draw.Row{Text: t.Strong.Render(string(chapter)), Item: -1, Head: true})
			rows = append(rows, p.said(chapter)...)
		}
		rows = append(rows, p.line(i, q, left)...)
	}
	if len(p.asks) == 0 {
		rows = append(rows, draw.Row{Text: "There is nothing to set down here.", Item: -1})
	}
	return rows
}

// said is what the household said of a chapter's goal, word for word.
func (p *Page) said(c interview.Chapter) []draw.Row {
	var rows []draw.Row
	if c == interview.OwnWords {
		return nil // the question's own answer shows them
	}
	for _, s := range p.room.Brief.Said {
		if s.Goal == "" || s.Goal != interview.GoalOf(c) || c == interview.Here {
			continue
		}
		for _, line := range draw.Hang("  \"", s.Words+"\"", p.leaf.Inner()) {
			rows = append(rows, draw.Row{Text: p.leaf.Theme.Faint.Render(line), Item: -1})
		}
	}
	return rows
}

// line sets a question at the left and its answer at the right, wrapped beside each other; while it is
// changed, its choices or its field stand under it.
func (p *Page) line(i int, q interview.Question, left int) []draw.Row {
	t := p.leaf.Theme
	ask := draw.Wrap(q.Ask, left)
	answer := draw.Wrap(p.answerText(q), max(p.leaf.Inner()-left-2, 1))
	var rows []draw.Row
	for n := range max(len(ask), len(answer)) {
		var a, b string
		if n < len(ask) {
			a = ask[n]
		}
		if n < len(answer) {
			b = answer[n]
			if !q.Answered {
				b = t.Faint.Render(b)
			}
		}
		rows = append(rows, draw.Row{Text: layout.Fit(a, left, "") + "  " + b, Item: i})
	}
	rows[0].Note, rows[0].Spare = p.note(q)
	if p.leaf.Wide() {
		rows[0].Figure = p.curve(i, q, p.leaf.MarginWidth(), 6)
	}
	if p.mode != looking && i == p.leaf.At() {
		for _, s := range p.open(q) {
			rows = append(rows, draw.Row{Text: s, Item: i, Raw: true})
		}
	}
	return rows
}

func (p *Page) answerText(q interview.Question) string {
	g := p.leaf.Theme.Glyphs
	switch {
	case q.Answered:
		return q.Answer
	case q.Parked && q.AskWho != "":
		return g.Open + " open, ask " + q.AskWho
	case q.Parked:
		return g.Open + " open"
	}
	return "not asked yet"
}

// open is what stands under a line while it is changed.
func (p *Page) open(q interview.Question) []string {
	t, w := p.leaf.Theme, p.leaf.Inner()
	var out []string
	switch p.mode {
	case writing:
		out = append(out, "  "+p.field.View(t, max(w-2, 2)))
		if q.Example != "" {
			out = append(out, t.Faint.Render("  for example "+q.Example))
		}
	case parking:
		out = append(out, "  Who will know? "+p.field.View(t, max(w-18, 2)))
	case saying:
		out = append(out, "  They said: "+p.field.View(t, max(w-13, 2)))
	case marking:
		out = append(out, p.choices(q)...)
	}
	if p.mode == writing || p.mode == marking {
		out = append(out, p.beneath(q)...)
	}
	if p.fault != "" {
		for _, s := range draw.Hang("  "+t.Glyphs.Broken+" ", p.fault, w) {
			out = append(out, t.Strong.Render(s))
		}
	}
	return out
}

// beneath is what the margin has no room for: the cautions first, as they must not be scrolled away, then the
// drawing where the margin can't have it, then the rest.
func (p *Page) beneath(q interview.Question) []string {
	t, w := p.leaf.Theme, p.leaf.Inner()
	note, _ := p.note(q)
	var out []string
	say := func(cautions bool) {
		for _, para := range note {
			if strings.HasPrefix(para, "! ") == cautions && !p.leaf.NoteFits(note) {
				for _, s := range draw.Hang("  ", para, w) {
					out = append(out, t.Faint.Render(s))
				}
			}
		}
	}
	say(true)
	if !p.leaf.Wide() && p.fault == "" {
		for _, s := range layout.Indent(p.curve(p.leaf.At(), q, w-4, max(min(p.leaf.Body()-10, 6), 3)), 4) {
			out = append(out, t.Faint.Render(s))
		}
	}
	say(false)
	return out
}

func (p *Page) choices(q interview.Question) []string {
	t := p.leaf.Theme
	labels := make([]string, len(q.Choices))
	widest := 0
	for i, c := range q.Choices {
		labels[i] = c.Label
		widest = max(widest, layout.Width(c.Label))
	}
	var out []string
	add := func(i int, text string) {
		if i == p.mark {
			out = append(out, t.Picked.Render("  "+t.Glyphs.Here+" "+text))
			return
		}
		out = append(out, "    "+text)
	}
	for i, c := range q.Choices {
		tick := ""
		if q.Kind == interview.Several {
			tick = "  "
			if p.ticked[i] {
				tick = t.Glyphs.Done + " "
			}
		}
		text := c.Key + "  " + tick + c.Label
		if c.Note != "" {
			text = c.Key + "  " + tick + layout.Fit(c.Label, widest, "") + "  " + c.Note
		}
		add(i, layout.Cut(text, p.leaf.Inner()-4, t.Glyphs.More))
	}
	if written(q) {
		add(len(q.Choices), "   another, written out")
	}
	return out
}

// note is what follows from a line, why it is asked, and what is usual; of its last paragraphs, spare give way to a drawing.
func (p *Page) note(q interview.Question) (out []string, spare int) {
	if q.Caution != "" {
		out = append(out, "! "+q.Caution)
	}
	out = append(out, p.natural(q)...)
	needed := len(out)
	out = append(out, p.seasons(q)...)
	if q.Why != "" {
		out = append(out, q.Why)
	}
	usual := q.DefaultAs
	if usual == "" {
		usual = q.Default
	}
	if usual != "" && !strings.EqualFold(usual, q.Answer) {
		s := "Usual here: " + usual
		if q.DefaultWhy != "" {
			s += "; " + english.Lower(strings.TrimRight(q.DefaultWhy, "."))
		}
		out = append(out, s+".")
	}
	return out, len(out) - needed
}

// head stays over the lines: the agreement, and how far the sheet is.
func (p *Page) head() []string {
	t := p.leaf.Theme
	progress := "  " + t.Faint.Render(layout.Ends(p.progress, draw.Planning(p.snap), p.leaf.Inner(), t.Glyphs.More))
	if !p.have {
		return []string{progress, ""}
	}
	return append(p.agreement(), progress, "")
}

// agreement is the mark at the head: who agreed to the brief, and whether it still is that brief.
func (p *Page) agreement() []string {
	t := p.leaf.Theme
	a, state := readback.Agreement(p.snap.Project, p.room.ID)
	who := a.By
	if x, ok := p.snap.Project.Person(a.By); ok {
		who = x.Title()
	}
	on := who + " agreed to this brief on " + a.On.Format("2 January 2006")
	w := p.leaf.Inner() + 2
	switch state {
	case readback.Agreed:
		return draw.Hang(t.Glyphs.Done+" ", on+".", w)
	case readback.Lapsed:
		what := "it changed since"
		if changed := readback.Changed(p.snap.Project, p.room.ID); len(changed) > 0 {
			what = english.List(changed) + " changed since"
		}
		lines := draw.Hang(t.Glyphs.Open+" ", "Lapsed: "+on+"; "+what+".", w)
		for i := range lines {
			lines[i] = t.Strong.Render(lines[i])
		}
		return lines
	}
	return []string{"  " + t.Faint.Render("Not agreed yet; press r to read it back.")}
}

// count says how far the sheet is, and sets what the room comes to in the margin.
func (p *Page) count() {
	answered, parked := 0, 0
	for _, q := range p.asks {
		switch {
		case q.Answered:
			answered++
		case q.Parked:
			parked++
		}
	}
	p.progress = fmt.Sprintf("%d of %d answered", answered, len(p.asks))
	if parked > 0 {
		p.progress += fmt.Sprintf(", %d parked", parked)
	}
	p.leaf.Aside = p.cost()
	if t := p.tally(); t.All() > 0 {
		p.leaf.Aside = append(p.leaf.Aside, "promises: "+page.Said(t))
	}
}

// tally of the room's promises.
func (p *Page) tally() page.Tally {
	x, ok := p.snap.Proofs.Of(p.room.ID)
	if !ok || !p.have {
		return page.Tally{}
	}
	return x.Tally()
}

func (p *Page) cost() []string {
	if p.snap.Plan == nil || !p.have {
		return nil
	}
	for _, r := range p.snap.Plan.Bill.Rooms {
		if r.Room == p.room.ID {
			devices := fmt.Sprintf("%d devices", r.Devices)
			if r.Devices == 1 {
				devices = "one device"
			}
			return []string{devices, r.Amount.Plain() + " " + p.snap.Plan.Bill.Currency + " before tax"}
		}
	}
	return nil
}
