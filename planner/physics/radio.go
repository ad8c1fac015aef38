package physics

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// Spot is a place in the home.
type Spot struct {
	Room   string
	At     model.Fact[model.Point] // in the room, from its corner; where nobody noted it, its middle
	Height float64                 // m over the floor; 0 is 1.2 m
}

// Heard is a radio link between two places.
type Heard struct {
	Verdict
	Metres float64
	Walls  int // crossed on the way
	Floors int
	Margin site.Margin
	Least  float64 // dB that it should have over
}

const (
	storey     = 2.7 // m from floor to floor
	usualSpotH = 1.2

	mostFloors    = 10    // to which the formula goes
	mostFloorLoss = 100.0 // dB of all floors, to which it goes
	farthest      = 200.0 // m to which the formula holds; no radio of a home carries so far indoors
)

// floorLosses in dB of one floor by what the inner walls are made of: joists and boards under timber and plasterboard
// (recalled of ITU-R P.1238: 5 in houses, 10 in flats), something heavier in brick houses, a slab in concrete ones.
var floorLosses = map[string]float64{"timber": 5, "plasterboard": 5, "brick": 10, "concrete": 18.3}

// Link works out whether a radio by the catalogue's name carries between two places. An alarm that runs on a battery needs
// more to spare. Wired devices are always heard.
func Link(p *model.Project, a, b Spot, radio string, alarm bool) (Heard, error) {
	e := NewEther(p)
	h, err := e.Hear(a, b, radio, alarm)
	if err != nil || radio == "wired" {
		return h, err
	}
	h.judge(*e.rooms[a.Room], *e.rooms[b.Room], radio, System(p))
	return h, nil
}

// Ether is a home as its radios see it: for asking about many links, without words.
type Ether struct {
	rooms   map[string]*model.Room
	floors  map[int][]plot
	wall    float64 // dB of one wall beyond an ordinary partition
	floor   float64 // dB of one floor
	assumed []string
}

// plot is the ground of a room, in metres.
type plot struct{ x0, x1, y0, y1 float64 }

// NewEther gathers what links of a home depend on.
func NewEther(p *model.Project) *Ether {
	e := &Ether{rooms: make(map[string]*model.Room, len(p.Rooms)), floors: map[int][]plot{}}
	for i := range p.Rooms {
		r := &p.Rooms[i]
		if _, twice := e.rooms[r.ID]; !twice {
			e.rooms[r.ID] = r
		}
		o := r.Outline
		e.floors[r.Floor] = append(e.floors[r.Floor], plot{float64(o.X), float64(o.X + o.Width), float64(o.Y), float64(o.Y + o.Depth)})
	}
	kind, known := p.Home.Walls.Get()
	if !known {
		kind = "concrete"
		e.assumed = append(e.assumed, "nobody knows what the inner walls are made of, concrete is taken")
	}
	loss, ok := site.WallLoss(kind)
	if !ok {
		loss, _ = site.WallLoss("concrete")
	}
	if e.floor, ok = floorLosses[kind]; !ok {
		e.floor = floorLosses["concrete"]
	}
	e.wall = math.Max(0, loss-site.OrdinaryWall)
	return e
}

// WallsKnown tells whether somebody noted what the inner walls are made of.
func (e *Ether) WallsKnown() bool { return len(e.assumed) == 0 }

// Placed tells whether a room has an outline, without which nothing can be said of its links.
func (e *Ether) Placed(room string) bool {
	r := e.rooms[room]
	return r != nil && r.Outline.Width > 0 && r.Outline.Depth > 0
}

