package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// mostRecent is how many files the list remembers.
const mostRecent = 20

// RecentFile is a file that was opened lately.
type RecentFile struct {
	Path    string
	Opened  time.Time
	Missing bool // no longer there
}

// ConfigDir is the folder of what the program remembers for its user. getenv is os.Getenv, or a test's;
// XDG_CONFIG_HOME outranks the system's own place.
func ConfigDir(getenv func(string) string) (string, error) {
	if dir := getenv("XDG_CONFIG_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "roombrief"), nil
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, "roombrief"), nil
}

// StateDir is the folder for locks and drafts of files whose own folder can't be written.
func StateDir(getenv func(string) string) (string, error) {
	if dir := getenv("XDG_STATE_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "roombrief"), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", err
	}
	return filepath.Join(home, ".local", "state", "roombrief"), nil
}

// Recent is the list of files opened lately, newest first. Without a list it is empty.
func Recent(configDir string) ([]RecentFile, error) {
	body, err := os.ReadFile(recentPath(configDir))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, readFault(recentPath(configDir), err)
	}
	var out []RecentFile
	for _, line := range strings.Split(string(body), "\n") {
		at, quoted, ok := strings.Cut(line, "\t")
		opened, err := time.Parse(time.RFC3339, at)
		path, perr := strconv.Unquote(quoted)
		if !ok || err != nil || perr != nil || len(out) == mostRecent {
			continue // a line that somebody else wrote
		}
		_, err = os.Stat(path)
		out = append(out, RecentFile{path, opened, errors.Is(err, fs.ErrNotExist)})
	}
	return out, nil
}

// AddRecent puts a file at the head of the list. A list that can't be written is no reason to stop: the
// error is there to be shown or dropped.
func AddRecent(configDir, path string, now time.Time) error {
	abs, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	return editRecent(configDir, func(list []RecentFile) []RecentFile {
		return append([]RecentFile{{Path: abs, Opened: now}}, without(list, abs)...)
	})
}

// ForgetRecent takes a file off the list.
func ForgetRecent(configDir, path string) error {
	return editRecent(configDir, func(list []RecentFile) []RecentFile { return without(list, path) })
}

func without(list []RecentFile, path string) []RecentFile {
	var out []RecentFile
	for _, r := range list {
		if r.Path != path {
			out = append(out, r)
		}
	}
	return out
}

func editRecent(configDir string, change func([]RecentFile) []RecentFile) error {
	list, err := Recent(configDir)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(configDir, 0o700); err != nil {
		return writeFault(recentPath(configDir), err)
	}
	var b strings.Builder
	for i, r := range change(list) {
		if i == mostRecent {
			break
		}
		b.WriteString(r.Opened.UTC().Format(time.RFC3339) + "\t" + strconv.Quote(r.Path) + "\n")
	}
	return WriteWhole(recentPath(configDir), []byte(b.String()))
}

func recentPath(configDir string) string { return filepath.Join(configDir, "recent") }
