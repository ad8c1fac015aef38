package tui

import (
	"context"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/theme"
)

// settle is how long after the last edit the file itself is written; a draft is kept at once.
const settle = time.Second

// again is how long after a failed save the next one is tried.
const again = 10 * time.Second

// root is the only tea.Model. It owns the document, the plan and the file; pages see snapshots of them.
type root struct {
	o     Options
	theme theme.Theme
	shelf *catalogue.Catalogue // nil until the first plan has come
	w, h  int
	frame layout.Frame

	session *session // nil until a file is open
	page    page.Page
	at      place
	trail   []place // where Esc goes back to
	over    overlay // in front of the page; nil when there is none
	said    page.Say

	plan      planning
	proof     proving
	mends     mending
	open      weighing
	trades    asked[bill.Trades]
	quote     asked[planner.Quote]
	prices    pricing
	papersTo  *string            // papers to write once the plan is ready
	quoteStop context.CancelFunc // of the quote that is on its way
	quitting  bool
	fault     error // a mistake of the program's own
	lastFault error // why the last save of all failed
	leaving   bool  // asked from outside: nobody is there to answer a question
	abandoned bool  // the user chose to leave with a draft only
	pages     map[page.ID]page.Page
}

// place is a page with what it speaks of.
type place struct {
	page page.ID
	room string
	at   string
}

// session is an opened file.
type session struct {
	disk     Disk
	file     string
	hist     history
	project  *model.Project
	readOnly string
	saver    saver
	gen      int // of edits; an old tick saves nothing
}

// Messages that come back from Cmds.
type (
	planned struct {
		gen   int
		plan  *planner.Plan
		rest  func() (bill.Bill, error) // gives the bill with its reasons
		shelf *catalogue.Catalogue
		err   error
	}
	reasoned struct {
		gen  int
		bill bill.Bill
		err  error
	}
	written struct {
		what write
		err  error
	}
	reckoned struct {
		from *projectfile.Document
		what page.Reckon
		doc  *projectfile.Document
		err  error
	}
	settled struct{ gen int }
	opened  struct {
		it  *Opened
		err error
	}
	exported struct {
		dir   string
		count int
		only  string // the one paper that came after the others; "" when all did
		err   error
	}
	leave struct{} // asked from outside: a signal
)

func newRoot(o Options, t theme.Theme) *root {
	return &root{o: o, theme: t, pages: map[page.ID]page.Page{}}
}

// Init starts nothing: what there is to plan was started when the file was opened.
func (r *root) Init() tea.Cmd {
	if r.session == nil {
		return nil
	}
	return tea.Batch(r.replan(), r.remember())
}

// remember puts the file on the list of recent ones. A list that can't be written is no reason to stop.
func (r *root) remember() tea.Cmd {
	disk := r.session.disk
	return func() tea.Msg {
		disk.Remember()
		return nil
	}
}

// Update passes a message to whom it belongs, in the order: window, results, keys.
func (r *root) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		r.resize(msg.Width, msg.Height)
		return r, nil
	case tea.KeyMsg:
		return r, r.typed(msg)
	case tea.MouseMsg:
		return r, r.mouse(msg)
	case planned:
		return r, r.takePlan(msg)
	case reasoned:
		r.takeReasoned(msg)
		return r, nil
	case proved:
		return r, r.takeProved(msg)
	case weighed:
		return r, r.takeWeighed(msg)
	case mended:
		r.takeMended(msg)
		return r, nil
	case found[bill.Trades]:
		r.trades.take(msg, r.plan.gen)
		r.show()
		return r, nil
	case found[planner.Quote]:
		r.quote.take(msg, r.plan.gen)
		r.show()
		return r, nil
	case listRead:
		r.takeListRead(msg)
		return r, nil
	case broughtBack:
		return r, r.takeBroughtBack(msg)
	case listKept:
		return r, r.takeListKept(msg)
	case written:
		return r, r.afterWrite(msg)
	case settled:
		if r.session != nil && msg.gen == r.session.gen && !r.session.saver.clean {
			return r, r.save()
		}
		return r, nil
	case reckoned:
		return r, r.takeReckoned(msg)
	case opened:
		return r, r.afterOpen(msg)
	case exported:
		r.afterExport(msg)
		return r, nil
	case later:
		return r, msg(r)
	case broken:
		return r, r.abort(msg)
	case leave:
		r.leaving = true
		return r, r.quit()
	}
	return r, nil
}

