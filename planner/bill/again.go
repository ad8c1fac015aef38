package bill

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// Again finds bill after bill for one home in which only facts of its things differ: what its boxes, lamps and pipes
// are. What such facts don't touch is reckoned once: the shelf, the controllers, and the ways to cover each group of needs
// that has been met before. It is for one goroutine.
type Again struct {
	sh    *shelf
	hosts *hosts
	rules int
	wish
	solved map[string]*group // by signature
	onAir  bool              // devices have to be in reach, so that ways count that nothing else sets apart
	ways   map[*front]int    // number of what a front comes to
	number map[string]int    // of each that has been met
	prior  *prior            // the first home, where its routes took a program to find
}

// NewAgain takes what stays: the home, its controllers and choices, the catalogue, and the sheet with the count of its rules.
func NewAgain(p *model.Project, c *catalogue.Catalogue, sheet rules.Sheet, count Count) (*Again, error) {
	if p == nil || c == nil {
		return nil, errors.New("a bill needs a project and a catalogue")
	}
	sh, err := newShelf(p, c)
	if err != nil {
		return nil, err
	}
	return &Again{sh: sh, hosts: newHosts(sh, p, sheet, count), rules: len(sheet.Rules), wish: wishOf(p), solved: map[string]*group{}, onAir: newNet(p) != nil,
		ways: map[*front]int{}, number: map[string]int{}}, nil
}

// Bill is the bill of least money for the needs, as CheapestFor finds it, without reasons and runners-up, which take most
// of the time. The project may differ from NewAgain's by facts of its things alone.
func (a *Again) Bill(ctx context.Context, p *model.Project, ns []needs.Need) (Bill, error) {
	h, plan, err := a.solve(ctx, p, ns)
	if err != nil {
		return Bill{}, err
	}
	return written(h, p, plan, bare)
}

// Ways stands for all the ways to cover the needs, box by box and room by room. Of two projects with equal Ways the bill comes
// to the same, and so it does when both are changed in a box or room that is the same in both.
func (a *Again) Ways(ctx context.Context, p *model.Project, ns []needs.Need) (string, error) {
	gs, err := grouped(ctx, a.sh, a.hosts, p, ns, a.minds, a.solved)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	if a.onAir {
		fmt.Fprintf(&b, "%v;", p.Home.Walls)
	}
	for _, g := range gs {
		n, ok := a.ways[g.front]
		if !ok {
			key := g.told(a.onAir)
			if n, ok = a.number[key]; !ok {
				n = len(a.number)
				a.number[key] = n
			}
			a.ways[g.front] = n
		}
		fmt.Fprint(&b, n)
		for _, t := range g.types {
			for _, sp := range t.spots {
				fmt.Fprintf(&b, " %d", sp.order)
			}
		}
		b.WriteByte(';')
	}
	return b.String(), nil
}

// told is the ways of a group in text: what each costs and takes, its articles, and how well each need is served.
func (g *group) told(onAir bool) string {
	var b strings.Builder
	for _, t := range g.types {
		fmt.Fprintf(&b, "%d of %d;", t.best, len(t.spots))
	}
	points := g.front.points
	if onAir {
		points = g.front.wide().points
	}
	for _, p := range points {
		fmt.Fprintf(&b, "|%d %v %v", p.cost, p.toll, p.slots)
		if p.spacer != nil {
			fmt.Fprintf(&b, " %s", p.spacer.ID)
		}
		for _, o := range p.offers {
			fmt.Fprintf(&b, " %d %s %v", o.n, o.ID, o.covers)
			for _, x := range o.extras {
				fmt.Fprintf(&b, "+%d %s", x.n, x.ID)
			}
		}
	}
	return b.String()
}

func (a *Again) solve(ctx context.Context, p *model.Project, ns []needs.Need) (*home, solution, error) {
	gs, err := grouped(ctx, a.sh, a.hosts, p, ns, a.minds, a.solved)
	if err != nil {
		return nil, solution{}, err
	}
	h := newHome(ctx, a.sh, a.hosts, gs, ns, a.rules)
	h.wish = a.wish
	if h.router = newRouter(h, newNet(p)); h.router != nil {
		if h.router.prior = a.prior; a.prior.fixed() {
			h.router.most = 1
		}
	}
	plan, err := h.cheapest()
	if k := h.routed; a.prior == nil && k != nil && k.program {
		a.prior = newPrior(h)
	}
	return h, plan, err
}

// Fixed reports whether bills keep to the routes for radio of the first one, because it takes long to seek them anew: then they may
// come out a little dearer than by themselves.
func (a *Again) Fixed() bool { return a.prior.fixed() }
