// Package store keeps project files on disk: reading them with clear refusals, saving them whole or not at
// all, a lock against two programs on one file, drafts that survive a crash, and the list of recent files.
// It is the only part of the model that does I/O; paths and the clock are handed in.
package store

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"
)

// Code says what kind of thing went wrong.
type Code string

const (
	Missing    Code = "missing"
	Folder     Code = "folder"
	NotAFile   Code = "not-a-file" // a device, a pipe, a socket
	Unreadable Code = "unreadable"
	TooLarge   Code = "too-large"
	NotText    Code = "not-text"
	ReadOnly   Code = "read-only"
	Full       Code = "disk-full"
	Elsewhere  Code = "changed-elsewhere"
	Locked     Code = "locked"
	Unsaved    Code = "unsaved" // work that an earlier run left behind
	Failed     Code = "failed"  // anything else that the system said
)

// ErrChangedElsewhere is in the chain of every refusal to save over a change that somebody else made.
var ErrChangedElsewhere = errors.New("changed by something else")

// ErrLocked is in the chain when another program has the file open.
var ErrLocked = errors.New("open in another program")

// Fault is a refusal, said in a sentence. errors.Is sees through it, so that fs.ErrNotExist,
// ErrChangedElsewhere and ErrLocked can be asked for.
type Fault struct {
	Code Code
	Path string
	Says string // what is the matter
	Hint string // what to do, "" when there is nothing to add
	Err  error  // what the system said, or one of the errors above
}

func (f *Fault) Error() string {
	text := f.Path + " " + f.Says
	if f.Hint != "" {
		text += "; " + f.Hint
	}
	return text
}

func (f *Fault) Unwrap() error { return f.Err }

// CodeOf is the code of the fault in an error's chain, Failed when there is none.
func CodeOf(err error) Code {
	var f *Fault
	if errors.As(err, &f) {
		return f.Code
	}
	return Failed
}

// readFault says why a path can't be read.
func readFault(path string, err error) error {
	var f *Fault
	switch {
	case errors.As(err, &f):
		return err
	case errors.Is(err, fs.ErrNotExist):
		return &Fault{Missing, path, "doesn't exist", "look at the name and the folder", err}
	case errors.Is(err, syscall.ENOTDIR):
		return &Fault{Missing, path, "doesn't exist: a part of the path is no folder", "look at the name", fs.ErrNotExist}
	case errors.Is(err, fs.ErrPermission):
		return &Fault{Unreadable, path, "may not be read by you", "ask its owner, or change its permissions", err}
	case errors.Is(err, syscall.ELOOP):
		return &Fault{Unreadable, path, "is a link that leads back to itself", "", err}
	case errors.Is(err, syscall.ENAMETOOLONG):
		return &Fault{Missing, path, "has a longer name than this disk allows", "", err}
	}
	return &Fault{Failed, path, "couldn't be read: " + plainly(err), "", err}
}

// writeFault says why a path couldn't be written; what was there is untouched.
func writeFault(path string, err error) error {
	var f *Fault
	switch {
	case errors.As(err, &f):
		return err
	case isFull(err):
		return &Fault{Full, path, "was not saved: the disk is full", "what was saved before is untouched; make room and save again", err}
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return &Fault{ReadOnly, path, "can't be saved: its folder can't be written", "save under another name, or change the folder's permissions", err}
	case errors.Is(err, fs.ErrNotExist):
		return &Fault{Missing, path, "was not saved: its folder doesn't exist", "make the folder first", err}
	}
	return &Fault{Failed, path, "was not saved: " + plainly(err), "what was saved before is untouched", err}
}

// plainly is what the system said, without the call and the path that Go puts before it.
func plainly(err error) string {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	return err.Error()
}

// inBytes is a size for people.
func inBytes(n int64) string {
	if n >= 1<<20 {
		return fmt.Sprintf("%.1f MiB", float64(n)/(1<<20))
	}
	if n >= 1<<10 {
		return fmt.Sprintf("%.1f KiB", float64(n)/(1<<10))
	}
	return fmt.Sprintf("%d bytes", n)
}
