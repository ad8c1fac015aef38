package bill

import (
	"context"
	"fmt"
	"math"
	"sort"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/needs"
)

// group is the needs that one part could share: those of a switch box, of a room's air, of its water
// points. Groups share nothing but controllers, so each is solved by itself.
type group struct {
	room  string
	types []spotType
	gangs int // in-box parts that the box has room for; 0 is no bound
	sig   string
	front *front // ways to cover it; shared by groups of equal sig
}

// spotType is the spots of a group that differ in nothing but their names.
type spotType struct {
	sig     string
	spots   []spot
	best    int // the want that is served; unserved when none can be
	near    []refusal
	assumed []unknown
}

const unserved = -1

// grouped sorts needs into groups and finds the ways to cover each, unless they are among those solved already. Groups
// stand in the order of their first need.
func grouped(ctx context.Context, sh *shelf, hs *hosts, p *model.Project, ns []needs.Need, minds [tolls]bool, solved map[string]*group) ([]*group, error) {
	where := buttonPlaces(p)
	var order []string
	spots := map[string][]spot{}
	for i, n := range ns {
		if forHost(n) {
			continue // hosts.go sees to it
		}
		sp := spot{Need: n, Facts: n.Facts, order: i, forced: p.Choices.Use[n.ID]}
		sp.key, sp.sig = shareKey(sp, where), signature(sp)
		if spots[sp.key] == nil {
			order = append(order, sp.key)
		}
		spots[sp.key] = append(spots[sp.key], sp)
	}
	var gs []*group
	for _, k := range order {
		for _, part := range newGroup(spots[k]).parted(sh, hs) {
			gs = append(gs, part)
			same := solved[part.sig]
			if same == nil {
				part.front = newFront(ctx, sh, hs, part, minds)
				if err := ctx.Err(); err != nil {
					return nil, err // the front may be cut short
				}
				solved[part.sig] = part
				continue
			}
			part.front = same.front
			for i := range part.types {
				t, o := &part.types[i], same.types[i]
				t.best, t.near, t.assumed = o.best, o.near, o.assumed
			}
		}
	}
	sort.SliceStable(gs, func(i, j int) bool { return gs[i].first() < gs[j].first() })
	return gs, ctx.Err()
}

// first is the order of the group's first need.
func (g *group) first() int {
	first := math.MaxInt
	for _, t := range g.types {
		first = min(first, t.spots[0].order)
	}
	return first
}

// parted splits a group whose spots could share a part by their places, but where no article would serve
// them together: what touches nothing is cheaper to solve by itself. A full box or a spacer that helps
// keeps its box together.
func (g *group) parted(sh *shelf, hs *hosts) []*group {
	if len(g.types) < 2 || g.gangs > 0 || len(sh.usefulSpacers(g, hs.spoken)) > 1 {
		return []*group{g}
	}
	of := make([]int, len(g.types)) // the part that each type belongs to
	for i := range of {
		of[i] = i
		for j := 0; j < i; j++ {
			if of[i] != of[j] && sh.together(g.types[i].spots[0], g.types[j].spots[0], hs.spoken) {
				from := of[i]
				for k := 0; k <= i; k++ {
					if of[k] == from {
						of[k] = of[j]
					}
				}
			}
		}
	}
	var parts []*group
	for p := range of {
		var sps []spot
		for i := range of {
			if of[i] == p {
				sps = append(sps, g.types[i].spots...)
			}
		}
		if len(sps) > 0 {
			sort.Slice(sps, func(i, j int) bool { return sps[i].order < sps[j].order })
			parts = append(parts, newGroup(sps))
		}
	}
	return parts
}