func (r *root) resize(w, h int) {
	r.w, r.h = w, h
	r.frame = layout.Window(w, h)
	if r.page != nil && !r.frame.TooSmall {
		r.page.SetSize(r.frame.Body.W, r.frame.Body.H)
	}
}

// turn shows a page; the one before is remembered for Esc.
func (r *root) turn(to place, remember bool) {
	p, have := r.pages[to.page]
	if !have {
		make, ok := makers[to.page]
		if !ok {
			return
		}
		p = make()
	}
	if remember && r.page != nil && r.at != to {
		r.trail = append(r.trail, r.at)
		if len(r.trail) > 50 {
			r.trail = r.trail[1:]
		}
	}
	r.pages[to.page] = p
	r.page, r.at = p, to
	if to.page == page.Story && to.at != "" {
		r.mends.promise = to.at
	}
	if !r.frame.TooSmall && r.frame.Body.W > 0 {
		p.SetSize(r.frame.Body.W, r.frame.Body.H)
	}
	r.show()
	r.at.at = ""
}

// show hands the page what is known now.
func (r *root) show() {
	if r.page != nil {
		r.page.Show(r.snapshot())
	}
}

func (r *root) snapshot() page.Snapshot {
	s := page.Snapshot{
		Catalogue: r.shelf, Theme: r.theme, Today: r.o.Today(), Room: r.at.room, At: r.at.at,
	}
	if r.session == nil {
		return s
	}
	s.Doc, s.Project, s.File = r.session.hist.now(), r.session.project, r.session.file
	s.Plan, s.PlanFault, s.Planning = r.plan.plan, r.plan.fault, r.plan.busy
	s.Proofs, s.Proving = r.proof.known, r.proof.busy
	s.Trades, s.Quote = r.trades.known, r.quote.known
	s.Prices = r.prices.known
	s.Mends, s.Faults = r.mends.known, r.proof.faults
	s.Open, s.Weighing = r.open.known, r.open.busy
	s.Units = units(s.Project)
	s.ReadOnly = r.session.readOnly
	s.CanUndo, s.CanRedo = r.session.hist.canUndo(), r.session.hist.canRedo()
	return s
}

// carry carries out what a page asked for.
func (r *root) carry(a page.Action) tea.Cmd {
	switch a := a.(type) {
	case nil, page.Pass:
		return nil
	case page.Several:
		var cmds []tea.Cmd
		for _, one := range a {
			cmds = append(cmds, r.carry(one))
		}
		return tea.Batch(cmds...)
	case page.Edit:
		return r.edit(a)
	case page.Replace:
		return r.change(a.Doc, step{label: a.Label, at: a.At}, false, a.Then)
	case page.Reckon:
		return r.reckon(a)
	case page.Goto:
		r.goTo(a)
		return tea.Batch(r.mend(), r.look(), r.answer())
	case page.Back:
		r.back()
		return tea.Batch(r.look(), r.answer())
	case page.ShowTrades:
		r.trades.wanted = true
		return r.answer()
	case page.ShowQuote:
		r.quote.wanted = true
		return r.answer()
	case page.ReadPrices:
		return r.readPrices(a)
	case page.KeepPrices:
		return r.keepPrices()
	case page.Faults:
		return r.showFaults()
	case page.Open:
		return r.openFile(a)
	case page.Undo:
		return r.step(r.undo, false)
	case page.Redo:
		return r.step(r.redo, true)
	case page.Quit:
		return r.quit()
	case page.Say:
		r.said = a
	case page.Export:
		return r.export(a.Dir)
	}
	return nil
}

func (r *root) goTo(a page.Goto) {
	to := place{page: a.Page, room: a.Room, at: a.At}
	switch to.room {
	case "":
		to.room = r.at.room
	case page.HomeItself:
		to.room = ""
	}
	r.turn(to, true)
}

// back goes to the page before; from the first page it stays.
func (r *root) back() {
	if n := len(r.trail); n > 0 {
		to := r.trail[n-1]
		r.trail = r.trail[:n-1]
		r.turn(to, false)
		return
	}
	if r.session != nil && r.at.page != page.Rooms {
		r.turn(place{page: page.Rooms, room: r.at.room}, false)
	}
}

// bindings are the keys that work now: the page's, then everywhere's.
func (r *root) bindings() []keys.Binding {
	var bs []keys.Binding
	if r.page != nil {
		bs = append(bs, r.page.Help()...)
	}
	mine := map[keys.Command]bool{}
	for _, b := range bs {
		mine[b.Do] = true
	}
	for _, b := range r.globals() {
		if !mine[b.Do] {
			bs = append(bs, b)
		}
	}
	return bs
}
