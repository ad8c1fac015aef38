package floorplan

import (
	"cmp"
	"math"
	"slices"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/site"
)

// Cover is what one sensor of people sees of its room. Where no place is noted for it, under a ceiling it is the middle of the
// room, on a wall the corner or the middle of a wall from which it sees most.
type Cover struct {
	Spot
	Part   string  // its id in the catalogue
	Still  bool    // it sees people who keep still
	Round  bool    // it hangs under the ceiling and looks down
	Facing float64 // where it looks, in radians from right to down; worthless when Round
	Angle  float64 // that it takes in, in radians
	Reach  float64 // m; of a Round one the radius on the floor
	Seen   float64 // part of the room's floor, 0 to 1

	ahead Spot    // one metre where it looks
	half  float64 // cosine of half its angle
}

// aim readies a sensor on a wall to be asked what it sees.
func (c Cover) aim() Cover {
	c.ahead, c.half = Spot{math.Cos(c.Facing), math.Sin(c.Facing)}, math.Cos(c.Angle/2)
	return c
}

// Usual views of sensors of people where a part says nothing of its own: 7 m and 110° are the common infrared module, as in the
// reference figures of pir_coverage.csv; under a ceiling the same cone.
const (
	UsualReach = 7.0   // m
	UsualAngle = 110.0 // degrees
	ceilingM   = 2.4   // m, where none is noted
)

// grid is into how many squares a side of a room is cut to count what is seen of it.
const grid = 24

// Sees tells whether a sensor sees a place of its room.
func (c *Cover) Sees(p Spot) bool {
	dx, dy := p.X-c.X, p.Y-c.Y
	far := dx*dx + dy*dy
	if far > c.Reach*c.Reach {
		return false
	}
	if c.Round || far < 1e-6 {
		return true
	}
	return dx*c.ahead.X+dy*c.ahead.Y >= (c.half-1e-9)*math.Sqrt(far)
}

// watch finds the view of each sensor of people in a room, and how much of its floor all of them see together.
func (x *Room) watch() {
	if x.W <= 0 || x.D <= 0 {
		return
	}
	for _, d := range x.Devices {
		if d.Part.Can(catalogue.SenseMotion) || d.Part.Can(catalogue.SenseStill) {
			for _, at := range d.At {
				x.Cover = append(x.Cover, x.viewFrom(d.Part, at.Spot))
			}
			for range d.Count - len(d.At) {
				x.Cover = append(x.Cover, x.view(d.Part))
			}
		}
	}
	x.Seen = x.share(x.Cover...)
}

// viewOf is how far and how wide a part sees.
func viewOf(p catalogue.Part) (reach, degrees float64) {
	if p.View.Angle > 0 {
		return float64(p.View.Reach), p.View.Angle
	}
	return UsualReach, UsualAngle
}

// viewFrom is the view of a sensor from the place that was noted for it: on a wall it looks to the middle of the room.
func (x *Room) viewFrom(p catalogue.Part, at Spot) Cover {
	reach, degrees := viewOf(p)
	c := Cover{Spot: at, Part: p.ID, Still: p.Can(catalogue.SenseStill), Reach: reach, Angle: degrees * math.Pi / 180}
	if p.Place == "ceiling" {
		c = x.above(p, degrees)
		c.Spot = at
	} else {
		mid := x.Middle()
		c.Facing = math.Atan2(mid.Y-at.Y, mid.X-at.X)
		c = c.aim()
	}
	c.Seen = x.share(c)
	return c
}

func (x *Room) view(p catalogue.Part) Cover {
	reach, degrees := viewOf(p)
	if p.Place == "ceiling" {
		return x.above(p, degrees)
	}
	best, places := Cover{Seen: -1}, x.hangs()
	slices.SortStableFunc(places, func(a, b Cover) int { return cmp.Compare(x.toDoor(a.Spot), x.toDoor(b.Spot)) })
	for _, c := range places {
		c.Part, c.Still, c.Reach, c.Angle = p.ID, p.Can(catalogue.SenseStill), reach, degrees*math.Pi/180
		c = c.aim()
		if c.Seen = x.share(c); c.Seen > best.Seen+1e-9 {
			best = c
		}
		if best.Seen >= 1 {
			break
		}
	}
	return best
}

// above is the view of a sensor under the middle of the ceiling.
func (x *Room) above(p catalogue.Part, degrees float64) Cover {
	height := float64(x.Outline.Ceiling)
	if height <= 0 {
		height = ceilingM
	}
	radius, _, err := site.CeilingSensor(max(1.5, min(height, 6)), degrees)
	if err != nil {
		radius = UsualReach
	}
	c := Cover{Spot: x.Middle(), Part: p.ID, Still: p.Can(catalogue.SenseStill), Round: true, Angle: 2 * math.Pi, Reach: radius}
	c.Seen = x.share(c)
	return c
}

