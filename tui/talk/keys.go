package talk

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

func (p *Page) key(msg tea.KeyMsg) page.Action {
	if p.words {
		return p.wordsKey(msg)
	}
	q, ok := p.now()
	if !ok {
		return p.endKey(msg)
	}
	if p.writing() {
		return p.fieldKey(q, msg)
	}
	for i, c := range q.Choices {
		if !msg.Paste && msg.String() == c.Key {
			return p.choose(q, i)
		}
	}
	b, ok := keys.Talk.Of(msg)
	if !ok {
		return p.stray(msg)
	}
	switch b.Do {
	case keys.Up:
		p.step(q, -1)
	case keys.Down:
		p.step(q, 1)
	case keys.Left, keys.Right:
		by := p.column
		if b.Do == keys.Left {
			by = -by
		}
		if to := p.mark + by; to >= 0 && to < len(q.Choices) {
			p.mark = to
		}
	case keys.Tick:
		if q.Kind == interview.Several {
			return p.choose(q, p.mark)
		}
	case keys.Own:
		if takesOwn(q) {
			p.write()
		}
	case keys.Take:
		return p.take(q)
	default:
		return p.common(b.Do)
	}
	return nil
}

// stray passes on keys that are neither letters nor digits; a slip on those must not leave the page.
func (p *Page) stray(msg tea.KeyMsg) page.Action {
	if msg.Type == tea.KeyRunes && len(msg.Runes) == 1 && msg.Runes[0] != '?' {
		return page.Say{Text: "There is no answer on " + string(msg.Runes) + " here."}
	}
	return page.Pass{}
}

// step moves the mark; a line for an answer of one's own comes after the choices.
func (p *Page) step(q interview.Question, by int) {
	n := len(q.Choices)
	if takesOwn(q) {
		n++
	}
	p.mark = min(max(p.mark+by, 0), n-1)
}

// choose takes a choice by its key or a click, or ticks it where several may be taken.
func (p *Page) choose(q interview.Question, i int) page.Action {
	p.mark = i
	if i >= len(q.Choices) {
		p.write()
		return nil
	}
	if q.Kind != interview.Several {
		return p.answer(q, q.Choices[i].Value)
	}
	key := q.Choices[i].Key
	p.ticks[key] = !p.ticks[key]
	return nil
}

// write opens the field for an answer of one's own.
func (p *Page) write() {
	q, _ := p.now()
	p.own = true
	p.mark = len(q.Choices)
	if q.Kind != interview.Several && !p.field.Offer {
		p.field.Set("")
	}
}

// take takes the marked choice or the ticks.
func (p *Page) take(q interview.Question) page.Action {
	if q.Kind == interview.Several {
		return p.answer(q, severalText(q, p.ticks, p.field.Text()))
	}
	if p.mark >= len(q.Choices) {
		if p.field.Offer {
			return p.answer(q, p.field.Text())
		}
		p.write()
		return nil
	}
	if len(q.Choices) == 0 {
		return p.answer(q, q.Default)
	}
	return p.answer(q, q.Choices[p.mark].Value)
}

// severalText writes the ticked choices, and what else was named, as an answer.
func severalText(q interview.Question, ticks map[string]bool, more string) string {
	var parts []string
	for _, c := range q.Choices {
		if ticks[c.Key] {
			parts = append(parts, c.Value)
		}
	}
	if more = strings.TrimSpace(more); more != "" {
		parts = append(parts, more)
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, ", ")
}

// fieldKey is a key while an answer is written.
func (p *Page) fieldKey(q interview.Question, msg tea.KeyMsg) page.Action {
	if b, ok := keys.TalkField.Of(msg); ok {
		switch b.Do {
		case keys.Take:
			return p.takeField(q)
		case keys.Unknown:
			if q.CanBeUnknown {
				return p.answer(q, "unknown")
			}
		case keys.Leave:
			if p.own { // back to the choices; what was written is kept
				p.keepDraft()
				p.own = false
				return nil
			}
			return p.common(b.Do)
		default:
			return p.common(b.Do)
		}
		return nil
	}
	if p.field.Key(msg) {
		p.fault = ""
	}
	return nil
}

func (p *Page) takeField(q interview.Question) page.Action {
	text := p.field.Text()
	if q.Kind == interview.Several {
		return p.answer(q, severalText(q, p.ticks, text))
	}
	if text == "" {
		text = q.Default
	}
	if text == "" {
		p.fault = "Write an answer, or go on with Tab."
		if q.CanBeUnknown {
			p.fault = "Write an answer, go on with Tab, or say with Ctrl+N that nobody knows."
		}
		return nil
	}
	return p.answer(q, text)
}

// common are the keys that every kind of question knows.
func (p *Page) common(do keys.Command) page.Action {
	switch do {
	case keys.Previous:
		p.previous()
	case keys.Following:
		p.ask(p.index() + 1)
	case keys.Park:
		return p.park()
	case keys.Words:
		if p.room != "" {
			p.words = true
			p.said.Set(p.drafts["words "+p.room])
		}
	case keys.Rest:
		return p.takeRest()
	case keys.Undo:
		return page.Undo{}
	case keys.Redo:
		return page.Redo{}
	case keys.Leave:
		p.keepDraft()
		return page.Goto{Page: page.Rooms}
	}
	return nil
}

