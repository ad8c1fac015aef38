package floorpage

import (
	"math"
	"slices"

	"example.org/roombrief/planner/floorplan"
	"example.org/roombrief/tui/keys"
)

// storey goes to the next floor that has rooms, and round.
func (p *Page) storey(by int) {
	all := floorplan.Numbers(p.snap.Project)
	n := len(all)
	p.number = all[((slices.Index(all, p.number)+by)%n+n)%n]
	for _, r := range p.snap.Project.Rooms {
		if r.Floor == p.number {
			p.choose(r.ID)
			break
		}
	}
	p.refresh()
}

// step chooses the next room in a direction on the sheet; rooms without an outline stand in a row under the plan.
func (p *Page) step(do keys.Command) {
	loose := slices.IndexFunc(p.floor.Loose, func(r floorplan.Room) bool { return r.ID == p.room })
	if loose >= 0 {
		p.stepLoose(loose, do)
		return
	}
	at := slices.IndexFunc(p.floor.Rooms, func(r floorplan.Room) bool { return r.ID == p.room })
	s := sheet{floor: &p.floor, turned: p.plot.turned}
	if at < 0 {
		return
	}
	here := s.rect(p.floor.Rooms[at].Rect)
	best, least := -1, math.Inf(1)
	for i, r := range p.floor.Rooms {
		if far, ok := toward(here, s.rect(r.Rect), do); ok && i != at && far < least-1e-9 {
			best, least = i, far
		}
	}
	switch {
	case best >= 0:
		p.choose(p.floor.Rooms[best].ID)
	case do == keys.Down && len(p.floor.Loose) > 0:
		p.choose(p.floor.Loose[0].ID)
	}
}

func (p *Page) stepLoose(at int, do keys.Command) {
	switch {
	case do == keys.Up && len(p.floor.Rooms) > 0:
		p.choose(p.floor.Rooms[len(p.floor.Rooms)-1].ID)
	case (do == keys.Left || do == keys.Up) && at > 0:
		p.choose(p.floor.Loose[at-1].ID)
	case (do == keys.Right || do == keys.Down) && at+1 < len(p.floor.Loose):
		p.choose(p.floor.Loose[at+1].ID)
	}
}

// toward is how far a room lies in a direction: a room straight ahead is nearer than one aside.
func toward(a, b floorplan.Rect, do keys.Command) (float64, bool) {
	m, n := a.Middle(), b.Middle()
	ahead, aside := n.X-m.X, gap(a.Y, a.Y+a.D, b.Y, b.Y+b.D)
	edge := b.X - (a.X + a.W)
	switch do {
	case keys.Left:
		ahead, edge = -ahead, a.X-(b.X+b.W)
	case keys.Up:
		ahead, aside, edge = m.Y-n.Y, gap(a.X, a.X+a.W, b.X, b.X+b.W), a.Y-(b.Y+b.D)
	case keys.Down:
		ahead, aside, edge = n.Y-m.Y, gap(a.X, a.X+a.W, b.X, b.X+b.W), b.Y-(a.Y+a.D)
	}
	side := math.Abs(n.Y - m.Y)
	if do == keys.Up || do == keys.Down {
		side = math.Abs(n.X - m.X)
	}
	return math.Max(edge, 0) + 3*aside + 0.2*side, ahead > 1e-9 && edge > -0.3
}

// gap is how far two stretches lie apart; 0 where they lie beside each other.
func gap(a0, a1, b0, b1 float64) float64 { return math.Max(0, math.Max(a0, b0)-math.Min(a1, b1)) }
