package ribbon

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/page"
)

// lampLines lists the circuits of the room, those of the marked period ticked.
func (p *Page) lampLines() []string {
	t, pd := p.snap.Theme, p.periods()[p.marked()]
	var out []string
	for n, c := range p.room.Circuits {
		mark, word := " ", "dark"
		if lights(pd, c.ID) {
			mark, word = t.Glyphs.Done, "lit"
		}
		text := mark + " " + draw.Plain(c.ID) + ", " + word
		if n == p.pick {
			out = append(out, t.Picked.Render("  "+t.Glyphs.Here+" "+text))
		} else {
			out = append(out, "    "+text)
		}
	}
	return out
}

func lights(pd model.Period, circuit string) bool {
	return len(pd.Circuits) == 0 || slices.Contains(pd.Circuits, circuit)
}

func (p *Page) pickLamps(k tea.KeyMsg) page.Action {
	n := len(p.room.Circuits)
	switch k.Type {
	case tea.KeyEsc, tea.KeyEnter:
		p.mode = looking
	case tea.KeyUp:
		p.pick = max(p.pick-1, 0)
	case tea.KeyDown:
		p.pick = min(p.pick+1, n-1)
	case tea.KeySpace:
		return p.toggleLamp()
	}
	return nil
}

// toggleLamp lights or darkens the picked circuit; all lamps are written as none named.
func (p *Page) toggleLamp() page.Action {
	pd := p.periods()[p.marked()]
	var lit []string
	for n, c := range p.room.Circuits {
		if lights(pd, c.ID) != (n == p.pick) {
			lit = append(lit, c.ID)
		}
	}
	if len(lit) == 0 {
		return page.Say{Text: "A period lights at least one circuit. For no light of its own, give it a level of 0 %."}
	}
	if len(lit) == len(p.room.Circuits) {
		lit = nil
	}
	return p.change(func(pd *model.Period) { pd.Circuits = lit }, "lamps")
}
