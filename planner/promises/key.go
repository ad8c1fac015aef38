package promises

import (
	"encoding/binary"
	"fmt"
	"strings"

	"example.org/roombrief/planner/rules"
)

// Key names what is proved, exactly and without the names of things: two cases of one key have one verdict.
func (c Case) Key() string {
	k := keyer{thing: map[string]int{}, wait: map[string]int{}}
	for i, t := range c.slice.Things {
		k.thing[t.ID] = i + 1
		touch := 0
		if c.touch[t.ID] {
			touch = 1
		}
		if c.free[t.ID] {
			touch += 2
		}
		k.ints(int(t.Kind), int(t.PowerUp), touch)
		k.flags(t.Room == c.Promise.Room, strings.HasPrefix(t.ID, chances))
	}
	for _, t := range c.slice.Things {
		if t.Feed != "" {
			k.ints(k.thing[t.ID], k.thing[t.Feed])
		}
	}
	for i := range c.slice.Rules {
		k.rule(&c.slice.Rules[i])
	}
	for _, r := range c.relays {
		k.ints(-5, k.thing[r.thing], k.thing[r.heard], int(r.takes))
		k.flags(r.free)
	}
	w := c.Promise.World
	if t, ok := k.thing[c.Promise.Fault.Thing]; ok {
		k.ints(t)
	}
	k.flags(c.Can, c.Promise.Leans("still")) // a broken one that leans on it is asked for how long people may keep still
	key := fmt.Sprintf("%s|%s|%s|%+v|%T%+v|%v", k.b, c.days, c.Promise.Fault.Kind, w, c.watcher(), c.watcher(), c.moments())
	for _, less := range c.less { // what a broken verdict is told of
		for _, r := range less {
			key += "||" + r.Key()
		}
	}
	return key
}

type keyer struct {
	b           []byte
	thing, wait map[string]int
}

func (k *keyer) ints(ns ...int) {
	for _, n := range ns {
		k.b = binary.AppendVarint(k.b, int64(n))
	}
}

func (k *keyer) flags(bs ...bool) {
	for _, b := range bs {
		k.b = append(k.b, flag(b))
	}
}

func (k *keyer) waitOf(id string) int {
	if id == "" {
		return 0
	}
	if _, ok := k.wait[id]; !ok {
		k.wait[id] = len(k.wait) + 1
	}
	return k.wait[id]
}

func (k *keyer) rule(r *rules.Rule) {
	c := r.Cause
	k.ints(-1, int(c.Kind), k.thing[c.Thing], c.Threshold, k.thing[c.Than], int(c.For), int(c.Press), int(c.At.Sun), int(c.At.Offset), k.waitOf(c.Wait))
	k.flags(c.On, c.Any, c.ByHand, c.Plain)
	for _, ls := range [2][]rules.Literal{r.Guard, r.Hold} {
		k.ints(-2)
		for _, l := range ls {
			k.ints(int(l.Kind), k.thing[l.Thing], l.Threshold, k.thing[l.Than], int(l.From.Sun), int(l.From.Offset), int(l.To.Sun), int(l.To.Offset), k.waitOf(l.Wait))
			k.flags(l.Not)
		}
	}
	for _, e := range r.Effects {
		k.ints(-3, int(e.Kind), k.thing[e.Thing], e.Value.Level, e.Value.Colour, k.waitOf(e.Wait), int(e.For))
		k.flags(e.Value.On)
	}
	k.ints(-4, int(r.Again), int(r.HoldFor))
}
