// Package talk is the interview: one question a page, in the household's words, and the brief read back.
// The answers live in the project; the page only knows which question is in front.
package talk

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/field"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// Page asks the questions of a room, or of the home.
type Page struct {
	s    page.Snapshot
	w, h int

	qs     []interview.Question // relevant now, in order
	doc    *projectfile.Document
	room   string
	id     string          // of the question in front; "" is the end of the room
	mark   int             // the marked choice, or line of the end
	ticks  map[string]bool // of a question with several answers
	field  field.Field     // what is written, or what several answers name beyond the choices
	own    bool            // an answer of one's own is written instead of a choice
	words  bool            // the household's words are written
	said   field.Field
	fault  string            // why the last answer was not taken
	drafts map[string]string // written and not taken, by room and question
	hits   []int             // the choice on each line of the last View, -1 for none
	right  map[int]int       // the choice on the right half of a line, where it has another
	column int               // answers in a column of the last View, 0 for one column
	top    int
	next   onward
	rest   interview.Chapter // of which the usual answers are on their way; "" when none are, or the question in front is another by now
}

// New makes the page.
func New() page.Page { return &Page{drafts: map[string]string{}} }

// SetSize gives the cells to draw in.
func (p *Page) SetSize(w, h int) { p.w, p.h = w, h }

// Show takes what is known now. The question in front stays as long as it is asked at all.
func (p *Page) Show(s page.Snapshot) {
	moved := s.Room != p.room || p.doc == nil
	changed := s.Doc != p.doc
	p.s = s
	if !moved && !changed && s.At == "" {
		return
	}
	was := p.index()
	if moved { // questions of two rooms have the same ids
		p.keepDraft()
		p.id = ""
	}
	p.room, p.doc = s.Room, s.Doc
	p.qs = interview.All(s.Doc, s.Room)
	switch {
	case s.At != "":
		p.ask(p.find(s.At))
	case moved:
		p.ask(p.open(0))
	case p.id != "" && p.index() < 0: // no longer asked: the one that took its place
		p.ask(p.open(max(was, 0)))
	case changed:
		p.refresh()
		if p.rest != "" && p.left(p.rest) == 0 {
			p.ask(p.open(p.index()))
		}
	}
	p.rest = ""
}

// find is the question with an id, of a path or below it, or the first of a chapter.
func (p *Page) find(at string) int {
	for _, fits := range []func(q interview.Question) bool{
		func(q interview.Question) bool { return q.ID == at || q.Path == at },
		func(q interview.Question) bool { return strings.HasPrefix(q.Path, at+"/") },
		func(q interview.Question) bool { return string(q.Chapter) == at },
		func(q interview.Question) bool { return at != "room" && interview.GoalOf(q.Chapter) == at },
		func(q interview.Question) bool { return at == "said" && q.Chapter == interview.OwnWords },
		func(q interview.Question) bool { return at == "open" && q.Parked },
	} {
		if i := slices.IndexFunc(p.qs, fits); i >= 0 {
			return i
		}
	}
	return p.open(0)
}

// open is the first question from i on that is neither answered nor parked, then the first at all; -1 is none.
func (p *Page) open(i int) int {
	for _, from := range []int{i, 0} {
		for j := from; j < len(p.qs); j++ {
			if !p.qs[j].Answered && !p.qs[j].Parked {
				return j
			}
		}
	}
	return -1
}

// left counts the questions of a chapter that are neither answered nor parked.
func (p *Page) left(chapter interview.Chapter) (n int) {
	for _, q := range p.qs {
		if q.Chapter == chapter && !q.Answered && !q.Parked {
			n++
		}
	}
	return n
}

func (p *Page) index() int {
	return slices.IndexFunc(p.qs, func(q interview.Question) bool { return q.ID == p.id })
}

// now is the question in front.
func (p *Page) now() (interview.Question, bool) {
	if i := p.index(); p.id != "" && i >= 0 {
		return p.qs[i], true
	}
	return interview.Question{}, false
}

// ask puts question i in front; -1 is the end of the room.
func (p *Page) ask(i int) {
	p.keepDraft()
	p.fault, p.own, p.mark, p.top, p.ticks, p.rest = "", false, 0, 0, nil, ""
	if i < 0 || i >= len(p.qs) {
		p.id = ""
		return
	}
	p.id = p.qs[i].ID
	p.refresh()
}

