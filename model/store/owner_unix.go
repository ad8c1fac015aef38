//go:build unix

package store

import (
	"io/fs"
	"os"
	"syscall"
)

var errQuota error = syscall.EDQUOT

// keepOwner gives a new file the owner of the one that it replaces, where the system allows it.
func keepOwner(path string, old fs.FileInfo) {
	if st, ok := old.Sys().(*syscall.Stat_t); ok {
		_ = os.Chown(path, int(st.Uid), int(st.Gid)) // a stranger's file stays readable by its mode
	}
}

// syncFolder makes a rename last through a power cut.
func syncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}
