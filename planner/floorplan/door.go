package floorplan

import (
	"slices"
	"sort"

	"example.org/roombrief/model"
)

// Door is a way out of a room. The survey says where it leads, not where in the wall it is: it is drawn in the middle of the
// wall that the two rooms share, and a door to the outside in the middle of the longest wall with nothing behind it.
type Door struct {
	model.Door
	Spot           // middle of it; worthless where it isn't Placed
	Placed  bool   // on this floor, in a wall that is known
	Upright bool   // in a wall that runs up and down the plan
	Storeys int    // how many floors up it leads, below 0 down
	ToName  string // of the room beyond, "outside", or "" where it isn't said
}

// wallMost is how far two insides may lie apart with one wall between them, in m; doorLeast is how much wall a door takes.
const (
	wallMost  = 0.6
	doorLeast = 0.5
)

// stretch is a piece of a wall of a room: at its X or Y, from one end to the other along it.
type stretch struct {
	upright      bool
	at, from, to float64
}

func (s stretch) length() float64 { return s.to - s.from }

func (s stretch) part(k, n int) Spot {
	along := s.from + s.length()*(float64(k)+0.5)/float64(n)
	if s.upright {
		return Spot{s.at, along}
	}
	return Spot{along, s.at}
}

func doorsOf(p *model.Project, floor []model.Room, r model.Room) []Door {
	var out []Door
	var free []stretch
	if slices.ContainsFunc(r.Doors, func(d model.Door) bool { return d.To == "outside" }) {
		free = outerWalls(floor, r)
	}
	nth := 0
	before := map[string]int{}
	for _, d := range r.Doors {
		x := Door{Door: d, ToName: d.To}
		other, known := p.Room(d.To)
		switch {
		case known && other.Floor != r.Floor:
			x.ToName, x.Storeys = other.Title(), other.Floor-r.Floor
		case known:
			x.ToName = other.Title()
			if w, ok := shared(r, other); ok {
				same := 0
				for _, o := range r.Doors {
					if o.To == d.To {
						same++
					}
				}
				x.Spot, x.Upright, x.Placed = w.part(before[d.To], same), w.upright, true
				before[d.To]++
			}
		case d.To == "outside" && len(free) > 0:
			w := free[nth%len(free)]
			x.Spot, x.Upright, x.Placed = w.part(nth/len(free), nth/len(free)+1), w.upright, true
			nth++
		}
		out = append(out, x)
	}
	return out
}

// shared is the wall between two rooms.
func shared(a, b model.Room) (stretch, bool) {
	if !placed(a) || !placed(b) {
		return stretch{}, false
	}
	best := stretch{}
	for _, w := range walls(a) {
		for _, o := range walls(b) {
			gap := o.s.at - w.s.at
			if w.s.upright != o.s.upright || w.out == o.out || gap*w.out < -0.1 || gap*w.out > wallMost {
				continue
			}
			s := stretch{w.s.upright, (w.s.at + o.s.at) / 2, max(w.s.from, o.s.from), min(w.s.to, o.s.to)}
			if s.length() > max(best.length(), doorLeast) {
				best = s
			}
		}
	}
	return best, best.length() > 0
}

// side is a wall of a room with which way is out: 1 to the right or down, -1 to the left or up.
type side struct {
	s   stretch
	out float64
}

func walls(r model.Room) [4]side {
	x, y, w, d := float64(r.Outline.X), float64(r.Outline.Y), float64(r.Outline.Width), float64(r.Outline.Depth)
	return [4]side{
		{stretch{false, y, x, x + w}, -1}, {stretch{false, y + d, x, x + w}, 1},
		{stretch{true, x, y, y + d}, -1}, {stretch{true, x + w, y, y + d}, 1},
	}
}

// outerWalls are the pieces of a room's walls that no other room lies behind, the longest first.
func outerWalls(floor []model.Room, r model.Room) []stretch {
	if !placed(r) {
		return nil
	}
	var out []stretch
	for _, w := range walls(r) {
		pieces := []stretch{w.s}
		for _, o := range floor {
			if o.ID == r.ID || !placed(o) {
				continue
			}
			for _, b := range walls(o) {
				if gap := (b.s.at - w.s.at) * w.out; b.s.upright == w.s.upright && b.out != w.out && gap > -0.1 && gap <= wallMost {
					pieces = without(pieces, b.s)
				}
			}
		}
		out = append(out, pieces...)
	}
	out = slices.DeleteFunc(out, func(s stretch) bool { return s.length() < doorLeast })
	sort.SliceStable(out, func(i, j int) bool { return out[i].length() > out[j].length()+1e-9 })
	return out
}

func without(pieces []stretch, b stretch) []stretch {
	var out []stretch
	for _, s := range pieces {
		if b.to <= s.from || b.from >= s.to {
			out = append(out, s)
			continue
		}
		if b.from > s.from {
			out = append(out, stretch{s.upright, s.at, s.from, b.from})
		}
		if b.to < s.to {
			out = append(out, stretch{s.upright, s.at, b.to, s.to})
		}
	}
	return out
}
