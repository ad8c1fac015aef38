package tui

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
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
	return safely(func() tea.Msg {
		all, err := papers.All(p, shelf, plan, o)
		if only != "" {
			all = slices.DeleteFunc(all, func(x papers.Paper) bool { return x.Name != only })
		}
		if err == nil {
			err = put(dir, all)
		}
		return exported{dir: dir, count: len(all), only: only, err: err}
	})
}

func (r *root) afterExport(m exported) {
	if m.err != nil {
		r.said = page.Say{Text: "The papers were not written: " + sentence(m.err.Error()), Alarm: true}
		return
	}
	r.said = page.Say{Text: fmt.Sprintf("%d papers are in %s.", m.count, m.dir)}
	if m.only != "" {
		r.said.Text = fmt.Sprintf("The promises are proved; %s is in %s too.", m.only, m.dir)
	}
}
