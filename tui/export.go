package tui

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/papers"
	"example.org/roombrief/tui/page"
)

// export writes the papers into a folder off the screen's thread.
func (r *root) export(dir string) tea.Cmd {
	if r.session == nil {
		return nil
	}
	if r.plan.busy { // the papers follow what is on the screen, not what was
		r.papersTo = &dir
		return nil
	}
	if r.plan.plan == nil {
		return nil
	}
	if dir == "" {
		dir = strings.TrimSuffix(r.session.file, filepath.Ext(r.session.file)) + "-papers"
	}
	p, shelf, plan := r.session.project, r.shelf, *r.plan.plan
	o := papers.Options{Today: model.Date{Time: r.o.Today()}, Program: r.o.Program}
	if !r.open.busy {
		o.Open = r.open.known
	}
	only := ""
	switch {
	case !r.proof.told():
		r.proof.papersTo = &dir // the paper of the promises follows when they are proved
	default:
		o.Proved = r.provedRooms()
		if r.proof.papersTo != nil {
			only, r.proof.papersTo = papers.Promises, nil
		}
	}
	put := r.o.writePapers
	var quote tea.Cmd
	if only == "" {
		quote = r.quotePaper(dir, p, shelf, plan, o)
	}
	return tea.Batch(quote, safely(func() tea.Msg {
		all, err := papers.All(p, shelf, plan, o)
		if only != "" {
			all = slices.DeleteFunc(all, func(x papers.Paper) bool { return !papers.OfPromises(x.Name) })
		}
		if err == nil {
			err = put(dir, all)
		}
		return exported{dir: dir, count: len(all), only: only, err: err}
	}))
}

// quotePaper plans the options of the quote and writes its paper after the others, which don't wait for it. Papers that are asked for again
// end the planning for those before.
func (r *root) quotePaper(dir string, p *model.Project, shelf *catalogue.Catalogue, plan planner.Plan, o papers.Options) tea.Cmd {
	if r.quoteStop != nil {
		r.quoteStop()
	}
	ctx, cancel := context.WithCancel(context.Background())
	r.quoteStop = cancel
	put := r.o.writePapers
	return safely(func() tea.Msg {
		defer cancel()
		q, err := planner.MakeQuote(ctx, p, shelf, plan.Bill)
		if ctx.Err() != nil {
			return nil
		}
		o.Quote, o.Proved, o.Open = &q, nil, nil
		var all []papers.Paper
		if err == nil {
			all, err = papers.All(p, shelf, plan, o)
		}
		if err == nil {
			err = put(dir, slices.DeleteFunc(all, func(x papers.Paper) bool { return x.Name != papers.QuoteName }))
		}
		return exported{dir: dir, count: 1, only: papers.QuoteName, err: err}
	})
}

func (r *root) afterExport(m exported) {
	if m.err != nil {
		r.said = page.Say{Text: "The papers were not written: " + sentence(m.err.Error()), Alarm: true}
		return
	}
	r.said = page.Say{Text: fmt.Sprintf("%d papers are in %s.", m.count, m.dir)}
	switch m.only {
	case papers.QuoteName:
		r.said.Text = fmt.Sprintf("%s is in %s too: its options are planned.", m.only, m.dir)
	case papers.Promises:
		r.said.Text = fmt.Sprintf("%s is in %s too: all is proved.", m.only, m.dir)
	}
}
