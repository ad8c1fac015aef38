package bill

import (
	"math"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/site"
)

// net is the home as its radios see it. Its nodes are the rooms that have an outline, each heard as the worst of its middle and the
// places that are noted in it, and behind them the named places of controllers in such rooms.
//
// A device is in reach when its link to a controller that speaks its radio has enough to spare, or its links to and along
// devices that pass on that radio's messages have. Wi-Fi is passed on by nobody: it is taken to come from where
// the controller is. Controllers in places that nobody named are taken to sit at the first named one
// that is known.
type net struct {
	ether *physics.Ether
	rooms []string
	where [][]physics.Spot // of a room: its middle, and the places that are noted in it
	at    map[string]int   // room to node
	seats []seat
	seat  map[string]int // controller's place to seat

	spare  [][]float64     // by node and node after it: dB with the first radio; NaN where it isn't reckoned yet, nil where none is
	offset [radios]float64 // dB that another radio has more
	near   [radios][][]int // by room: those that hear it; nil where that isn't reckoned yet
}

// seat is a named place of a controller.
type seat struct {
	model.Controller
	spot  physics.Spot
	loose bool // nobody knows where: it is taken to hear everything
}

// newNet is nil where no place of a controller is known: then all is taken to be in reach.
func newNet(p *model.Project) *net {
	n := &net{ether: physics.NewEther(p), at: map[string]int{}, seat: map[string]int{}}
	for _, r := range p.Rooms {
		if _, twice := n.at[r.ID]; !twice && n.ether.Placed(r.ID) {
			n.at[r.ID] = len(n.rooms)
			n.rooms = append(n.rooms, r.ID)
			places := []physics.Spot{{Room: r.ID}}
			for _, at := range physics.Places(p, &r) {
				places = append(places, physics.Spot{Room: r.ID, At: model.Know(at)})
			}
			n.where = append(n.where, places)
		}
	}
	known := false
	for _, c := range p.Controllers {
		_, ok := n.at[c.Room]
		known = known || ok
		n.seat[c.ID] = len(n.seats)
		n.seats = append(n.seats, seat{c, physics.Spot{Room: c.Room, At: c.Position}, !ok})
	}
	if !known {
		return nil
	}
	n.spare = make([][]float64, len(n.rooms)+len(n.seats))
	first := site.Radios[Radios[0]]
	for r := range n.offset {
		n.near[r] = make([][]int, len(n.rooms))
		if spec, ok := site.Radios[Radios[r]]; ok {
			n.offset[r] = (spec.Transmit - spec.Sensitivity - 20*math.Log10(spec.MHz)) - (first.Transmit - first.Sensitivity - 20*math.Log10(first.MHz))
		}
	}
	return n
}

// first is the first seat that somebody knows.
func (n *net) first() int {
	for i := range n.seats {
		if !n.seats[i].loose {
			return i
		}
	}
	return 0
}

// node of a seat.
func (n *net) node(seat int) int { return len(n.rooms) + seat }

func (n *net) spot(node int) physics.Spot {
	if node >= len(n.rooms) {
		return n.seats[node-len(n.rooms)].spot
	}
	return physics.Spot{Room: n.rooms[node]}
}

// over is what a link between two nodes has to spare, in dB.
func (n *net) over(a, b, radio int) float64 {
	if a > b {
		a, b = b, a
	}
	if b >= len(n.rooms) && n.seats[b-len(n.rooms)].loose {
		return math.Inf(1)
	}
	if n.spare[a] == nil {
		n.spare[a] = make([]float64, len(n.spare)-a)
		for i := range n.spare[a] {
			n.spare[a][i] = math.NaN()
		}
	}
	db := n.spare[a][b-a]
	if math.IsNaN(db) {
		db = math.Inf(1)
		for _, x := range n.places(a) {
			for _, y := range n.places(b) {
				db = min(db, n.link(x, y))
			}
		}
		n.spare[a][b-a] = db
	}
	return db + n.offset[radio]
}

// places of a node: those of a room's devices, or the one of a seat.
func (n *net) places(node int) []physics.Spot {
	if node < len(n.rooms) {
		return n.where[node]
	}
	return []physics.Spot{n.spot(node)}
}

// link is what the first radio has to spare between two places, in dB.
func (n *net) link(x, y physics.Spot) float64 {
	db := n.ether.Clear(x, y, Radios[0])
	if db <= 0 {
		return db
	}
	if h, err := n.ether.Hear(x, y, Radios[0], false); err == nil {
		db = h.Margin.Spare
	}
	return db
}

// heard reports whether a link will do: with an alarm on batteries at one end it needs more.
func (n *net) heard(a, b, radio int, alarm bool) bool {
	least := site.UsualMargin
	if alarm {
		least = site.AlarmMargin
	}
	return n.over(a, b, radio) >= least
}

// around are the rooms from which a device that passes a radio on would be heard in a room, that room among them.
func (n *net) around(room, radio int) []int {
	list := n.near[radio][room]
	if list == nil {
		list = []int{}
		for q := range n.rooms {
			if n.heard(q, room, radio, false) {
				list = append(list, q)
			}
		}
		n.near[radio][room] = list
	}
	return list
}

// wired reports whether a radio needs no air.
func wired(radio int) bool { return Radios[radio] == "wired" }

// meshes reports whether devices pass a radio's messages on.
func meshes(radio int) bool { return physics.Passes(Radios[radio]) }

// passes are the radios that an article passes on, as bits, and alarms those on which it is an alarm on batteries.
func (a *article) passes() (bits uint8) {
	if a.Repeats && a.radio >= 0 && meshes(a.radio) && a.Supply != "battery" {
		bits = 1 << a.radio
	}
	for _, x := range a.with {
		bits |= x.article.passes()
	}
	return bits
}

func (a *article) alarms() uint8 {
	if a.radio >= 0 && a.Supply == "battery" && does(a.Part, catalogue.SenseWet) {
		return 1 << a.radio
	}
	return 0
}
