// Package quiet keeps the program from asking the terminal for its background colour.
//
// The terminal library asks in its own init, and on a terminal that never answers every command would
// wait five seconds. Packages that are ready are initialised in the order of their import paths, and
// this one comes before it; so it must import nothing else. The theme is chosen by a setting instead.
package quiet

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
