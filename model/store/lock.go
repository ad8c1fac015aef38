package store

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/gofrs/flock"
)

// lock is a locked file beside the project file. The system lets go of it when its program dies, however
// it dies; the file itself only says who has it.
type lock struct{ held *flock.Flock }

// Lock keeps other programs from opening the file to change it. When one has it already the error has
// ErrLocked in its chain and says who; the file can still be read. Close gives the lock back.
func (f *File) Lock() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.lock != nil {
		return nil
	}
	var last error
	for _, path := range f.sidecars(".lock") {
		l, err := take(path)
		if err == nil && l == nil {
			return f.lockedBy(path)
		}
		if err == nil {
			f.lock = l
			l.sign(f.now())
			for _, path := range append(f.sidecars(".draft"), f.target) {
				sweep(path)
			}
			return nil
		}
		last = err
	}
	if isDenied(last) {
		return writeFault(f.path, last) // whoever can't write beside the file can't save it either
	}
	return &Fault{Failed, f.path, "can't be locked against other programs: " + plainly(last), "open it in one program only", last}
}

// take is nil without an error when another program has the lock.
func take(path string) (*lock, error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return nil, err
	}
	for range 100 {
		l := flock.New(path, flock.SetFlag(os.O_CREATE|os.O_RDWR), flock.SetPermissions(0o644))
		got, err := l.TryLock()
		if err != nil || !got {
			return nil, errors.Join(err, l.Close())
		}
		// The one before may have removed the file between our opening and our locking it.
		mine, err := l.Stat()
		if err == nil {
			if there, serr := os.Stat(path); serr == nil && os.SameFile(mine, there) {
				return &lock{l}, nil
			}
		}
		if err := l.Close(); err != nil {
			return nil, err
		}
	}
	return nil, fmt.Errorf("%s changes hands too fast", path)
}

// sign writes who has the lock, for the one who finds it taken. Failing that, nobody is named.
func (l *lock) sign(now time.Time) {
	host, _ := os.Hostname()
	line := fmt.Sprintf("%d\t%s\t%s\n", os.Getpid(), host, now.UTC().Format(time.RFC3339))
	if fh, err := os.OpenFile(l.held.Path(), os.O_WRONLY|os.O_TRUNC, 0); err == nil {
		_, _ = fh.WriteString(line)
		_ = fh.Close()
	}
}

// release removes the file while it is still locked, so that nobody finds it unlocked.
func (l *lock) release() error {
	_ = os.Remove(l.held.Path()) // one that stays is only clutter
	return l.held.Close()
}

func (f *File) lockedBy(path string) error {
	says, hint := "is open in another program", "close it there first"
	if body, err := os.ReadFile(path); err == nil {
		if part := strings.Split(strings.TrimSpace(string(body)), "\t"); len(part) == 3 {
			if pid, err := strconv.Atoi(part[0]); err == nil {
				says += fmt.Sprintf(" (process %d on %s)", pid, part[1])
			}
		}
	}
	return &Fault{Locked, f.path, says, hint, ErrLocked}
}

// sidecars are the places of a file that goes with this one: beside it, and in the state folder for when
// its own folder can't be written.
func (f *File) sidecars(ending string) []string {
	dir, name := filepath.Split(f.target)
	out := []string{filepath.Join(dir, "."+name+ending)}
	if f.StateDir != "" {
		sum := sha256.Sum256([]byte(f.target))
		out = append(out, filepath.Join(f.StateDir, name+"-"+hex.EncodeToString(sum[:8])+ending))
	}
	return out
}

// isFull reports a disk without room; the state folder may be on another.
func isFull(err error) bool { return errors.Is(err, syscall.ENOSPC) || errors.Is(err, errQuota) }

// isDenied reports a folder that can't be written, in which case the state folder is used.
func isDenied(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)
}
