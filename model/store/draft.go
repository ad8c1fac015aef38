package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"time"
)

// Draft is unsaved work that an earlier run left behind.
type Draft struct {
	Body    []byte
	At      time.Time // when it was kept
	Changed bool      // the file was changed by something else after the draft was begun
}

const draftHead = "roombrief draft 1"

// Keep writes a draft of body: what is edited but not saved yet. It is whole or not there, like a save.
func (f *File) Keep(body []byte) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	packed := pack(body, f.body, f.now())
	var last error
	for i, path := range f.sidecars(".draft") {
		if i > 0 {
			if err := os.MkdirAll(f.StateDir, 0o700); err != nil {
				return writeFault(path, err)
			}
		}
		last = writeWhole(f.disk, path, f.target, packed, nil)
		if !isDenied(last) && !isFull(last) {
			break
		}
	}
	if last != nil {
		return writeFault(f.path, last)
	}
	return nil
}

// Recover is the draft of an earlier run, if there is one that is whole and differs from the file.
func (f *File) Recover() (Draft, bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	var best Draft
	found := false
	for _, path := range f.sidecars(".draft") {
		body, err := os.ReadFile(path)
		if err != nil {
			continue
		}
		d, base, ok := unpack(body)
		if !ok || f.made && bytes.Equal(d.Body, f.body) || found && !d.At.After(best.At) {
			continue
		}
		d.Changed = base != sum(f.body)
		best, found = d, true
	}
	return best, found
}

// Settled refuses a file with a draft that Recover would offer: a program that offers no drafts would take it away with its first save.
func (f *File) Settled() error {
	d, ok := f.Recover()
	if !ok {
		return nil
	}
	return &Fault{Unsaved, f.path, "has unsaved work of " + d.At.Local().Format("2 January 2006, 15:04") + " that a save would take away",
		"open it with roombrief " + f.path + " and take or drop that work first", nil}
}

// Discard takes the draft away.
func (f *File) Discard() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.discard()
}

func (f *File) discard() error {
	for _, path := range f.sidecars(".draft") {
		if err := f.disk.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) && !isDenied(err) {
			return writeFault(path, err)
		}
	}
	return nil
}

func sum(b []byte) string {
	s := sha256.Sum256(b)
	return hex.EncodeToString(s[:])
}

// pack is a draft as it is written: a head whose checksum covers all the rest.
func pack(body, base []byte, at time.Time) []byte {
	rest := fmt.Sprintf("base %s\nat %s\n\n%s", sum(base), at.UTC().Format(time.RFC3339Nano), body)
	return []byte(draftHead + "\nsum " + sum([]byte(rest)) + "\n" + rest)
}

// unpack refuses anything that isn't exactly what pack wrote.
func unpack(b []byte) (d Draft, base string, ok bool) {
	rest, ok := strings.CutPrefix(string(b), draftHead+"\nsum ")
	if !ok {
		return d, "", false
	}
	want, rest, ok := strings.Cut(rest, "\n")
	if !ok || want != sum([]byte(rest)) {
		return d, "", false
	}
	head, body, ok := strings.Cut(rest, "\n\n")
	if !ok {
		return d, "", false
	}
	baseLine, atLine, ok := strings.Cut(head, "\n")
	if !ok {
		return d, "", false
	}
	at, err := time.Parse(time.RFC3339Nano, strings.TrimPrefix(atLine, "at "))
	if err != nil {
		return d, "", false
	}
	return Draft{Body: []byte(body), At: at}, strings.TrimPrefix(baseLine, "base "), true
}
