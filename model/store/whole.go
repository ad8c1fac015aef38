package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// disk is what writing needs of the system; tests put one in that fails.
type disk interface {
	Create(path string) (sink, error) // fails when the path exists
	Chmod(path string, mode fs.FileMode) error
	Rename(from, to string) error
	Remove(path string) error
	SyncFolder(path string) error
}

type sink interface {
	io.WriteCloser
	Sync() error
}

type realDisk struct{}

func (realDisk) Create(path string) (sink, error) {
	return os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
}
func (realDisk) Chmod(path string, mode fs.FileMode) error { return os.Chmod(path, mode) }
func (realDisk) Rename(from, to string) error              { return os.Rename(from, to) }
func (realDisk) Remove(path string) error                  { return os.Remove(path) }
func (realDisk) SyncFolder(path string) error              { return syncFolder(path) }

// WriteWhole writes a file so that at any moment, through a crash or a power cut, the path holds either what
// it held before or all of body. Links are followed; the mode of an existing file is kept.
func WriteWhole(path string, body []byte) error {
	target, err := resolve(path)
	if err != nil {
		return writeFault(path, err)
	}
	if err := writable(path, target); err != nil {
		return err
	}
	if err := writeWhole(realDisk{}, target, target, body, nil); err != nil {
		return writeFault(path, err)
	}
	return nil
}

// writeWhole is WriteWhole on a resolved path. The file gets the mode and the owner of like, if that exists.
// just runs right before the rename and may still refuse.
func writeWhole(d disk, target, like string, body []byte, just func() error) (err error) {
	temp, out, err := createTemp(d, target)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = d.Remove(temp) // the error that led here is the one to tell
		}
	}()
	// Before anything is in it, so that nobody reads of a private file what they may not.
	if old, serr := os.Stat(like); serr == nil {
		err = d.Chmod(temp, old.Mode().Perm())
		keepOwner(temp, old)
	}
	if err == nil {
		_, err = out.Write(body)
	}
	if err == nil {
		err = out.Sync()
	}
	if err = errors.Join(err, out.Close()); err != nil {
		return err
	}
	if just != nil {
		if err = just(); err != nil {
			return err
		}
	}
	if err = d.Rename(temp, target); err != nil {
		return err
	}
	// The new file is in place; a folder that can't be synced makes it no less whole.
	_ = d.SyncFolder(filepath.Dir(target))
	return nil
}

const tempMark = ".tmp-"

// createTemp makes a hidden file beside the target; one that a crash left behind is in nobody's way.
func createTemp(d disk, target string) (string, sink, error) {
	dir, name := filepath.Split(target)
	for n := 0; ; n++ {
		temp := filepath.Join(dir, fmt.Sprintf(".%s%s%d-%d", name, tempMark, os.Getpid(), n))
		out, err := d.Create(temp)
		if errors.Is(err, fs.ErrExist) && n < 1000 {
			continue
		}
		return temp, out, err
	}
}

// sweep removes temporary files that a killed program left beside a target. Only who holds its lock may.
func sweep(target string) {
	dir, name := filepath.Split(target)
	entries, err := os.ReadDir(filepath.Clean(dir + "."))
	if err != nil {
		return
	}
	prefix := "." + name + tempMark
	for _, e := range entries {
		if len(e.Name()) > len(prefix) && e.Name()[:len(prefix)] == prefix {
			_ = os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// resolve follows links to the file that a path means, which need not exist.
func resolve(path string) (string, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	for range 40 {
		full, err := filepath.EvalSymlinks(abs)
		if err == nil {
			return full, nil
		}
		if !errors.Is(err, fs.ErrNotExist) {
			if _, serr := os.Stat(abs); serr != nil {
				err = serr // says more of why
			}
			return "", err
		}
		folder, err := filepath.EvalSymlinks(filepath.Dir(abs))
		if err != nil {
			return "", err
		}
		abs = filepath.Join(folder, filepath.Base(abs))
		to, err := os.Readlink(abs)
		if err != nil {
			return abs, nil // no link: a name that is free
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(folder, to)
		}
		abs = to
	}
	return "", syscall.ELOOP
}

// writable refuses what a rename would silently replace: a file that its owner made read-only, or what is
// no file at all.
func writable(path, target string) error {
	info, err := os.Stat(target)
	if err != nil {
		return nil // absent, or the write itself will say
	}
	if err := regular(path, info); err != nil {
		return err
	}
	denied := &Fault{ReadOnly, path, "can't be saved: the file is read-only", "make it writable, or save under another name", fs.ErrPermission}
	if info.Mode().Perm()&0o222 == 0 {
		return denied
	}
	f, err := os.OpenFile(target, os.O_WRONLY, 0)
	if errors.Is(err, fs.ErrPermission) {
		return denied
	}
	if err == nil {
		return f.Close()
	}
	return nil
}
