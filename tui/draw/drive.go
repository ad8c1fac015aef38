package draw

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/tui/keys"
)

// Drive carries out the moves that all lists share, and tells whether the command was one.
func (l *Leaf) Drive(do keys.Command) bool {
	switch do {
	case keys.Up:
		l.Move(-1)
	case keys.Down:
		l.Move(1)
	case keys.PageUp:
		l.Page(-1)
	case keys.PageDn:
		l.Page(1)
	case keys.Top:
		l.Go(0)
	case keys.Bottom:
		l.End()
	case keys.NextPart:
		l.Section(1)
	case keys.PrevPart:
		l.Section(-1)
	default:
		return false
	}
	return true
}

// Mouse scrolls on the wheel and puts the cursor where it is clicked. Again tells of a click on the
// item that the cursor was on already.
func (l *Leaf) Mouse(m tea.MouseMsg) (again bool) {
	switch {
	case m.Button == tea.MouseButtonWheelUp:
		l.Wheel(-3)
	case m.Button == tea.MouseButtonWheelDown:
		l.Wheel(3)
	case m.Button == tea.MouseButtonLeft && m.Action == tea.MouseActionPress:
		was := l.at
		return l.Click(m.X, m.Y) && l.at == was
	}
	return false
}
