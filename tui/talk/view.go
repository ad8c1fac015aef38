package talk

import (
	"fmt"
	"strings"

	"example.org/roombrief/model/english"
	"example.org/roombrief/model/interview"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/margin"
	"example.org/roombrief/tui/theme"
)

// measure is the longest line of a sentence that reads well.
const measure = 68

// View draws the question in front, with what follows from the answers in the margin.
func (p *Page) View() string {
	if p.doc == nil || p.w <= 0 || p.h <= 0 {
		return ""
	}
	bw, mw := layout.Columns(p.w)
	var s sheet
	q, asked := p.now()
	if asked {
		p.question(&s, q, bw)
	} else {
		p.ending(&s, bw)
	}
	p.place(&s)
	var notes []margin.Note
	if mw > 0 {
		notes = margin.Room(p.s, p.room, mw, 1)
	}
	return margin.Page(p.s.Theme, p.w, p.h, s.lines, notes)
}

// place scrolls a page that is taller than its cells, and keeps the last line for the words that are written.
func (p *Page) place(s *sheet) {
	h := p.h
	if p.words {
		h -= 3
	}
	s.tighten(h)
	s.seen(p.s.Theme, &p.top, h)
	if p.words {
		for len(s.lines) < h {
			s.put(-1, "")
		}
		p.wordsLines(s)
	}
	p.hits, p.right = s.hits, s.right
}

func (p *Page) wordsLines(s *sheet) {
	t := p.s.Theme
	bw, _ := layout.Columns(p.w)
	about := "this room"
	if q, ok := p.now(); ok && interview.GoalOf(q.Chapter) != "room" {
		about = english.Lower(string(q.Chapter))
	}
	s.put(-1, t.Hair.Render(line(t.Glyphs.Hair, bw)))
	s.put(-1, t.Faint.Render("Said about "+about+", word for word. Enter keeps it, Esc sets it aside."))
	s.put(-1, t.Accent.Render(t.Glyphs.Here)+" "+p.said.View(t, bw-2))
}

// question is the page of one question.
func (p *Page) question(s *sheet, q interview.Question, w int) {
	t := p.s.Theme
	wide := min(w, measure)
	p.progress(s, q, w)
	s.put(-1, "")
	for _, l := range layout.Wrap(q.Ask, wide) {
		s.put(-1, t.Strong.Render(l))
	}
	s.put(-1, "")
	for _, l := range layout.Wrap(q.Why, wide) {
		s.aside(t.Faint.Render(l))
	}
	s.put(-1, "")
	if picks(q) {
		p.choices(s, q, w)
	}
	if !picks(q) || p.own {
		p.fieldLines(s, q, w)
	}
	if p.fault != "" {
		s.put(-1, "")
		for _, l := range layout.Wrap(english.Upper(p.fault), wide-2) {
			s.focus = len(s.lines)
			s.put(-1, "  "+t.Strong.Render(l))
		}
	}
	p.remarks(s, q, wide)
}

// progress says where in the room this is: the chapter, how many are answered, and a rule that fills.
func (p *Page) progress(s *sheet, q interview.Question, w int) {
	t := p.s.Theme
	done := 0
	for _, x := range p.qs {
		if x.Answered || x.Parked {
			done++
		}
	}
	where := "The home"
	if room, ok := p.s.RoomNow(); ok {
		where = room.Title()
	}
	left := t.Accent.Render(where)
	if string(q.Chapter) != where {
		left += t.Faint.Render(" " + t.Glyphs.Note + " " + string(q.Chapter))
	}
	right := bar(t, done, len(p.qs), min(24, w/4)) + t.Faint.Render(fmt.Sprintf("  %d of %d", p.index()+1, len(p.qs)))
	s.put(-1, layout.Ends(left, right, w, t.Glyphs.More))
	if p.h > 24 {
		s.put(-1, "")
	}
}

// bar is a rule of w cells of which part of the whole is drawn strong.
func bar(t theme.Theme, part, whole, w int) string {
	if whole <= 0 || w <= 0 {
		return ""
	}
	full := w * part / whole
	if !t.Glyphs.Line {
		return strings.Repeat("=", full) + strings.Repeat("-", w-full)
	}
	return t.Accent.Render(strings.Repeat("━", full)) + t.Hair.Render(line(t.Glyphs.Hair, w-full))
}

