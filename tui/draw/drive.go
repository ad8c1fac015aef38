package draw

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
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

// Take sees to a key or the mouse on a page of one list: its own moves are made, a key that is off says why, and do has the rest. A
// click on the item under the cursor is keys.Take.
func (l *Leaf) Take(msg tea.Msg, help []keys.Binding, do func(keys.Command) page.Action) page.Action {
	switch msg := msg.(type) {
	case tea.MouseMsg:
		if l.Mouse(msg) {
			return do(keys.Take)
		}
	case tea.KeyMsg:
		b, ok := keys.Find(help, msg)
		switch {
		case !ok:
		case b.Off != "":
			return page.Say{Text: b.Off}
		case l.Drive(b.Do):
		default:
			return do(b.Do)
		}
	}
	return nil
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
