package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/page"
)

// edit applies a page's edits; what is refused goes back to the page.
func (r *root) edit(a page.Edit) tea.Cmd {
	if r.session == nil || r.refused() {
		return nil
	}
	doc, err := r.session.hist.now().Apply(a.Edits...)
	if err != nil {
		return r.carry(r.page.Update(page.Refused{Err: err, Label: a.Label}))
	}
	return r.change(doc, step{label: a.Label, at: a.At}, a.Join, a.Then)
}

// reckon makes a document off the thread.
func (r *root) reckon(a page.Reckon) tea.Cmd {
	if r.session == nil || r.refused() {
		return nil
	}
	from := r.session.hist.now()
	return safely(func() tea.Msg {
		doc, err := a.Make()
		return reckoned{from, a, doc, err}
	})
}

func (r *root) takeReckoned(m reckoned) tea.Cmd {
	switch {
	case r.session == nil || m.from != r.session.hist.now():
		r.said = page.Say{Text: "Left as it was: something else was changed meanwhile. Try again."}
		return nil
	case m.err != nil:
		return r.carry(r.page.Update(page.Refused{Err: m.err, Label: m.what.Label}))
	}
	return r.change(m.doc, step{label: m.what.Label, at: m.what.At}, false, m.what.Then)
}

// refused says so when nothing can be changed.
func (r *root) refused() bool {
	why := r.session.readOnly
	if why != "" {
		r.said = page.Say{Text: "Nothing was changed: " + why}
	}
	return why != ""
}

// change puts a new document in: undo, draft, save to come, planning anew.
func (r *root) change(doc *projectfile.Document, st step, join bool, then page.Action) tea.Cmd {
	if r.session == nil || doc == nil || r.refused() {
		return nil
	}
	if doc == r.session.hist.now() { // nothing to change, and nothing to undo
		return r.carry(then)
	}
	st.doc, st.where = doc, place{page: r.at.page, room: r.at.room, at: st.at}
	r.session.hist.push(st, join)
	cmd := r.changed()
	return tea.Batch(cmd, r.carry(then))
}

// changed follows a change of the document that is shown.
func (r *root) changed() tea.Cmd {
	s := r.session
	doc := s.hist.now()
	s.project = doc.Project()
	s.gen++
	s.saver.wish(doc.Source(), true)
	gen := s.gen
	plan := r.replan()
	r.show()
	return tea.Batch(r.write(), plan, r.o.after(settle, settled{gen}))
}

func (r *root) undo() (step, string, bool) {
	s, ok := r.session.hist.undo()
	return s, "Taken back: " + label(s.label) + ".", ok
}

func (r *root) redo() (step, string, bool) {
	s, ok := r.session.hist.redo()
	return s, "Made again: " + label(s.label) + ".", ok
}

// step walks through the documents. On the page where a change was made it goes to its place.
func (r *root) step(walk func() (step, string, bool), again bool) tea.Cmd {
	if r.session == nil {
		return nil
	}
	s, text, ok := walk()
	if !ok {
		r.said = page.Say{Text: "There is nothing further that way."}
		return nil
	}
	r.said = page.Say{Text: text}
	if s.where.page == r.at.page {
		r.at = s.where
	}
	cmd := r.changed()
	r.at.at = ""
	return tea.Batch(cmd, r.bringBack(s.kept, again))
}
