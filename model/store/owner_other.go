//go:build !unix

package store

import (
	"errors"
	"io/fs"
)

var errQuota = errors.New("over quota") // these systems report a full disk

func keepOwner(string, fs.FileInfo) {}

// syncFolder has nothing to do where folders can't be synced.
func syncFolder(string) error { return nil }
