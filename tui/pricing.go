package tui

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/store"
	"example.org/roombrief/model/supply"
	"example.org/roombrief/tui/page"
)

// pricing is a supplier's list that is being looked over.
type pricing struct {
	gen   int // of what was asked last; an old answer is dropped
	known *page.Prices
}

// Messages that come back.
type (
	listRead struct {
		gen   int
		known page.Prices
	}
	listKept struct {
		gen   int
		count int
		kept  store.Kept
		err   error
	}
	broughtBack struct {
		session *session
		err     error
	}
)

// pricesKeptIn is the file for own prices, with the name that the project has to note for it, "" when it does already.
func (r *root) pricesKeptIn() (path, name string) {
	if path = store.PriceFile(r.session.file, r.session.project); path != "" {
		return path, ""
	}
	return filepath.Join(filepath.Dir(r.session.file), store.OwnPrices), store.OwnPrices
}

// readPrices reads a list off the thread. The list before stays in sight meanwhile, where it is the same file.
func (r *root) readPrices(a page.ReadPrices) tea.Cmd {
	if r.session == nil {
		return nil
	}
	x := &r.prices
	x.gen++
	busy := page.Prices{File: a.File, Busy: true}
	if x.known != nil && x.known.File == a.File {
		busy = *x.known
		busy.Busy, busy.Fault = true, nil
	}
	x.known = &busy
	keep, _ := r.pricesKeptIn()
	gen, money, today := x.gen, r.session.project.Home.Money(), model.Date{Time: r.o.Today()}
	r.show()
	return safely(func() tea.Msg {
		out := page.Prices{File: a.File, Keep: keep}
		var src []byte
		o := supply.Options{To: money, Supplier: supply.SupplierOf(a.File), Dated: today, Confirm: a.Confirm, Map: a.Map}
		for _, s := range a.Said {
			if out.Fault == nil {
				out.Fault = o.Say(s[0], s[1])
			}
		}
		if out.Fault != nil {
			return listRead{gen, out}
		}
		if o.Known, out.Fault = store.Prices(keep); errors.Is(out.Fault, fs.ErrNotExist) {
			out.Fault = nil
		}
		if out.Fault == nil {
			src, out.Fault = store.ReadList(fromHome(a.File))
		}
		if out.Fault == nil {
			out.Import = supply.ReadList(src, fixtures.Catalogue(), o)
			out.Form = out.Import.Form(a.File, o, today)
		}
		return listRead{gen, out}
	})
}

// fromHome is a path in which ~ is the user's own folder, as a shell has it.
func fromHome(path string) string {
	rest, ok := strings.CutPrefix(path, "~/")
	if dir, err := os.UserHomeDir(); ok && err == nil {
		return filepath.Join(dir, rest)
	}
	return path
}

func (r *root) takeListRead(m listRead) {
	if m.gen == r.prices.gen {
		r.prices.known = &m.known
		r.show()
	}
}

// keepPrices writes the prices that were taken among those that are kept already, off the thread.
func (r *root) keepPrices() tea.Cmd {
	x := &r.prices
	if r.session == nil || x.known == nil || x.known.Import == nil || x.known.Busy || r.refused() {
		return nil
	}
	x.gen++
	busy := *x.known
	busy.Busy, busy.Fault = true, nil
	x.known = &busy
	gen, prices, path, today := x.gen, busy.Import.Prices(), busy.Keep, r.o.Today()
	r.show()
	return safely(func() tea.Msg {
		kept, err := store.KeepPrices(path, prices, today)
		return listKept{gen, len(prices), kept, err}
	})
}

// takeListKept turns to the bill, which is planned with the prices; what could not be kept is said on the page.
func (r *root) takeListKept(m listKept) tea.Cmd {
	x := &r.prices
	if m.gen != x.gen || x.known == nil {
		return nil
	}
	if m.err != nil {
		failed := *x.known
		failed.Busy, failed.Fault = false, m.err
		x.known = &failed
		r.show()
		return nil
	}
	path, name := r.pricesKeptIn()
	st := step{label: "the prices of " + filepath.Base(x.known.File), kept: &m.kept}
	x.known = nil
	if r.at.page == page.Supply {
		r.turn(place{page: page.Bill}, false)
	}
	said := page.Say{Text: fmt.Sprintf("%s in %s; the bill is planned with them.", english.Count(m.count, "price is kept", "prices are kept"), filepath.Base(path))}
	if name == "" { // the file of the project stays as it is, and the step is taken back like any other
		st.doc, st.where = r.session.hist.now(), place{page: r.at.page, room: r.at.room}
		r.session.hist.push(st, false)
		r.said = said
		return r.changed()
	}
	doc, err := r.session.hist.now().Apply(projectfile.Set("choices/supply", projectfile.Quote(name)))
	if err != nil {
		r.said = page.Say{Text: fmt.Sprintf("The prices are in %s, but the home can't name them: %v", filepath.Base(path), err)}
		return nil
	}
	return r.change(doc, st, false, said)
}

// bringBack takes prices out of the file that they were kept in, or puts them in again, off the thread.
func (r *root) bringBack(kept *store.Kept, again bool) tea.Cmd {
	if kept == nil {
		return nil
	}
	s, today := r.session, r.o.Today()
	return safely(func() tea.Msg { return broughtBack{s, kept.Back(again, today)} })
}

// takeBroughtBack plans with the prices as they are now; what could not be brought back is said.
func (r *root) takeBroughtBack(m broughtBack) tea.Cmd {
	if r.session == nil || m.session != r.session {
		return nil
	}
	if m.err != nil {
		r.said = page.Say{Text: sentence(m.err.Error())}
		r.show()
	}
	return r.replan()
}