// Hear is Link without its sentence.
func (e *Ether) Hear(a, b Spot, radio string, alarm bool) (Heard, error) {
	h := Heard{Least: site.UsualMargin}
	if alarm {
		h.Least = site.AlarmMargin
	}
	if radio == "wired" {
		h.OK, h.Say = true, "A wire carries it."
		return h, nil
	}
	spec, ok := site.Radios[radio]
	if !ok {
		return h, fmt.Errorf("no figures for a radio %q; there are ble, thread, wifi and zigbee", radio)
	}
	ra, okA := e.rooms[a.Room]
	rb, okB := e.rooms[b.Room]
	if !okA || !okB {
		return h, fmt.Errorf("no room %q or no room %q in the project", a.Room, b.Room)
	}
	ax, ay, az, placedA := place(ra, a)
	bx, by, bz, placedB := place(rb, b)
	if !placedA || !placedB {
		h.assume("a room of the two has no outline: 15 m are taken for the way")
		ax, ay, bx, by = 0, 0, 15, 0
	}
	h.Assumed = append(h.Assumed, e.assumed...)
	h.Metres = math.Max(1, math.Sqrt((ax-bx)*(ax-bx)+(ay-by)*(ay-by)+(az-bz)*(az-bz)))
	h.Floors = abs(ra.Floor - rb.Floor)
	if placedA && placedB {
		h.Walls = e.crossed(ax, ay, ra.Floor, bx, by, rb.Floor)
	} else {
		h.Walls = 3
	}
	m, err := site.Link{MHz: spec.MHz, Metres: math.Min(h.Metres, farthest), Floors: min(h.Floors, mostFloors), FloorLoss: e.floorLoss(h.Floors), Walls: math.Min(120, e.wall*float64(h.Walls)),
		Transmit: spec.Transmit, Sensitivity: spec.Sensitivity, FadeMargin: h.Least}.Reckon()
	if err != nil {
		return h, err
	}
	h.Margin = m
	h.OK = h.Margin.Spare >= h.Least
	return h, nil
}

// Clear is more than a link between two places can have to spare, in dB: its way through the air and the floors alone. It takes
// no time, and tells the links that are out of the question.
func (e *Ether) Clear(a, b Spot, radio string) float64 {
	spec := site.Radios[radio]
	d := math.Max(1, e.Metres(a, b))
	floors := abs(e.rooms[a.Room].Floor - e.rooms[b.Room].Floor)
	m, err := site.Link{MHz: spec.MHz, Metres: math.Min(d, farthest), Floors: min(floors, mostFloors), FloorLoss: e.floorLoss(floors),
		Transmit: spec.Transmit, Sensitivity: spec.Sensitivity}.Reckon()
	if err != nil {
		return math.Inf(1)
	}
	return m.Spare
}

// floorLoss is what one of some floors takes, in dB. All together take no more than the formula goes to, which no radio gets through.
func (e *Ether) floorLoss(floors int) float64 {
	if floors == 0 {
		return e.floor
	}
	return math.Min(e.floor, mostFloorLoss/float64(min(floors, mostFloors)))
}

// Metres between two places in rooms that are there, through walls and floors.
func (e *Ether) Metres(a, b Spot) float64 {
	ax, ay, az, _ := place(e.rooms[a.Room], a)
	bx, by, bz, _ := place(e.rooms[b.Room], b)
	return math.Sqrt((ax-bx)*(ax-bx) + (ay-by)*(ay-by) + (az-bz)*(az-bz))
}

// face is how far off a wall's face a place is reckoned at least, in metres: what hangs on a wall has that wall before it on its way
// out, so it has to stand in its room.
const face = q.Length(0.06)

// off is a place along a side of a room, off the faces of its walls.
func off(at, side q.Length) q.Length {
	switch {
	case side < 2*face || at < -face || at > side+face:
		return at
	case at < face:
		return face
	}
	return min(at, side-face)
}

func place(r *model.Room, s Spot) (x, y, z float64, ok bool) {
	o := r.Outline
	at := s.At.Or(model.Point{X: o.Width / 2, Y: o.Depth / 2})
	height := s.Height
	if height == 0 {
		height = usualSpotH
	}
	return float64(o.X + off(at.X, o.Width)), float64(o.Y + off(at.Y, o.Depth)), float64(r.Floor)*storey + height, o.Width > 0 && o.Depth > 0
}

// crossed counts the walls between two points: the changes of room along the straight way, each floor having its equal
// share of it. Rooms a hand's breadth apart share a wall.
func (e *Ether) crossed(ax, ay float64, af int, bx, by float64, bf int) int {
	steps := abs(bf - af)
	share := 1 / float64(steps+1)
	walls := 0
	for i := 0; i <= steps; i++ {
		floor := af + i*sign(bf-af)
		walls += changes(e.floors[floor], ax, ay, bx-ax, by-ay, float64(i)*share, float64(i+1)*share)
	}
	return walls
}

