package tui

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/store"
	"example.org/roombrief/planner/papers"
	"example.org/roombrief/tui/start"
)

// stored is a file on disk as the root sees it.
type stored struct {
	*store.File
	config string // where the list of recent files is, "" for nowhere
}

// Remember puts the file on the list of recent ones. A list that can't be written is no reason to stop.
func (s stored) Remember() {
	if s.config != "" {
		_ = store.AddRecent(s.config, s.Path(), time.Now())
	}
}

// Save says in the root's own words that somebody else changed the file.
func (s stored) Save(body []byte) error {
	err := s.File.Save(body)
	if errors.Is(err, store.ErrChangedElsewhere) {
		return fmt.Errorf("%w: %w", ErrElsewhere, err)
	}
	return err
}

// Aside keeps a body beside the file under a name of its own.
func (s stored) Aside(body []byte) (string, error) {
	kept, err := s.SaveAside(body)
	return filepath.Base(kept), err
}

// Overwrite answers the name of the version that was kept; it lies in the same folder.
func (s stored) Overwrite(body []byte) (string, error) {
	kept, err := s.File.Overwrite(body)
	if kept != "" {
		kept = filepath.Base(kept)
	}
	return kept, err
}

// Peek reads the file again without taking that as what was opened.
func (s stored) Peek() ([]byte, error) {
	f, err := store.Open(s.Path())
	if err != nil {
		return nil, err
	}
	return f.Bytes(), nil
}

// openStored opens a file, with the draft of an earlier run if there is one. With create it makes a file
// that isn't there, from source or as a new home.
func (o Options) openStored(file string, create bool, source []byte) (*Opened, error) {
	f, err := store.Open(file)
	fresh := false
	if create && errors.Is(err, fs.ErrNotExist) {
		f, err = store.New(file)
		fresh = true
	}
	if err != nil {
		return nil, err
	}
	f.Clock = time.Now
	if dir, err := store.StateDir(o.Env); err == nil {
		f.StateDir = dir
	}
	config, err := store.ConfigDir(o.Env)
	if err != nil {
		config = ""
	}
	it := &Opened{Disk: stored{f, config}, File: file}
	if fresh {
		if source == nil {
			source = projectfile.Starter(start.HomeName(file))
		}
		if err := f.Save(source); err != nil {
			return nil, err
		}
	}
	it.Source = f.Bytes()
	o.reserve(f, it)
	return it, nil
}

// reserve locks the file and looks for unsaved work; a file that can't be locked or written is read only.
func (o Options) reserve(f *store.File, it *Opened) {
	err := f.Lock()
	if err == nil {
		err = f.Writable()
	}
	if err != nil {
		it.ReadOnly = err.Error()
		return
	}
	if d, ok := f.Recover(); ok {
		it.Draft = d.Body
		it.DraftAt = d.At.Local().Format("2 January 2006, 15:04")
		it.DraftOld = d.Changed
	}
}

// recentProjects are offered at most so many.
const recentProjects = 4

// storedOffers is what the start page offers: lately opened files that are still there, and the example homes.
func (o Options) storedOffers() start.Options {
	out := start.Options{Taken: taken, Short: short}
	if dir, err := store.ConfigDir(o.Env); err == nil {
		list, _ := store.Recent(dir) // without a list there is nothing to offer
		for _, r := range list {
			if !r.Missing && len(out.Recent) < recentProjects {
				out.Recent = append(out.Recent, start.Recent{File: r.Path, When: ago(o.Today(), r.Opened)})
			}
		}
	}
	for _, h := range fixtures.Homes() {
		out.Examples = append(out.Examples, start.Example{File: h.File, Name: h.Name, About: h.About, Source: h.Source})
	}
	return out
}

func taken(file string) bool {
	_, err := os.Lstat(file)
	return err == nil
}

// short is a path from here, or from home, where that is shorter.
func short(file string) string {
	best := file
	if here, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(here, file); err == nil && len(rel) < len(best) && !strings.HasPrefix(rel, "..") {
			best = rel
		}
	}
	if home, err := os.UserHomeDir(); err == nil && best == file {
		if rel, err := filepath.Rel(home, file); err == nil && !strings.HasPrefix(rel, "..") {
			best = filepath.Join("~", rel)
		}
	}
	return best
}

// ago says when something was, as people do.
func ago(now, then time.Time) string {
	day := func(t time.Time) time.Time {
		y, m, d := t.Local().Date()
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	}
	switch days := int(day(now).Sub(day(then)).Hours() / 24); {
	case days <= 0:
		return "today, " + then.Local().Format("15:04")
	case days == 1:
		return "yesterday"
	case days < 7:
		return fmt.Sprintf("%d days ago", days)
	}
	return then.Local().Format("2 January 2006")
}

// writePapers puts the papers into a folder, each whole or not at all.
func writePapers(dir string, all []papers.Paper) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("the folder %s can't be made: %w", dir, err)
	}
	for _, p := range all {
		if err := store.WriteWhole(filepath.Join(dir, p.Name), p.Body); err != nil {
			return err
		}
	}
	return nil
}
