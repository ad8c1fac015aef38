package store

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"
)

// MostBytes of a file that are read.
const MostBytes = 4 << 20

// File is a project file as it was read, and the way back to disk. Set StateDir and Clock before anything
// but Bytes, Path and Save is used. Its methods may be called from several goroutines.
type File struct {
	// StateDir holds locks and drafts of files whose own folder can't be written; "" for none.
	StateDir string
	// Clock dates drafts and set-aside files.
	Clock func() time.Time

	path   string // as it was asked for
	target string // with links followed
	disk   disk

	mu   sync.Mutex
	body []byte // what is known to be on disk
	made bool   // false until a new file is saved first
	lock *lock
}

// Open reads a file. What can't be opened is refused with a *Fault.
func Open(path string) (*File, error) {
	target, err := resolve(path)
	if err != nil {
		return nil, readFault(path, err)
	}
	body, err := read(path, target)
	if err != nil {
		return nil, readFault(path, err)
	}
	return &File{path: path, target: target, disk: realDisk{}, body: body, made: true}, nil
}

// New is a file that doesn't exist yet; the first Save makes it.
func New(path string) (*File, error) {
	target, err := resolve(path)
	if err != nil {
		return nil, writeFault(path, err)
	}
	if _, err := os.Lstat(target); err == nil {
		return nil, &Fault{Elsewhere, path, "exists already", "open it, or choose another name", fs.ErrExist}
	}
	if info, err := os.Stat(filepath.Dir(target)); err != nil || !info.IsDir() {
		return nil, &Fault{Missing, path, "can't be made: its folder doesn't exist", "make the folder first", fs.ErrNotExist}
	}
	return &File{path: path, target: target, disk: realDisk{}}, nil
}

func read(path, target string) ([]byte, error) {
	body, err := readUpTo(path, target, MostBytes)
	if err != nil {
		return nil, err
	}
	return body, text(path, body)
}

// readUpTo reads a file of at most so many bytes.
func readUpTo(path, target string, most int64) ([]byte, error) {
	info, err := os.Stat(target)
	if err != nil {
		return nil, err
	}
	if err := regular(path, info); err != nil {
		return nil, err
	}
	large := func(n int64) error {
		return &Fault{TooLarge, path, fmt.Sprintf("has %s, and %s is the most that is read", inBytes(n), inBytes(most)), "is it the right file?", nil}
	}
	if info.Size() > most {
		return nil, large(info.Size())
	}
	f, err := os.Open(target)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	body, err := io.ReadAll(io.LimitReader(f, most+1))
	if err != nil {
		return nil, err
	}
	if int64(len(body)) > most {
		return nil, large(int64(len(body)))
	}
	return body, nil
}

// regular refuses folders, devices, pipes and sockets.
func regular(path string, info fs.FileInfo) error {
	switch mode := info.Mode(); {
	case mode.IsDir():
		return &Fault{Folder, path, "is a folder", "name a file in it", nil}
	case mode&fs.ModeNamedPipe != 0:
		return &Fault{NotAFile, path, "is a pipe, not a file", "", nil}
	case mode&fs.ModeSocket != 0:
		return &Fault{NotAFile, path, "is a socket, not a file", "", nil}
	case !mode.IsRegular():
		return &Fault{NotAFile, path, "is a device, not a file", "", nil}
	}
	return nil
}

// text refuses what no editor wrote as text. A single bad byte is for the reader of the file to point at.
func text(path string, body []byte) error {
	if bytes.HasPrefix(body, []byte("\xff\xfe")) || bytes.HasPrefix(body, []byte("\xfe\xff")) {
		return &Fault{NotText, path, "is UTF-16", "save it as UTF-8", nil}
	}
	if bytes.IndexByte(body, 0) >= 0 {
		return &Fault{NotText, path, "is not a text file", "is it the right file?", nil}
	}
	return nil
}

// Bytes are the file as it was last read or saved.
func (f *File) Bytes() []byte {
	f.mu.Lock()
	defer f.mu.Unlock()
	return bytes.Clone(f.body)
}

// Path is the path that was asked for.
func (f *File) Path() string { return f.path }

// Exists reports whether the file is on disk: false between New and the first Save.
func (f *File) Exists() bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.made
}