// together reports whether some article may serve two spots of a group at once.
func (s *shelf) together(a, b spot, spoken int) bool {
	x, y := s.served(a, nil, spoken), s.served(b, nil, spoken)
	for _, v := range x.all {
		for _, u := range y.all {
			if v.article != u.article || v.Place == "lamp" || v.Place == "fitting" {
				continue
			}
			if family(firstWant(a)) == inAir && a.Wants[v.rank] != b.Wants[u.rank] ||
				family(firstWant(a)) != inAir && v.Channels > 1 {
				return true
			}
		}
	}
	return false
}

// forHost reports whether a need is for a controller itself.
func forHost(n needs.Need) bool { return len(n.Wants) > 0 && n.Wants[0] == catalogue.Host }

func newGroup(sps []spot) *group {
	g := &group{room: sps[0].Room}
	for _, sp := range sps {
		if sp.Box != "" && sp.Gangs > 0 && sp.Gangs < len(sps) {
			g.gangs = sp.Gangs // else it can't be overfull: a spot takes one part of the box at most
		}
	}
	at := map[string]int{}
	for _, sp := range sps {
		i, ok := at[sp.sig]
		if !ok || g.gangs > 0 { // in an overfull box equal spots may fare differently
			i = len(g.types)
			at[sp.sig] = i
			g.types = append(g.types, spotType{sig: sp.sig})
		}
		g.types[i].spots = append(g.types[i].spots, sp)
	}
	sort.SliceStable(g.types, func(i, j int) bool { return g.types[i].sig < g.types[j].sig })
	var b strings.Builder
	for _, t := range g.types {
		fmt.Fprintf(&b, "%d*%s;", len(t.spots), t.sig)
	}
	fmt.Fprintf(&b, "gangs %d", g.gangs)
	for _, t := range g.types {
		before := 0 // in an overfull box the later of two spots gives way: who comes first is part of what it is
		for _, o := range g.types {
			if g.gangs > 0 && o.spots[0].order < t.spots[0].order {
				before++
			}
		}
		fmt.Fprintf(&b, " %d", before)
	}
	g.sig = b.String()
	return g
}

// signature is everything about a spot that decides which parts serve it.
func signature(sp spot) string {
	f := sp.Facts
	return fmt.Sprint(sp.Wants, f.Box != "", f.Gangs, f.Neutral, f.Depth, f.Lamps, f.Base, f.Flux, f.Dimmable, f.Load, f.LoadKind,
		f.Ingress, f.Zone, f.Presses, f.Pipe, f.Fixed, f.Soon, f.Blind, f.ComesOff, "!", sp.forced)
}

// Families of abilities that spots share parts in.
const (
	alone = iota
	inBox
	inAir
	inWater
	atHand
)

func family(a catalogue.Ability) int {
	switch a {
	case catalogue.SwitchLamp, catalogue.DimLamp, catalogue.TuneLamp, catalogue.SwitchFan:
		return inBox
	case catalogue.SenseMotion, catalogue.SenseStill, catalogue.SenseHumidity:
		return inAir
	case catalogue.SenseWet:
		return inWater
	case catalogue.Press:
		return atHand
	}
	return alone
}

// shareKey is equal for spots that one part could serve together.
func shareKey(sp spot, where map[string]string) string {
	if len(sp.Wants) > 0 {
		switch family(sp.Wants[0]) {
		case inBox:
			if sp.Box != "" {
				return "box " + sp.Box
			}
		case inAir:
			return "air " + sp.Room
		case inWater:
			return "water " + sp.Room
		case atHand:
			if w := where[sp.ID]; w != "" {
				return "hand " + sp.Room + " " + w
			}
		}
	}
	return fmt.Sprint("need ", sp.order)
}

// buttonPlaces says where each button of the project is wanted; buttons at one place may share a plate.
func buttonPlaces(p *model.Project) map[string]string {
	at := map[string]string{}
	for _, r := range p.Rooms {
		for _, b := range r.Brief.Buttons.Want {
			at[r.ID+"/"+b.ID] = strings.ToLower(strings.TrimSpace(b.Where))
		}
	}
	return at
}