// previous goes back a question, from the end of the room to its last one.
func (p *Page) previous() {
	i := p.index()
	if p.id == "" {
		i = len(p.qs)
	}
	if i > 0 {
		p.ask(i - 1)
	}
}

// answer gives a text to the question and turns to the next one.
func (p *Page) answer(q interview.Question, text string) page.Action {
	if stands(q, text) { // what nobody changed is not written anew
		p.ask(p.index() + 1)
		return nil
	}
	if p.s.ReadOnly != "" {
		return page.Say{Text: "Nothing was changed: " + p.s.ReadOnly}
	}
	doc, err := interview.Answer(p.doc, q, text)
	if err != nil {
		p.fault = err.Error()
		return nil
	}
	delete(p.drafts, p.draft(q))
	p.field.Set("")
	p.own = false
	if doc == p.doc {
		p.ask(p.index() + 1)
		return nil
	}
	p.turn(doc)
	return page.Replace{Doc: doc, Label: "the answer to “" + q.Ask + "”", At: q.ID}
}

// stands reports whether a text is the answer that is written already.
func stands(q interview.Question, text string) bool {
	switch {
	case !q.Answered:
		return false
	case text == q.Now:
		return true
	case q.Kind == interview.Several:
		ticks, more := ticked(q, q.Now)
		return text == severalText(q, ticks, more)
	}
	i := choice(q, text)
	return i >= 0 && i == choice(q, q.Now)
}

// turn takes a new document and turns to the first open question after the one in front.
func (p *Page) turn(doc *projectfile.Document) {
	at := p.index()
	p.doc, p.qs = doc, interview.All(doc, p.room)
	if i := p.index(); i >= 0 {
		at = i + 1
	}
	p.ask(p.open(at))
}

// park keeps the question as an open point and turns to the next one.
func (p *Page) park() page.Action {
	q, ok := p.now()
	if !ok {
		return nil
	}
	doc, err := interview.Park(p.doc, q, "", p.s.Today)
	if err != nil {
		p.fault = err.Error()
		return nil
	}
	p.keepDraft()
	p.turn(doc)
	return page.Several{
		page.Replace{Doc: doc, Label: "parking “" + q.Ask + "”", At: q.ID},
		page.Say{Text: "Parked: it is an open point now, and can be answered any time."},
	}
}

// takeRest takes the usual answers for what is left of the chapter.
func (p *Page) takeRest() page.Action {
	q, ok := p.now()
	if !ok {
		return nil
	}
	if p.s.ReadOnly != "" {
		return page.Say{Text: "Nothing was changed: " + p.s.ReadOnly}
	}
	if p.left(q.Chapter) == 0 {
		return page.Say{Text: "Every question of “" + string(q.Chapter) + "” is answered or parked."}
	}
	p.rest = q.Chapter
	from, room, chapter := p.doc, p.room, q.Chapter
	return page.Reckon{
		Make:  func() (*projectfile.Document, error) { return interview.AcceptChapter(from, room, chapter) },
		Label: "the usual answers to “" + string(chapter) + "”",
		At:    q.ID,
		Then:  page.Say{Text: string(chapter) + ": usual answers taken; the read-back tells them."},
	}
}

// wordsKey is a key while the household's words are written.
func (p *Page) wordsKey(msg tea.KeyMsg) page.Action {
	if b, ok := keys.TalkWords.Of(msg); ok {
		if b.Do == keys.Take {
			return p.keepWords()
		}
		p.drafts["words "+p.room] = p.said.Text()
		p.words = false
		return nil
	}
	p.said.Key(msg)
	return nil
}

func (p *Page) keepWords() page.Action {
	text := p.said.Text()
	p.words = false
	if text == "" {
		return nil
	}
	goal := "room"
	if q, ok := p.now(); ok {
		goal = interview.GoalOf(q.Chapter)
	}
	doc, err := interview.Say(p.doc, p.room, goal, text)
	if err != nil {
		p.drafts["words "+p.room] = text
		p.fault = err.Error()
		return nil
	}
	delete(p.drafts, "words "+p.room)
	return page.Several{
		page.Replace{Doc: doc, Label: "their words", At: p.id},
		page.Say{Text: "Kept word for word."},
	}
}

// mouse takes a click on an answer, and the wheel.
func (p *Page) mouse(msg tea.MouseMsg) page.Action {
	q, ok := p.now()
	switch {
	case msg.Action != tea.MouseActionPress || p.words:
	case msg.Button == tea.MouseButtonWheelUp || msg.Button == tea.MouseButtonWheelDown:
		by := 1
		if msg.Button == tea.MouseButtonWheelUp {
			by = -1
		}
		if ok && picks(q) {
			p.step(q, by)
		} else if !ok {
			p.mark = min(max(p.mark+by, 0), len(p.ends())-1)
		}
	case msg.Button == tea.MouseButtonLeft:
		if msg.Y < 0 || msg.Y >= len(p.hits) || p.hits[msg.Y] < 0 {
			return nil
		}
		hit := p.hits[msg.Y]
		bw, _ := layout.Columns(p.w)
		if other, two := p.right[msg.Y]; two && msg.X >= bw/2 {
			hit = other
		}
		if ok && picks(q) {
			return p.choose(q, hit)
		}
		if !ok {
			return p.end(hit)
		}
	}
	return nil
}