// changes of room on one floor while the way goes from t0 to t1 of it.
func changes(rooms []plot, x, y, dx, dy, t0, t1 float64) int {
	type stay struct{ in, out float64 }
	var room [16]stay // most ways cross no more rooms
	stays := room[:0]
	length := math.Hypot(dx, dy)
	west, east := order(x+t0*dx, x+t1*dx)
	south, north := order(y+t0*dy, y+t1*dy)
	for i := range rooms {
		o := &rooms[i]
		if o.x1 < west || o.x0 > east || o.y1 < south || o.y0 > north {
			continue // most rooms of a large home are nowhere near the way
		}
		in, out := t0, t1
		if !clip(x, dx, o.x0, o.x1, &in, &out) || !clip(y, dy, o.y0, o.y1, &in, &out) {
			continue
		}
		if (out-in)*length > 0.05 {
			stays = append(stays, stay{in, out})
		}
	}
	slices.SortFunc(stays, func(a, b stay) int { return cmp.Compare(a.in, b.in) })
	walls := 0
	for i := 1; i < len(stays); i++ {
		gap := (stays[i].in - stays[i-1].out) * length
		walls++
		if gap > 0.6 {
			walls++ // a space that nobody surveyed lies between, with a wall on either side
		}
	}
	return walls
}

func order(a, b float64) (low, high float64) { return min(a, b), max(a, b) }

// clip narrows in..out to where from + t d lies between low and high.
func clip(from, d, low, high float64, in, out *float64) bool {
	if math.Abs(d) < 1e-9 {
		return from > low && from < high
	}
	a, b := order((low-from)/d, (high-from)/d)
	*in, *out = max(*in, a), min(*out, b)
	return *in < *out
}

func (h *Heard) judge(a, b model.Room, radio string, u q.System) {
	way := fmt.Sprintf("%s from %s to %s", q.Length(h.Metres).Show(u), the(a), the(b))
	if a.ID == b.ID {
		way = fmt.Sprintf("%s inside %s", q.Length(h.Metres).Show(u), the(a))
	}
	if h.Walls > 0 {
		way += ", through " + english.Count(h.Walls, "wall", "walls")
	}
	if h.Floors > 0 {
		join := " and "
		if h.Walls == 0 {
			join = ", through "
		}
		way += join + english.Count(h.Floors, "floor", "floors")
	}
	chance := fmt.Sprintf("%.0f of 100 such links work", math.Floor(100*h.Margin.Works))
	if h.Margin.Works > 0.995 {
		chance = "as good as every such link works"
	}
	if h.OK {
		h.Say = fmt.Sprintf("%s: %.0f dB to spare, %.0f are wanted; %s.", english.Upper(way), h.Margin.Spare, h.Least, chance)
		return
	}
	h.Say = fmt.Sprintf("%s: %s to spare, and %.0f are wanted (%s): %s.", english.Upper(way), decibels(h.Margin.Spare), h.Least, chance, nearer(radio))
}

// Passes tells whether there are parts that pass a radio's messages on: nothing does so for Wi-Fi, which has access points.
func Passes(radio string) bool { return radio == "zigbee" || radio == "thread" || radio == "ble" }

// nearer is what to do about a radio that doesn't carry.
func nearer(radio string) string {
	if name := catalogue.RadioName(radio); Passes(radio) {
		return "put a part that repeats " + name + " between them, or bring the controller nearer"
	}
	return "put an access point nearer, bring the controller nearer, or take a part of another radio"
}

// decibels to spare, or below what the receiver hears.
func decibels(v float64) string {
	if v < 0 {
		return fmt.Sprintf("%.0f dB less than the receiver hears, nothing", -v)
	}
	return fmt.Sprintf("only %.0f dB", v)
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

func sign(n int) int {
	if n < 0 {
		return -1
	}
	return 1
}

// Between is where a mains part that repeats does most good: the room whose middle is heard best from both ends. It is false
// where no room makes the way better than it is.
func Between(p *model.Project, a, b Spot, radio string, alarm bool) (room model.Room, first, second Heard, ok bool) {
	straight, err := Link(p, a, b, radio, alarm)
	if err != nil || !Passes(radio) {
		return room, first, second, false
	}
	best := straight.Margin.Spare
	for _, r := range p.Rooms {
		if r.Outline.Width <= 0 || r.Outline.Depth <= 0 {
			continue
		}
		// What a repeater hears from an alarm's battery needs the alarm's margin; what it sends on has its own.
		one, err1 := Link(p, a, Spot{Room: r.ID}, radio, alarm)
		two, err2 := Link(p, Spot{Room: r.ID}, b, radio, false)
		if err1 != nil || err2 != nil {
			continue
		}
		if worse := math.Min(one.Margin.Spare, two.Margin.Spare); worse > best+1e-9 {
			best, room, first, second, ok = worse, r, one, two, true
		}
	}
	return room, first, second, ok
}
