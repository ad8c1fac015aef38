package proof

import (
	"context"
	"os"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

func TestSlow(t *testing.T) {
	room := os.Getenv("ROOM")
	if room == "" {
		t.Skip()
	}
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		d := ideal.Draft(p)
		o := ideal.Usual()
		o.Year = ideal.YearOf(p)
		ix := promises.NewIndex(d.Sheet)
		if h.File[:3] != os.Getenv("HOME3") {
			continue
		}
		for _, x := range promises.OfRoom(p, ix, o, rules.Equinox, room) {
			t0 := time.Now()
			v, err := prove(context.Background(), ix, x, Usual, nil)
			println(x.ID, v.State, v.Why, v.Zones, v.Spots, v.Timers, time.Since(t0).String(), err)
		}
	}
}

func TestHullPath(t *testing.T) {
	id := os.Getenv("PROMISE")
	if id == "" {
		t.Skip()
	}
	for _, h := range fixtures.Homes() {
		if h.File[:3] != os.Getenv("HOME3") {
			continue
		}
		p := projectfile.Parse(h.Source).Project()
		d := ideal.Draft(p)
		o := ideal.Usual()
		o.Year = ideal.YearOf(p)
		ix := promises.NewIndex(d.Sheet)
		for _, x := range promises.OfAll(p, ix, o, rules.Equinox) {
			if x.ID != id {
				continue
			}
			cs, _ := x.Cases(ix)
			for _, c := range cs {
				for _, th := range c.Slice().Things {
					print(th.ID, " ")
				}
				println()
				sys := c.System(false)
				e := newExplorer(context.Background(), newGraph(sys), limits{zones: 60000, hull: true, acts: -1}, func(s *spot) bool { return s.broken })
				out := e.run()
				println(out.Kind, out.Zones)
				for i := range e.nodes {
					if !e.g.spots[e.nodes[i].spot].broken {
						continue
					}
					var ls []string
					for at := int32(i); e.nodes[at].parent >= 0; at = e.nodes[at].parent {
						ls = append(ls, sys.Say(e.g.spots[e.nodes[e.nodes[at].parent].spot].steps[e.nodes[at].step].move.Label))
					}
					for k := len(ls) - 1; k >= 0; k-- {
						println("   ", ls[k])
					}
					break
				}
			}
		}
	}
}
