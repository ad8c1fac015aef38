package store

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

var noon = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

// place makes a file and opens it.
func place(t *testing.T, body string) (*File, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "home.yaml")
	put(t, path, body)
	return reopen(t, path), path
}

func reopen(t *testing.T, path string) *File {
	t.Helper()
	f, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	f.Clock = func() time.Time { return noon }
	return f
}

func put(t *testing.T, path, body string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(body), 0o644); err != nil {
		t.Fatal(err)
	}
}

func holds(t *testing.T, path, want string) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil || string(got) != want {
		t.Errorf("%s holds %q (%v), want %q", path, got, err, want)
	}
}

// names are all files of a folder.
func names(t *testing.T, dir string) []string {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range list {
		out = append(out, e.Name())
	}
	return out
}

func TestOpenRefuses(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	put(t, at("large"), strings.Repeat("#", MostBytes+1))
	put(t, at("binary"), "a: 1\x00")
	put(t, at("wide"), "\xff\xfea\x00")
	put(t, at("plain"), "a: 1\n")
	if err := os.Symlink("loop", at("loop")); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		path string
		code Code
		says string
	}{
		{at("none"), Missing, "doesn't exist"},
		{at("plain/x"), Missing, "no folder"},
		{at(strings.Repeat("x", 300)), Missing, "longer name"},
		{dir, Folder, "is a folder"},
		{"/dev/null", NotAFile, "is a device"},
		{at("loop"), Unreadable, "leads back to itself"},
		{at("large"), TooLarge, "has 4.0 MiB, and 4.0 MiB is the most"},
		{at("binary"), NotText, "not a text file"},
		{at("wide"), NotText, "UTF-16"},
	} {
		_, err := Open(c.path)
		if err == nil || CodeOf(err) != c.code || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), c.path) {
			t.Errorf("%s: %v (%s)", c.path, err, CodeOf(err))
		}
	}
	if _, err := Open(at("none")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a missing file can't be told: %v", err)
	}
}

func TestSave(t *testing.T) {
	f, path := place(t, "old\n")
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := f.Save([]byte("new\n")); err != nil {
		t.Fatal(err)
	}
	holds(t, path, "new\n")
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o640 {
		t.Errorf("mode is %v", info.Mode())
	}
	if got := names(t, filepath.Dir(path)); len(got) != 1 {
		t.Errorf("left behind: %v", got)
	}
	before, _ := os.Stat(path)
	if err := f.Save([]byte("new\n")); err != nil {
		t.Fatal(err)
	}
	if after, _ := os.Stat(path); !os.SameFile(before, after) {
		t.Error("saving the same again wrote the file again")
	}
}

func TestSaveFollowsLinks(t *testing.T) {
	_, path := place(t, "old\n")
	link := filepath.Join(t.TempDir(), "link.yaml")
	if err := os.Symlink(path, link); err != nil {
		t.Fatal(err)
	}
	if err := reopen(t, link).Save([]byte("new\n")); err != nil {
		t.Fatal(err)
	}
	holds(t, path, "new\n")
	if to, err := os.Readlink(link); err != nil || to != path {
		t.Errorf("the link is gone: %v", err)
	}
	if got := names(t, filepath.Dir(link)); len(got) != 1 {
		t.Errorf("beside the link: %v", got)
	}
	// A link to a file that isn't there yet.
	free := filepath.Join(t.TempDir(), "free.yaml")
	if err := os.Symlink("made.yaml", free); err != nil {
		t.Fatal(err)
	}
	f, err := New(free)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Save([]byte("x\n")); err != nil {
		t.Fatal(err)
	}
	holds(t, filepath.Join(filepath.Dir(free), "made.yaml"), "x\n")
}

func TestNew(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "home.yaml")
	f, err := New(path)
	if err != nil || f.Exists() {
		t.Fatal(err)
	}
	put(t, path, "theirs\n")
	if err := f.Save([]byte("mine\n")); !errors.Is(err, ErrChangedElsewhere) {
		t.Errorf("saved over a file that appeared: %v", err)
	}
	holds(t, path, "theirs\n")
	if _, err := New(path); !errors.Is(err, fs.ErrExist) {
		t.Errorf("New on an existing file: %v", err)
	}
	if _, err := New(filepath.Join(dir, "no", "home.yaml")); CodeOf(err) != Missing {
		t.Errorf("New in no folder: %v", err)
	}
	f, err = New(filepath.Join(dir, "other.yaml"))
	if err == nil {
		err = f.Save([]byte("mine\n"))
	}
	if err != nil || !f.Exists() {
		t.Fatal(err)
	}
	holds(t, filepath.Join(dir, "other.yaml"), "mine\n")
}

