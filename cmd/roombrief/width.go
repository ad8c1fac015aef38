package main

import (
	"os"
	"strings"

	q "example.org/roombrief/model/quantity"

	"github.com/charmbracelet/x/ansi"
	"golang.org/x/term"
)

// widthOf is the terminal's width, or 100 over a pipe.
func widthOf(p process) int {
	if p.outFile != nil {
		if w, _, err := term.GetSize(int(p.outFile.Fd())); err == nil && w > 0 {
			return min(max(w, 40), 140)
		}
	}
	return 100
}

// wrap breaks a sentence at spaces and indents every line.
func wrap(s, indent string, width int) string {
	lines := strings.Split(q.Apart(ansi.Wordwrap(q.Together(s), max(width-len(indent)-2, 20), "")), "\n")
	return indent + strings.Join(lines, "\n"+indent+"  ")
}

func isTerminal(f *os.File) bool { return f != nil && term.IsTerminal(int(f.Fd())) }