// refresh sets the marks and the field to what is written, or else to what is offered.
func (p *Page) refresh() {
	q, ok := p.now()
	if !ok {
		return
	}
	stands := q.Default
	if q.Answered {
		stands = q.Now
	}
	p.fault = ""
	switch q.Kind {
	case interview.YesNo, interview.OneOf:
		p.mark = max(choice(q, stands), 0)
		if choice(q, stands) < 0 && takesOwn(q) && stands != "" {
			p.mark = len(q.Choices)
			p.field.Propose(stands)
		}
	case interview.Several:
		var more string
		p.ticks, more = ticked(q, stands)
		p.mark = 0
		p.field.Set(more)
	default:
		p.field.Propose(stands)
	}
	if text, ok := p.drafts[p.draft(q)]; ok {
		p.field.Set(text)
		p.own = picks(q) // its cursor goes where the writing was left
	}
}

// keepDraft keeps what was written and not taken, for coming back to the question.
func (p *Page) keepDraft() {
	q, ok := p.now()
	if !ok || p.field.Offer || picks(q) && !p.own {
		return
	}
	if text := p.field.Text(); text != "" && text != q.Now {
		p.drafts[p.draft(q)] = text
	}
}

// draft names what was written for a question of the room in front.
func (p *Page) draft(q interview.Question) string { return p.room + "/" + q.ID }

// picks reports whether a question has answers to choose from.
func picks(q interview.Question) bool {
	switch q.Kind {
	case interview.YesNo, interview.OneOf, interview.Several:
		return true
	}
	return false
}

// takesOwn reports whether an answer that is not among the choices is taken.
func takesOwn(q interview.Question) bool {
	return (q.Kind == interview.OneOf || q.Kind == interview.Several) && (q.Unit != "" || q.Example != "")
}

// choice is the index of the choice that a text means, -1 for none.
func choice(q interview.Question, text string) int {
	return slices.IndexFunc(q.Choices, func(c interview.Choice) bool {
		return text != "" && (c.Value == text || c.Key == text || c.Label == text)
	})
}

// ticked are the choices that a text of several means, by key, and what else it names.
func ticked(q interview.Question, text string) (ticks map[string]bool, more string) {
	ticks = map[string]bool{}
	var rest []string
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		part = strings.TrimSpace(part)
		if i := choice(q, part); i >= 0 {
			ticks[q.Choices[i].Key] = true
		} else if part != "" && part != "none" && part != "unknown" {
			rest = append(rest, part)
		}
	}
	return ticks, strings.Join(rest, ", ")
}

// Takes says that letters are answers, or go into the field.
func (p *Page) Takes() page.Takes {
	if p.writing() {
		return page.Text
	}
	return page.Letters
}

func (p *Page) writing() bool {
	q, ok := p.now()
	return p.words || ok && (p.own || !picks(q))
}

// Title names the page in the header.
func (p *Page) Title() string { return "Interview" }

// Help is the keys of the question in front, with the choices' own.
func (p *Page) Help() []keys.Binding {
	q, ok := p.now()
	var bs []keys.Binding
	switch {
	case !ok && !p.words:
		bs = keys.TalkEnd.Copy()
	case p.words:
		return keys.TalkWords.Copy()
	case p.writing():
		bs = keys.TalkField.Copy()
		if !q.CanBeUnknown {
			bs = keys.Without(bs, keys.Unknown)
		}
	default:
		bs = keys.Talk.Copy()
		if q.Kind != interview.Several {
			bs = keys.Without(bs, keys.Tick)
		}
		if p.column == 0 {
			bs = keys.Without(bs, keys.Left, keys.Right)
		}
		if !takesOwn(q) {
			bs = keys.Without(bs, keys.Own)
		}
	}
	if p.room == "" {
		bs = keys.Without(bs, keys.Words)
	}
	if p.s.CanUndo == "" {
		bs = keys.Off(bs, keys.Undo, "Nothing has been changed since the file was opened.")
	}
	if p.s.CanRedo == "" {
		bs = keys.Off(bs, keys.Redo, "Nothing has been taken back.")
	}
	if i := p.index(); ok && i == 0 {
		bs = keys.Off(bs, keys.Previous, "This is the first question.")
	}
	if ok && q.Parked {
		bs = keys.Off(bs, keys.Park, "This question is parked already.")
	}
	if p.s.ReadOnly != "" {
		bs = keys.Off(keys.Off(bs, keys.Park, p.s.ReadOnly), keys.Words, p.s.ReadOnly)
	}
	return bs
}

// Update takes a key, a click or what came of an edit.
func (p *Page) Update(msg tea.Msg) page.Action {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		return p.key(msg)
	case tea.MouseMsg:
		return p.mouse(msg)
	case page.Refused:
		p.fault, p.rest = msg.Err.Error(), ""
	}
	return nil
}