// hangs are the places for a sensor on a wall, each looking into the room: corners, then the middles of walls.
func (x *Room) hangs() []Cover {
	var out []Cover
	mid := x.Middle()
	for _, s := range []Spot{
		{x.X, x.Y}, {x.X + x.W, x.Y}, {x.X, x.Y + x.D}, {x.X + x.W, x.Y + x.D},
		{mid.X, x.Y}, {mid.X, x.Y + x.D}, {x.X, mid.Y}, {x.X + x.W, mid.Y},
	} {
		// Out of a corner a sensor looks along the half of the right angle, so that both walls are inside its view.
		facing := math.Atan2(sign(mid.Y-s.Y), sign(mid.X-s.X))
		out = append(out, Cover{Spot: s, Facing: facing})
	}
	return out
}

func sign(v float64) float64 {
	switch {
	case v > 1e-9:
		return 1
	case v < -1e-9:
		return -1
	}
	return 0
}

// toDoor is how far a place is from the first door: beside it a sensor doesn't look out of it.
func (x *Room) toDoor(s Spot) float64 {
	for _, d := range x.Doors {
		if d.Placed {
			return math.Hypot(d.X-s.X, d.Y-s.Y)
		}
	}
	return 0
}

// share is the part of the room's floor that is seen.
func (x *Room) share(views ...Cover) float64 {
	if len(views) == 0 {
		return 0
	}
	seen := 0
	for i := range grid {
		for j := range grid {
			for k := range views {
				if views[k].Sees(x.square(i, j)) {
					seen++
					break
				}
			}
		}
	}
	return float64(seen) / (grid * grid)
}

// squares are the middles of the squares that a room's floor is cut into.
func (x *Room) squares() []Spot {
	out := make([]Spot, 0, grid*grid)
	for i := range grid {
		for j := range grid {
			out = append(out, x.square(i, j))
		}
	}
	return out
}

// square is the middle of one of them.
func (x *Room) square(i, j int) Spot {
	return Spot{x.X + x.W*(float64(i)+0.5)/grid, x.Y + x.D*(float64(j)+0.5)/grid}
}

// unseen are those of the places that no sensor sees.
func unseen(places []Spot, views ...Cover) []Spot {
	var out []Spot
	for _, p := range places {
		if !slices.ContainsFunc(views, func(v Cover) bool { return v.Sees(p) }) {
			out = append(out, p)
		}
	}
	return out
}

// Enough is the part of a floor that sensors of people should see; the rest is behind furniture and doors anyway.
const Enough = 0.9

// More is how many more sensors like the room's last one it takes until they see Enough of it; 0 where they do already, false where
// as many as a room has places for would not.
func (x *Room) More() (int, bool) {
	if len(x.Cover) == 0 || x.Seen >= Enough {
		return 0, len(x.Cover) > 0
	}
	last := x.Cover[len(x.Cover)-1]
	left, places := unseen(x.squares(), x.Cover...), append(x.hangs(), x.along()...)
	if last.Round {
		places = x.ceilingPlaces()
	}
	for n := 1; n <= len(places); n++ {
		best, most := Cover{}, -1
		for _, at := range places {
			c := last
			c.Spot, c.Facing = at.Spot, at.Facing
			c = c.aim()
			seen := 0
			for _, p := range left {
				if c.Sees(p) {
					seen++
				}
			}
			if seen > most {
				best, most = c, seen
			}
		}
		left = unseen(left, best)
		if most == 0 {
			break
		}
		if 1-float64(len(left))/(grid*grid) >= Enough {
			return n, true
		}
	}
	return 0, false
}

// along are places on the walls of a long room where a sensor looks along it, either way.
func (x *Room) along() []Cover {
	var out []Cover
	for _, part := range []float64{0.25, 1. / 3, 0.5, 2. / 3, 0.75} {
		s, facing := Spot{x.X + x.W*part, x.Y}, 0.0
		if x.D > x.W {
			s, facing = Spot{x.X, x.Y + x.D*part}, math.Pi/2
		}
		out = append(out, Cover{Spot: s, Facing: facing}, Cover{Spot: s, Facing: facing + math.Pi})
	}
	return out
}

// ceilingPlaces are places under a ceiling along the room.
func (x *Room) ceilingPlaces() []Cover {
	var out []Cover
	for i := range 3 {
		for j := range 3 {
			out = append(out, Cover{Spot: Spot{x.X + x.W*(float64(i)+0.5)/3, x.Y + x.D*(float64(j)+0.5)/3}})
		}
	}
	return out
}