func TestForeignChange(t *testing.T) {
	f, path := place(t, "old\n")
	put(t, path, "theirs\n")
	err := f.Save([]byte("mine\n"))
	if !errors.Is(err, ErrChangedElsewhere) || CodeOf(err) != Elsewhere {
		t.Fatalf("saved over a foreign change: %v", err)
	}
	holds(t, path, "theirs\n")
	if err := f.Save([]byte("old\n")); !errors.Is(err, ErrChangedElsewhere) {
		t.Errorf("what was opened counts as saved: %v", err)
	}
	aside, err := f.SaveAside([]byte("mine\n"))
	if err != nil || filepath.Base(aside) != "home.conflict-20260302-120000.yaml" {
		t.Fatalf("%s %v", aside, err)
	}
	holds(t, aside, "mine\n")
	kept, err := f.Overwrite([]byte("mine\n"))
	if err != nil || filepath.Base(kept) != "home.conflict-20260302-120000-2.yaml" {
		t.Fatalf("%s %v", kept, err)
	}
	holds(t, kept, "theirs\n")
	holds(t, path, "mine\n")
	if err := f.Save([]byte("more\n")); err != nil {
		t.Errorf("after overwriting: %v", err)
	}
	put(t, path, "theirs again\n")
	if got, err := f.Read(); err != nil || string(got) != "theirs again\n" {
		t.Fatalf("%q %v", got, err)
	}
	if err := f.Save([]byte("mine again\n")); err != nil {
		t.Errorf("after taking theirs: %v", err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := f.Save([]byte("x\n")); !errors.Is(err, ErrChangedElsewhere) {
		t.Errorf("a removed file came back by itself: %v", err)
	}
	if kept, err := f.Overwrite([]byte("x\n")); err != nil || kept != "" {
		t.Errorf("%q %v", kept, err)
	}
	holds(t, path, "x\n")
}

func TestReadOnly(t *testing.T) {
	f, path := place(t, "old\n")
	if err := f.Writable(); err != nil {
		t.Error(err)
	}
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	for what, err := range map[string]error{"Save": f.Save([]byte("new\n")), "Writable": f.Writable(), "WriteWhole": WriteWhole(path, nil)} {
		if CodeOf(err) != ReadOnly || !strings.Contains(err.Error(), "read-only") {
			t.Errorf("%s: %v", what, err)
		}
	}
	holds(t, path, "old\n")
}

// failing is a disk that fails at one step.
type failing struct {
	realDisk
	at  string
	err error
}

func (d failing) fail(at string) error {
	if d.at == at {
		return d.err
	}
	return nil
}

func (d failing) Create(path string) (sink, error) {
	if err := d.fail("create"); err != nil {
		return nil, &fs.PathError{Op: "open", Path: path, Err: err}
	}
	s, err := d.realDisk.Create(path)
	return failingSink{s, d}, err
}

func (d failing) Chmod(path string, mode fs.FileMode) error {
	return errors.Join(d.fail("chmod"), d.realDisk.Chmod(path, mode))
}

func (d failing) Rename(from, to string) error {
	if err := d.fail("rename"); err != nil {
		return err
	}
	return d.realDisk.Rename(from, to)
}

func (d failing) SyncFolder(path string) error { return d.fail("folder") }

type failingSink struct {
	sink
	d failing
}

func (s failingSink) Write(b []byte) (int, error) {
	if err := s.d.fail("write"); err != nil {
		n, _ := s.sink.Write(b[:len(b)/2])
		return n, err
	}
	return s.sink.Write(b)
}
func (s failingSink) Sync() error  { return errors.Join(s.d.fail("sync"), s.sink.Sync()) }
func (s failingSink) Close() error { return errors.Join(s.d.fail("close"), s.sink.Close()) }

func TestNothingIsHalfWritten(t *testing.T) {
	for _, step := range []string{"create", "write", "sync", "close", "chmod", "rename"} {
		for _, c := range []struct {
			err  error
			code Code
			says string
		}{
			{syscall.ENOSPC, Full, "the disk is full"},
			{syscall.EDQUOT, Full, "the disk is full"},
			{syscall.EACCES, ReadOnly, "can't be written"},
			{syscall.EROFS, ReadOnly, "can't be written"},
			{syscall.EIO, Failed, "input/output error"},
		} {
			f, path := place(t, "old\n")
			f.disk = failing{at: step, err: c.err}
			err := f.Save([]byte("new text\n"))
			if CodeOf(err) != c.code || !strings.Contains(err.Error(), c.says) || !errors.Is(err, c.err) {
				t.Errorf("%s: %v: %v", step, c.err, err)
			}
			holds(t, path, "old\n")
			if got := names(t, filepath.Dir(path)); len(got) != 1 {
				t.Errorf("%s: left behind: %v", step, got)
			}
			f.disk = realDisk{}
			if err := f.Save([]byte("new text\n")); err != nil {
				t.Errorf("%s: trying again: %v", step, err)
			}
		}
	}
	f, path := place(t, "old\n")
	f.disk = failing{at: "folder", err: syscall.EIO}
	if err := f.Save([]byte("new\n")); err != nil {
		t.Errorf("a folder that can't be synced: %v", err)
	}
	holds(t, path, "new\n")
}

func BenchmarkSave(b *testing.B) {
	path := filepath.Join(b.TempDir(), "home.yaml")
	f, err := New(path)
	if err != nil {
		b.Fatal(err)
	}
	body := bytes.Repeat([]byte("a: 1\n"), 10_000)
	for i := 0; i < b.N; i++ {
		body[0] = byte('a' + i%20)
		if err := f.Save(body); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkKeep(b *testing.B) {
	path := filepath.Join(b.TempDir(), "home.yaml")
	f, err := New(path)
	if err != nil {
		b.Fatal(err)
	}
	body := bytes.Repeat([]byte("a: 1\n"), 10_000)
	for i := 0; i < b.N; i++ {
		if err := f.Keep(body); err != nil {
			b.Fatal(err)
		}
	}
}
