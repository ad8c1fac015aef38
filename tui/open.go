package tui

import (
	"context"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/page"
)

// units is the system that a home is shown in.
func units(p *model.Project) q.System {
	if p != nil && p.Home.Units == "us" {
		return q.US
	}
	return q.Metric
}

// openFile opens in a Cmd what the start page asked for.
func (r *root) openFile(a page.Open) tea.Cmd {
	open := r.o.open
	return func() tea.Msg {
		it, err := open(a.File, a.Create, a.Source)
		return opened{it, err}
	}
}

// afterOpen begins a session on the opened file.
func (r *root) afterOpen(m opened) tea.Cmd {
	if m.err != nil {
		r.said = page.Say{Text: sentence(m.err.Error())}
		return nil
	}
	if err := r.begin(m.it); err != nil {
		m.it.Disk.Close()
		r.over = badFile(err)
		return nil
	}
	return tea.Batch(r.replan(), r.remember())
}

// BadFile is a file with mistakes, which cannot be edited until they are put right.
type BadFile struct {
	File     string
	Problems []projectfile.Problem
}

// Error lists every problem, a line each.
func (e *BadFile) Error() string {
	text := e.File + " has mistakes that have to be put right in an editor first:"
	for _, p := range e.Problems {
		text += fmt.Sprintf("\n  %s", p.Error())
	}
	return text
}

func badFile(err error) overlay {
	a := &ask{
		head:   "This file cannot be opened yet",
		picks:  []pick{{key: "enter", text: "back", do: func(*root) tea.Cmd { return nil }}},
		escape: func(*root) tea.Cmd { return nil },
	}
	bad, ok := err.(*BadFile)
	if !ok {
		a.text = []string{sentence(err.Error())}
		return a
	}
	a.text = []string{bad.File + " has mistakes. Put them right in an editor, or see them all with: roombrief check " + bad.File}
	for _, p := range bad.Problems {
		a.long = append(a.long, p.Error())
	}
	return a
}

// begin makes an opened file the session and turns to its first page. A draft of an earlier run is offered
// first.
func (r *root) begin(it *Opened) error {
	doc := projectfile.Parse(it.Source)
	if !doc.OK() {
		return &BadFile{File: it.File, Problems: doc.Problems()}
	}
	r.session = &session{
		disk: it.Disk, file: it.File, hist: begin(doc), project: doc.Project(),
		readOnly: it.ReadOnly, saver: saver{clean: true},
	}
	r.forget()
	r.turn(r.firstPlace(), false)
	switch {
	case it.ReadOnly != "":
		r.over = readOnly(it.ReadOnly)
	case it.Note != "":
		r.said = page.Say{Text: sentence(it.Note)}
	case len(doc.Problems()) > 0:
		r.said = page.Say{Text: doc.Problems()[0].Error()}
	}
	if it.Draft != nil && string(it.Draft) != string(it.Source) {
		r.over = r.recovery(it)
	}
	return nil
}

// forget stops the work on the home that was open before and drops what is known of it. Generations go on, so that nothing late is
// taken for the home that follows.
func (r *root) forget() {
	for _, stop := range []context.CancelFunc{r.plan.cancel, r.quoteStop} {
		if stop != nil {
			stop()
		}
	}
	r.proof.stop()
	r.mends.stop()
	r.open.stop()
	r.trades.stop()
	r.quote.stop()
	r.plan, r.papersTo, r.quoteStop = planning{gen: r.plan.gen + 1}, nil, nil
	r.proof, r.open = proving{gen: r.proof.gen}, weighing{gen: r.open.gen}
	r.mends, r.trades, r.quote = mending{}, asked[bill.Trades]{}, asked[planner.Quote]{}
	r.prices = pricing{gen: r.prices.gen + 1}
	r.pages, r.trail = map[page.ID]page.Page{}, nil
}

// firstPlace is where a file opens: the interview when it was asked for or nothing is there yet.
func (r *root) firstPlace() place {
	p := r.session.project
	switch {
	case r.o.Interview && r.o.Room != "":
		return place{page: page.Talk, room: r.o.Room}
	case r.o.Interview:
		return place{page: page.Talk, room: r.unasked()}
	case len(p.Rooms) == 0:
		return place{page: page.Talk}
	}
	at := place{page: page.Rooms, room: r.o.Room}
	if at.room == "" {
		at.room = p.Rooms[0].ID
	}
	return at
}

// readOnly says why nothing can be changed, once and in full.
func readOnly(why string) overlay {
	on := func(*root) tea.Cmd { return nil }
	return &ask{
		head:   "For reading only",
		text:   []string{sentence(why), "Everything can be looked at; nothing can be changed."},
		picks:  []pick{{key: "enter", text: "go on", do: on}},
		escape: on,
	}
}

// unasked is the first room that has a question open, "" being the home itself.
func (r *root) unasked() string {
	doc := r.session.hist.now()
	if _, open := interview.Next(doc, ""); open {
		return ""
	}
	rooms := r.session.project.Rooms
	for _, one := range rooms {
		if _, open := interview.Next(doc, one.ID); open {
			return one.ID
		}
	}
	if len(rooms) > 0 {
		return rooms[0].ID
	}
	return ""
}

// recovery offers the draft of a run that did not end well.
func (r *root) recovery(it *Opened) overlay {
	when := ""
	if it.DraftAt != "" {
		when = ", last at " + it.DraftAt
	}
	text := "Edits were made to " + it.File + when + ", and the program ended before they were saved."
	if it.DraftOld {
		text += " The file has been changed by something else since; taking the unsaved work leaves those changes out."
	}
	a := &ask{head: "There is unsaved work", text: []string{text}}
	draft := projectfile.Parse(it.Draft)
	if draft.OK() {
		a.picks = append(a.picks, pick{key: "t", text: "take it", note: "Undo goes back to the saved file.",
			do: func(r *root) tea.Cmd {
				cmd := r.change(draft, step{label: "taking the unsaved work"}, false, nil)
				r.pages = map[page.ID]page.Page{} // what was in front is answered perhaps
				r.turn(r.firstPlace(), false)
				return tea.Batch(cmd, r.save())
			}})
	} else {
		a.text = append(a.text, "What is left of them is not whole, so that it can be looked at but not taken.")
	}
	a.picks = append(a.picks,
		pick{key: "d", text: "look at the difference", note: "Minus is the saved file, plus is the unsaved work.",
			do: func(r *root) tea.Cmd {
				a.long = diff(r.theme, string(it.Source), string(it.Draft))
				r.over = a
				return nil
			}},
		pick{key: "l", text: "leave it", note: "The notebook opens as it was saved. The unsaved work is kept in a file of its own.",
			do: func(r *root) tea.Cmd { return r.putAside(it) }})
	return a
}

// putAside keeps a draft in a file of its own, so that leaving it loses nothing.
func (r *root) putAside(it *Opened) tea.Cmd {
	return func() tea.Msg {
		kept, err := it.Disk.Aside(it.Draft)
		if err == nil {
			err = it.Disk.Discard()
		}
		return later(func(r *root) tea.Cmd {
			r.said = page.Say{Text: "The unsaved work is kept as " + kept + "."}
			if err != nil {
				r.said = page.Say{Text: sentence(err.Error())}
			}
			return nil
		})
	}
}
