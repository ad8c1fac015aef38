package sheet

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// change opens the line under the cursor: its choices, or a field.
func (p *Page) change() page.Action {
	q, ok := p.here()
	if !ok {
		return nil
	}
	if p.snap.ReadOnly != "" {
		return page.Say{Text: p.snap.ReadOnly}
	}
	p.fault = ""
	if len(q.Choices) == 0 {
		p.startWriting(q)
		return nil
	}
	p.mode, p.mark = marking, max(chosen(q), 0)
	p.ticked = map[int]bool{}
	if q.Kind == interview.Several {
		now := q.Now
		if !q.Answered {
			now = q.Default
		}
		for i, c := range q.Choices {
			p.ticked[i] = slices.Contains(parts(now), c.Value)
		}
	}
	return nil
}

func (p *Page) startWriting(q interview.Question) {
	p.mode = writing
	p.field.Set(q.Now)
	if !q.Answered {
		p.field.Propose(q.Default)
	}
}

// chosen is the choice that is written now, or the default; -1 when it is neither.
func chosen(q interview.Question) int {
	now := q.Now
	if !q.Answered {
		now = q.Default
	}
	for i, c := range q.Choices {
		if strings.EqualFold(c.Value, now) || c.Key == now || strings.EqualFold(c.Label, now) {
			return i
		}
	}
	return -1
}

// parts are the answers of a question with several, as Now gives them.
func parts(now string) []string {
	var out []string
	for _, s := range strings.Split(now, ",") {
		if s = strings.TrimSpace(s); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// written tells whether a question with choices takes another answer too, in words or figures.
func written(q interview.Question) bool {
	return (q.Kind == interview.OneOf || q.Kind == interview.Several) && q.Example != ""
}

// cycle takes the choice before or after the one that is written.
func (p *Page) cycle(by int) page.Action {
	q, _ := p.here()
	now := chosen(q)
	if !q.Answered && now >= 0 {
		by = 0 // what is offered becomes the answer first
	}
	n := len(q.Choices)
	if now < 0 {
		now = (n - by) % n
	}
	return p.answer(q, q.Choices[(now+by+n)%n].Value)
}

// answer hands an answer in; a refusal stays beside the line.
func (p *Page) answer(q interview.Question, text string) page.Action {
	doc, err := interview.Answer(p.snap.Doc, q, text)
	if err != nil {
		p.fault = err.Error()
		return nil
	}
	p.quit()
	p.stand = q.ID
	return page.Replace{Doc: doc, Label: label(q), At: q.Path}
}

func label(q interview.Question) string { return "answer to \"" + q.Ask + "\"" }

// forget takes an answer away, or the open point of a parked line.
func (p *Page) forget() page.Action {
	q, _ := p.here()
	if q.Answered {
		return page.Edit{Edits: []projectfile.Edit{projectfile.Remove(q.Path)}, Label: label(q), At: q.Path}
	}
	doc, err := interview.Unpark(p.snap.Doc, q)
	if err != nil {
		return page.Say{Text: err.Error()}
	}
	return page.Replace{Doc: doc, Label: "open point", At: q.Path}
}

// choose takes a key while choices are open.
func (p *Page) choose(k tea.KeyMsg) page.Action {
	q, _ := p.here()
	n := len(q.Choices)
	if written(q) {
		n++
	}
	b, ok := keys.Find(p.Help(), k)
	if !ok {
		return p.chooseKey(q, k)
	}
	switch b.Do {
	case keys.Leave:
		p.quit()
	case keys.Up:
		p.mark = max(p.mark-1, 0)
	case keys.Down:
		p.mark = min(p.mark+1, n-1)
	case keys.Tick:
		if p.mark < len(q.Choices) {
			p.ticked[p.mark] = !p.ticked[p.mark]
		}
	case keys.Take:
		return p.take(q)
	}
	return nil
}

// chooseKey takes a choice by its own key.
func (p *Page) chooseKey(q interview.Question, k tea.KeyMsg) page.Action {
	for i, c := range q.Choices {
		if k.String() != c.Key {
			continue
		}
		p.mark = i
		if q.Kind == interview.Several {
			p.ticked[i] = !p.ticked[i]
			return nil
		}
		return p.take(q)
	}
	return nil
}

// take answers with what is marked or ticked, or goes on to a field for another answer.
func (p *Page) take(q interview.Question) page.Action {
	if p.mark == len(q.Choices) {
		p.startWriting(q)
		if q.Kind == interview.Several {
			p.field.Set(strings.Join(p.picked(q), ", "))
		}
		return nil
	}
	if q.Kind != interview.Several {
		return p.answer(q, q.Choices[p.mark].Value)
	}
	values := p.picked(q)
	if len(values) == 0 {
		values = []string{"none"}
	}
	return p.answer(q, strings.Join(values, ", "))
}

// picked is what is ticked, and what was written that is no choice.
func (p *Page) picked(q interview.Question) []string {
	var out []string
	known := map[string]bool{"none": true}
	for i, c := range q.Choices {
		known[c.Value] = true
		if p.ticked[i] {
			out = append(out, c.Value)
		}
	}
	for _, own := range parts(q.Now) {
		if !known[own] {
			out = append(out, own)
		}
	}
	return out
}

// write takes a key while a field is open.
func (p *Page) write(k tea.KeyMsg) page.Action {
	q, _ := p.here()
	switch k.Type {
	case tea.KeyEsc:
		p.quit()
		return nil
	case tea.KeyEnter:
		switch p.mode {
		case parking:
			return p.park(q)
		case saying:
			return p.say(q)
		}
		return p.answer(q, p.field.Text())
	}
	if p.field.Key(k) {
		p.fault = ""
	}
	return nil
}

func (p *Page) park(q interview.Question) page.Action {
	doc, err := interview.Park(p.snap.Doc, q, strings.TrimSpace(p.field.Text()), p.snap.Today)
	if err != nil {
		p.fault = err.Error()
		return nil
	}
	p.quit()
	p.stand = q.ID
	return page.Replace{Doc: doc, Label: "open point", At: q.Path}
}

// say keeps what the household said, with the goal that the line belongs to.
func (p *Page) say(q interview.Question) page.Action {
	doc, err := interview.Say(p.snap.Doc, p.room.ID, interview.GoalOf(q.Chapter), p.field.Text())
	if err != nil {
		p.fault = err.Error()
		return nil
	}
	p.quit()
	p.stand = q.ID
	return page.Replace{Doc: doc, Label: "their words", At: q.Path}
}