// choices are the answers to choose from, each after its key.
func (p *Page) choices(s *sheet, q interview.Question, w int) {
	t := p.s.Theme
	labels := 0
	for _, c := range q.Choices {
		labels = max(labels, layout.Width(c.Label))
	}
	labels = min(labels, max(w/2, 12))
	p.column = 0
	rows := make([]string, len(q.Choices))
	half := (w - 2) / 2
	fits := true
	for i, c := range q.Choices {
		rows[i] = p.choice(q, i, labels)
		fits = fits && layout.Width(rows[i])+3+layout.Width(c.Note) <= half
	}
	if fits && len(rows) > mostInAColumn {
		p.twoColumns(s, q, rows, half)
	} else {
		for i, c := range q.Choices {
			if i == p.mark && !p.own {
				s.focus = len(s.lines)
			}
			p.row(s, i, rows[i], c.Note, w)
		}
	}
	if takesOwn(q) && !p.own {
		p.ownRow(s, q, w)
	}
	if !p.own {
		s.put(-1, "")
		for _, l := range layout.Wrap(p.enter(q), min(w-2, measure)) {
			s.aside("  " + t.Faint.Render(l))
		}
	}
}

// mostInAColumn answers stand in one column; more stand in two where they are short.
const mostInAColumn = 9

// choice is one answer after its key.
func (p *Page) choice(q interview.Question, i, labels int) string {
	t := p.s.Theme
	c := q.Choices[i]
	mark, ink, key := "  ", t.Text, t.KeyCap.Render(c.Key)
	if i == p.mark && !p.own {
		mark, ink = t.Accent.Render(t.Glyphs.Here)+" ", t.Accent
	}
	if q.Kind == interview.Several {
		tick := " "
		if p.ticks[c.Key] {
			tick = t.Glyphs.Done
		}
		key += " [" + t.Accent.Render(tick) + "]"
	}
	label := c.Label // one that is longer than its column takes the room that it needs
	if layout.Width(label) < labels {
		label = layout.Fit(label, labels, t.Glyphs.More)
	}
	return mark + key + "  " + ink.Render(label)
}

// twoColumns sets answers down and then across.
func (p *Page) twoColumns(s *sheet, q interview.Question, rows []string, half int) {
	t := p.s.Theme
	full := func(i int) string { return rows[i] + "   " + t.Faint.Render(q.Choices[i].Note) }
	n := (len(rows) + 1) / 2
	p.column = n
	for i := range n {
		line := layout.Fit(full(i), half, t.Glyphs.More)
		if i == p.mark || i+n == p.mark {
			s.focus = len(s.lines)
		}
		if i+n < len(rows) {
			if s.right == nil {
				s.right = map[int]int{}
			}
			s.right[len(s.lines)] = i + n
			line += "  " + full(i+n)
		}
		s.put(i, line)
	}
}

// enter says what the Enter key would do.
func (p *Page) enter(q interview.Question) string {
	text := "Enter takes the marked answer"
	switch {
	case q.Kind == interview.Several:
		text = "A key ticks and unticks; Enter takes what is ticked"
		if q.Answered {
			return text + ". As it stands: " + q.Answer + "."
		}
	case p.mark >= len(q.Choices) && !p.field.Offer:
		return "Enter opens a line to write in."
	case q.Answered && choice(q, q.Now) == p.mark:
		return "Enter leaves it as it stands."
	case q.Answered:
		return text + ". As it stands: " + q.Answer + "."
	case choice(q, q.Default) != p.mark && p.mark < len(q.Choices):
		return text + "."
	}
	if q.DefaultWhy != "" {
		return text + ": " + q.DefaultWhy + "."
	}
	return text + "."
}

