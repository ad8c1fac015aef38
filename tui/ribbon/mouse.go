package ribbon

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/tui/page"
)

// mouse marks a period by a click on its line or into the ribbon; a click at its start lets the start be
// pulled along.
func (p *Page) mouse(m tea.MouseMsg) page.Action {
	switch {
	case m.Action == tea.MouseActionRelease:
		p.drag = false
		return nil
	case m.Action == tea.MouseActionMotion:
		if !p.drag || p.marked() < 0 || p.snap.ReadOnly != "" {
			return nil
		}
		return p.pull(p.minuteAt(m.X))
	}
	p.leaf.Mouse(m)
	cols := Columns(p.leaf.Inner())
	if m.Button != tea.MouseButtonLeft || m.Y >= len(p.leaf.Head) || m.X < edge || m.X-edge >= cols {
		return nil
	}
	from, to := p.minuteAt(m.X), p.minuteAt(m.X+1)
	p.drag = false
	for i, s := range p.order {
		if s.from == Never {
			continue
		}
		if s.from <= from && from < s.to || from+day < s.to {
			p.leaf.Go(i)
		}
		if from <= s.from && s.from < to {
			p.leaf.Go(i)
			p.drag = true
			break
		}
	}
	return nil
}

const edge = 2 // cells before the ribbon

// minuteAt is the minute of the day at a cell of the page.
func (p *Page) minuteAt(x int) int { return (x - edge) * day / max(Columns(p.leaf.Inner()), 1) }

// pull moves the start of the marked period towards a minute of the day, the short way round.
func (p *Page) pull(minute int) page.Action {
	s := p.order[p.leaf.At()]
	if s.from == Never {
		return nil
	}
	by := wrap(minute - s.from)
	if by > day/2 {
		by -= day
	}
	if by = by / step * step; by == 0 {
		return nil
	}
	return p.moveStart(by)
}
