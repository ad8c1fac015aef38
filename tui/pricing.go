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
		err   error
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
	return safely(func() tea.Msg { return listKept{gen, len(prices), store.KeepPrices(path, prices, today)} })
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
	x.known = nil
	if r.at.page == page.Supply {
		r.turn(place{page: page.Bill}, false)
	}
	said := page.Say{Text: fmt.Sprintf("%s in %s; the bill is planned with them.", english.Count(m.count, "price is kept", "prices are kept"), filepath.Base(path))}
	if name != "" {
		return r.edit(page.Edit{Edits: []projectfile.Edit{projectfile.Set("choices/supply", projectfile.Quote(name))}, Label: "use of own prices", Then: said})
	}
	r.said = said
	return r.replan()
}
