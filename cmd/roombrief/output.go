package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"

	"example.org/roombrief/tui/layout"
)

// keeper writes to w until that fails, and keeps what went wrong: most of what is printed is printed without
// looking, and a paper that was cut short must not pass for a whole one.
type keeper struct {
	w   io.Writer
	err error
}

func (k *keeper) Write(b []byte) (int, error) {
	if k.err != nil {
		return 0, k.err
	}
	n, err := k.w.Write(b)
	if err != nil {
		k.err = unwritten(err)
	}
	return n, k.err
}

// lettered writes sentences for a terminal that has plain letters only.
type lettered struct{ w io.Writer }

func (l lettered) Write(b []byte) (int, error) {
	if _, err := io.WriteString(l.w, layout.ASCII(string(b))); err != nil {
		return 0, err
	}
	return len(b), nil
}

// unwritten says it without the name that the system has for the output.
func unwritten(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return fmt.Errorf("what follows could not be written: %w", err)
}
