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

	"pgregory.net/rapid"
)

func TestDraft(t *testing.T) {
	f, path := place(t, "old\n")
	if _, ok := f.Recover(); ok {
		t.Fatal("a draft out of nowhere")
	}
	if err := f.Keep([]byte("edited\n")); err != nil {
		t.Fatal(err)
	}
	d, ok := reopen(t, path).Recover()
	if !ok || string(d.Body) != "edited\n" || !d.At.Equal(noon) || d.Changed {
		t.Fatalf("%+v %v", d, ok)
	}
	put(t, path, "theirs\n")
	if d, ok := reopen(t, path).Recover(); !ok || !d.Changed {
		t.Errorf("%+v %v", d, ok)
	}
	put(t, path, "edited\n")
	if d, ok := reopen(t, path).Recover(); ok {
		t.Errorf("a draft that says what the file says: %+v", d)
	}
	put(t, path, "old\n")
	if err := f.Save([]byte("saved\n")); err != nil {
		t.Fatal(err)
	}
	if got := names(t, filepath.Dir(path)); len(got) != 1 {
		t.Errorf("after a save: %v", got)
	}
	if err := errors.Join(f.Keep([]byte("x\n")), f.Discard(), f.Discard()); err != nil {
		t.Fatal(err)
	}
	if _, ok := f.Recover(); ok {
		t.Error("a draft outlived Discard")
	}
}

func TestUnsavedWorkIsNotSavedOver(t *testing.T) {
	f, path := place(t, "old\n")
	if err := f.Settled(); err != nil {
		t.Error(err)
	}
	if err := f.Keep([]byte("edited\n")); err != nil {
		t.Fatal(err)
	}
	if err := reopen(t, path).Settled(); CodeOf(err) != Unsaved || !strings.Contains(err.Error(), "take or drop that work first") {
		t.Errorf("%v", err)
	}
	put(t, path, "edited\n")
	if err := reopen(t, path).Settled(); err != nil {
		t.Errorf("a draft that says what the file says: %v", err)
	}
}

func TestDraftIsAsPrivateAsTheFile(t *testing.T) {
	f, path := place(t, "old\n")
	if err := errors.Join(os.Chmod(path, 0o600), f.Keep([]byte("x\n"))); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(f.sidecars(".draft")[0])
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v %v", info.Mode(), err)
	}
}

func TestDraftElsewhere(t *testing.T) {
	for why, code := range map[syscall.Errno]Code{syscall.EACCES: ReadOnly, syscall.EROFS: ReadOnly, syscall.ENOSPC: Full, syscall.EDQUOT: Full} {
		draftElsewhere(t, why, code)
	}
}

func draftElsewhere(t *testing.T, why error, code Code) {
	t.Helper()
	f, path := place(t, "old\n")
	f.StateDir = filepath.Join(t.TempDir(), "state")
	f.disk = deniedIn{dir: filepath.Dir(path), why: why}
	if err := f.Keep([]byte("edited\n")); err != nil {
		t.Fatal(err)
	}
	g := reopen(t, path)
	if _, ok := g.Recover(); ok {
		t.Error("found without a state folder")
	}
	g.StateDir = f.StateDir
	if d, ok := g.Recover(); !ok || string(d.Body) != "edited\n" {
		t.Errorf("%+v %v", d, ok)
	}
	if got := names(t, filepath.Dir(path)); len(got) != 1 {
		t.Errorf("beside the file: %v", got)
	}
	f.StateDir = ""
	if err := f.Keep([]byte("edited\n")); CodeOf(err) != code {
		t.Errorf("nowhere to keep it: %v", err)
	}
}

// deniedIn is a disk with one folder that can't be written.
type deniedIn struct {
	realDisk
	dir string
	why error
}

func (d deniedIn) Create(path string) (sink, error) {
	if filepath.Dir(path) == d.dir {
		return nil, &fs.PathError{Op: "open", Path: path, Err: d.why}
	}
	return d.realDisk.Create(path)
}

func TestHalfADraftIsNone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body := rapid.SliceOf(rapid.Byte()).Draw(t, "body")
		packed := pack(body, []byte("base"), noon)
		d, base, ok := unpack(packed)
		if !ok || !bytes.Equal(d.Body, body) || base != sum([]byte("base")) || !d.At.Equal(noon) {
			t.Fatalf("%+v %v", d, ok)
		}
		cut := rapid.IntRange(0, len(packed)-1).Draw(t, "cut")
		if _, _, ok := unpack(packed[:cut]); ok {
			t.Fatalf("%d of %d bytes were taken for a draft", cut, len(packed))
		}
		flipped := bytes.Clone(packed)
		flipped[cut] ^= byte(1 << rapid.IntRange(0, 7).Draw(t, "bit"))
		if _, _, ok := unpack(flipped); ok {
			t.Fatalf("a draft with a wrong byte at %d was taken", cut)
		}
	})
}

func FuzzUnpack(f *testing.F) {
	f.Add(pack([]byte("a: 1\n"), nil, noon))
	f.Add([]byte(draftHead + "\nsum "))
	f.Fuzz(func(t *testing.T, b []byte) {
		if d, _, ok := unpack(b); ok && !bytes.Contains(b, d.Body) {
			t.Fatal("a body out of nowhere")
		}
	})
}

func TestRecent(t *testing.T) {
	dir, config := t.TempDir(), filepath.Join(t.TempDir(), "roombrief")
	if list, err := Recent(config); err != nil || len(list) != 0 {
		t.Fatal(list, err)
	}
	for i := range 25 {
		path := filepath.Join(dir, string(rune('a'+i))+"\t\n.yaml")
		if i != 22 {
			put(t, path, "x")
		}
		if err := AddRecent(config, path, noon.Add(time.Duration(i)*time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	if err := AddRecent(config, filepath.Join(dir, "x\t\n.yaml"), noon.Add(100*time.Hour)); err != nil {
		t.Fatal(err)
	}
	list, err := Recent(config)
	if err != nil || len(list) != mostRecent {
		t.Fatal(len(list), err)
	}
	if filepath.Base(list[0].Path) != "x\t\n.yaml" || filepath.Base(list[1].Path) != "y\t\n.yaml" {
		t.Errorf("%q, %q", list[0].Path, list[1].Path)
	}
	for _, r := range list {
		if r.Missing != strings.HasPrefix(filepath.Base(r.Path), "w") {
			t.Errorf("%q missing: %v", r.Path, r.Missing)
		}
	}
	if err := ForgetRecent(config, list[0].Path); err != nil {
		t.Fatal(err)
	}
	if again, _ := Recent(config); len(again) != mostRecent-1 || again[0].Path != list[1].Path {
		t.Errorf("%d, %q", len(again), again[0].Path)
	}
	put(t, filepath.Join(dir, "a file"), "")
	if err := AddRecent(filepath.Join(dir, "a file"), "x", noon); err == nil {
		t.Error("a list in a file")
	}
}

func TestDirs(t *testing.T) {
	env := func(k string) string { return map[string]string{"XDG_CONFIG_HOME": "/c", "XDG_STATE_HOME": "/s"}[k] }
	if dir, err := ConfigDir(env); err != nil || dir != filepath.Join("/c", "roombrief") {
		t.Error(dir, err)
	}
	if dir, err := StateDir(env); err != nil || dir != filepath.Join("/s", "roombrief") {
		t.Error(dir, err)
	}
	if dir, err := ConfigDir(func(string) string { return "relative" }); err == nil && !filepath.IsAbs(dir) {
		t.Error(dir)
	}
}