// Writable says why the file can't be saved, nil when it looks as if it can.
func (f *File) Writable() error {
	if err := writable(f.path, f.target); err != nil {
		return err
	}
	temp, out, err := createTemp(f.disk, f.target)
	if err != nil {
		return writeFault(f.path, err)
	}
	return errors.Join(out.Close(), f.disk.Remove(temp))
}

// Save makes body the file: whole or not at all. It refuses with ErrChangedElsewhere when the file is no
// longer what was read or saved last. After a good save the draft is gone.
func (f *File) Save(body []byte) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.made && bytes.Equal(body, f.body) {
		if err := f.unchanged(); err != nil {
			return err
		}
		return f.discard()
	}
	return f.save(body, f.unchanged)
}

func (f *File) save(body []byte, just func() error) error {
	if err := writable(f.path, f.target); err != nil {
		return err
	}
	if err := writeWhole(f.disk, f.target, f.target, body, just); err != nil {
		return writeFault(f.path, err)
	}
	f.body, f.made = bytes.Clone(body), true
	return f.discard()
}

// unchanged refuses when the disk no longer holds what is known. Between this look and the rename lies a
// moment that no system lets a program close.
func (f *File) unchanged() error {
	refuse := func(says string) error {
		return &Fault{Elsewhere, f.path, "was not saved: " + says, "save under another name, or take the other version", ErrChangedElsewhere}
	}
	now, err := f.there()
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if f.made {
			return refuse("it was removed or renamed since it was opened")
		}
		return nil
	case err != nil:
		return err
	case !f.made:
		return refuse("a file of this name has been made meanwhile")
	case sha256.Sum256(now) != sha256.Sum256(f.body):
		return refuse("it was changed by something else since it was opened")
	}
	return nil
}

// there is what the disk holds now, if it is still a file: to read what became a pipe would wait for ever.
func (f *File) there() ([]byte, error) {
	info, err := os.Stat(f.target)
	if err != nil {
		return nil, err
	}
	if err := regular(f.path, info); err != nil {
		return nil, err
	}
	return os.ReadFile(f.target)
}

// Read reads the file as it is now and takes that as what was opened.
func (f *File) Read() ([]byte, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	body, err := read(f.path, f.target)
	if err != nil {
		return nil, readFault(f.path, err)
	}
	f.body, f.made = body, true
	return bytes.Clone(body), nil
}

// SaveAside writes body beside the file under a name of its own, which it returns. The file stays as it is.
func (f *File) SaveAside(body []byte) (string, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.saveAside(body)
}

func (f *File) saveAside(body []byte) (string, error) {
	dir, name := filepath.Split(f.target)
	ext := filepath.Ext(name)
	stem := strings.TrimSuffix(name, ext) + ".conflict-" + f.now().Format("20060102-150405")
	for n := 1; ; n++ {
		path := filepath.Join(dir, stem+ext)
		if n > 1 {
			path = filepath.Join(dir, fmt.Sprintf("%s-%d%s", stem, n, ext))
		}
		if _, err := os.Lstat(path); err == nil && n < 1000 {
			continue
		}
		if err := writeWhole(f.disk, path, f.target, body, nil); err != nil {
			return "", writeFault(path, err)
		}
		return path, nil
	}
}

// Overwrite saves over a change made elsewhere. The other version is kept beside the file under the name
// that is returned; it is "" when there was no other version.
func (f *File) Overwrite(body []byte) (kept string, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := writable(f.path, f.target); err != nil {
		return "", err
	}
	theirs, err := os.ReadFile(f.target)
	if err == nil && !bytes.Equal(theirs, f.body) && !bytes.Equal(theirs, body) {
		if kept, err = f.saveAside(theirs); err != nil {
			return "", err
		}
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", readFault(f.path, err)
	}
	return kept, f.save(body, nil)
}

// Close gives the lock back. A draft stays: it is taken away by a save, or by Discard.
func (f *File) Close() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.lock == nil {
		return nil
	}
	l := f.lock
	f.lock = nil
	return l.release()
}

func (f *File) now() time.Time {
	if f.Clock == nil {
		return time.Time{}
	}
	return f.Clock()
}