// ownRow is the line for an answer that is not among the choices.
func (p *Page) ownRow(s *sheet, q interview.Question, w int) {
	t := p.s.Theme
	i := len(q.Choices)
	mark, label := "  ", "something else"
	if q.Example != "" {
		label += ", as in " + q.Example
	}
	if p.field.Offer && p.mark == i || q.Kind == interview.Several && p.field.Text() != "" {
		label = p.field.Text()
	}
	ink := t.Text
	if i == p.mark {
		mark, ink, s.focus = t.Accent.Render(t.Glyphs.Here)+" ", t.Accent, len(s.lines)
	}
	pad := ""
	if q.Kind == interview.Several {
		pad = "    "
	}
	p.row(s, i, mark+t.KeyCap.Render("=")+pad+"  "+ink.Render(label), "", w)
}

// row puts an answer with its note beside it, or under it where they do not fit in one line.
func (p *Page) row(s *sheet, hit int, text, note string, w int) {
	t := p.s.Theme
	if note == "" {
		s.put(hit, layout.Cut(text, w, t.Glyphs.More))
		return
	}
	if layout.Width(text)+3+layout.Width(note) <= w {
		s.put(hit, text+"   "+t.Faint.Render(note))
		return
	}
	s.put(hit, layout.Cut(text, w, t.Glyphs.More))
	for _, l := range layout.Wrap(note, max(w-5, 10)) {
		s.put(hit, "     "+t.Faint.Render(l))
	}
}

// fieldLines are the field with what may be written in it.
func (p *Page) fieldLines(s *sheet, q interview.Question, w int) {
	t := p.s.Theme
	s.focus = len(s.lines)
	if p.words { // the cursor is in the line below
		s.put(-1, "  "+t.Text.Render(layout.Cut(p.field.Text(), w-2, t.Glyphs.More)))
	} else {
		s.put(-1, t.Accent.Render(t.Glyphs.Here)+" "+p.field.View(t, w-2))
	}
	var hints []string
	why := "."
	if q.DefaultWhy != "" {
		why = ": " + q.DefaultWhy + "."
	}
	switch {
	case p.field.Offer && q.Answered:
		hints = append(hints, "Enter leaves it as it stands; what you write replaces it.")
	case q.Kind == interview.Several:
		hints = append(hints, "Enter takes this, and what is ticked.")
	case p.field.Offer:
		hints = append(hints, "Enter takes this"+why)
	case p.field.Text() == "" && q.Default != "":
		hints = append(hints, "Enter takes "+or(q.DefaultAs, q.Default)+why)
	}
	if q.Example != "" {
		hints = append(hints, "For instance: "+q.Example)
	}
	if q.Unit != "" {
		hints = append(hints, "A number alone counts as "+q.Unit+".")
	}
	s.put(-1, "")
	for _, hint := range hints {
		for _, l := range layout.Wrap(hint, min(w-2, measure)) {
			s.put(-1, "  "+t.Faint.Render(l))
		}
	}
}

// remarks are what stands under the answers: that it is parked, its caution, what was said.
func (p *Page) remarks(s *sheet, q interview.Question, w int) {
	t := p.s.Theme
	if q.Parked && !q.Answered {
		text := "Parked: an open point until somebody answers it."
		if q.AskWho != "" {
			text = "Parked: an open point; " + q.AskWho + " will know."
		}
		s.put(-1, "", "  "+t.Faint.Render(t.Glyphs.Open+" "+text))
	}
	if q.Caution != "" {
		s.put(-1, "")
		for i, l := range layout.Wrap("Caution: "+q.Caution, w-2) {
			ink := t.Text
			if i == 0 && strings.HasPrefix(l, "Caution:") {
				l = t.Danger.Render("Caution:") + ink.Render(strings.TrimPrefix(l, "Caution:"))
			} else {
				l = ink.Render(l)
			}
			s.put(-1, "  "+l)
		}
	}
	room, ok := p.s.RoomNow()
	if !ok {
		return
	}
	for _, said := range room.Brief.Said {
		if said.Goal != interview.GoalOf(q.Chapter) {
			continue
		}
		s.put(-1, "")
		for _, l := range layout.Wrap("“"+said.Words+"”", w-2) {
			s.put(-1, "  "+t.Faint.Render(l))
		}
	}
}

func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

func line(hair string, w int) string { return strings.Repeat(hair, max(w, 0)) }
