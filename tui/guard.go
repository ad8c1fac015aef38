package tui

import (
	"errors"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"
)

// ErrFault says that the program stopped by a mistake of its own. Everything up to it was saved.
var ErrFault = errors.New("stopped by a fault of its own; what was written up to it is saved")

// broken is a panic that was caught; nobody is shown its stack.
type broken struct{ what any }

// safely turns a panic in a Cmd into a message: left alone it would end the program with the terminal raw.
func safely(cmd tea.Cmd) tea.Cmd {
	return func() (msg tea.Msg) {
		defer func() {
			if what := recover(); what != nil {
				msg = broken{what}
			}
		}()
		return cmd()
	}
}

// guard is the root with its panics caught.
type guard struct{ *root }

// Update passes a message on.
func (g guard) Update(msg tea.Msg) (m tea.Model, cmd tea.Cmd) {
	defer func() {
		if what := recover(); what != nil {
			m, cmd = g, g.abort(broken{what})
		}
	}()
	_, cmd = g.root.Update(msg)
	return g, cmd
}

// View draws.
func (g guard) View() (s string) {
	defer func() {
		if what := recover(); what != nil {
			if g.fault == nil {
				g.fault = fmt.Errorf("%w (%v)", ErrFault, what)
			}
			s = "Roombrief has to stop. All is saved. Press Ctrl+C."
		}
	}()
	return g.root.View()
}

// abort leaves; what is unsaved is saved on the way out.
func (r *root) abort(b broken) tea.Cmd {
	r.fault = fmt.Errorf("%w (%v)", ErrFault, b.what)
	return tea.Quit
}
