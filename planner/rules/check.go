package rules

import (
	"fmt"
	"slices"
	"time"

	q "example.org/roombrief/model/quantity"
)

// compiler checks a sheet and builds its program.
type compiler struct {
	p        *Program
	started  map[string]bool
	at       string // rule in hand
	problems []error
}

func (c *compiler) wrong(text string, args ...any) {
	c.problems = append(c.problems, Problem{c.at, fmt.Sprintf(text, args...)})
}

func (c *compiler) things() {
	for i, t := range c.p.sheet.Things {
		if t.ID == "" {
			c.wrong("thing %d has no id", i+1)
		}
		if _, twice := c.p.thingAt[t.ID]; twice {
			c.wrong("two things are called %s", t.ID)
		}
		if t.Kind < Lamp || t.Kind > Flag {
			c.wrong("%s is of no kind that rules know", t.ID)
		}
		c.p.thingAt[t.ID] = i
	}
	c.feeds()
}

// feeds notes what the mains of things come through: a plug, whose own come through nothing.
func (c *compiler) feeds() {
	for i, t := range c.p.sheet.Things {
		if t.Feed == "" {
			continue
		}
		f, ok := c.p.thingAt[t.Feed]
		if !ok || c.p.sheet.Things[f].Kind != Plug || c.p.sheet.Things[f].Feed != "" || !accepts(t.Kind, HandSet) {
			c.wrong("the mains of %s can't come through %s", t.ID, t.Feed)
			continue
		}
		if c.p.fedBy == nil {
			c.p.fedBy = make([]int32, len(c.p.sheet.Things))
			for j := range c.p.fedBy {
				c.p.fedBy[j] = -1
			}
		}
		c.p.fedBy[i] = int32(f)
	}
}

// names numbers the waits and notes which ones some rule starts.
func (c *compiler) names() {
	wait := func(id string) {
		if _, ok := c.p.waitAt[id]; !ok && id != "" {
			c.p.waitAt[id] = len(c.p.waits)
			c.p.waits = append(c.p.waits, id)
		}
	}
	seen := map[string]bool{}
	for _, r := range c.p.sheet.Rules {
		c.at = r.ID
		if r.ID == "" || seen[r.ID] {
			c.wrong("a rule needs an id of its own")
		}
		seen[r.ID] = true
		if r.Cause.Kind == Ended {
			wait(r.Cause.Wait)
		}
		for _, e := range r.Effects {
			if e.Kind == Start {
				c.started[e.Wait] = true
			}
			wait(e.Wait)
		}
	}
}

func (c *compiler) rule(i int) {
	src := &c.p.sheet.Rules[i]
	c.at = src.ID
	r := rule{kind: src.Cause.Kind, thing: -1, than: -1, again: src.Again}
	if src.Again < Restart || src.Again > Stack {
		c.wrong("it doesn't say what a second start of a wait does")
	}
	r.guard = c.literals(src.Guard)
	for _, e := range src.Effects {
		r.effects = append(r.effects, c.effect(e))
	}
	if len(src.Effects) == 0 && len(src.Hold) == 0 {
		c.wrong("it has no effect")
	}
	c.cause(int32(i), src, &r)
	if len(src.Hold) > 0 {
		c.hold(src)
	}
	c.p.rules = append(c.p.rules, r)
}

func (c *compiler) hold(src *Rule) {
	w, ok := c.p.waitAt[src.Cause.Wait]
	if src.Cause.Kind != Ended || !ok {
		c.wrong("only the end of a wait can be held")
		return
	}
	for _, l := range src.Hold {
		if l.Kind == Running && l.Wait == src.Cause.Wait {
			c.wrong("the wait %s holds itself, so it would never end", l.Wait)
		}
	}
	h := &c.p.holds[w]
	h.any = append(h.any, c.literals(src.Hold)...)
	h.seconds = max(h.seconds, c.seconds(src.HoldFor, 0))
}

// cause checks the cause and files the rule under what sets it off.
func (c *compiler) cause(i int32, src *Rule, r *rule) {
	k := src.Cause
	thing := func(fits string, kinds ...ThingKind) {
		r.thing = c.thing(k.Thing, fits, kinds...)
		if r.thing >= 0 {
			c.p.byThing[r.thing] = append(c.p.byThing[r.thing], i)
		}
	}
	switch k.Kind {
	case Reports:
		thing("reports", Motion, Presence, Door, Probe)
		r.on = k.On
	case Over, Under:
		thing("has a reading", Hygrometer, Meter)
		r.threshold = c.reading(k.Threshold)
		if k.Than != "" {
			r.than = c.thing(k.Than, "has a reading", Hygrometer, Meter)
			if r.than >= 0 && r.than != r.thing {
				c.p.byThing[r.than] = append(c.p.byThing[r.than], i)
			}
		}
	case Rises:
		thing("has a reading", Hygrometer, Meter)
		if k.Threshold < 1 || k.Threshold > 1000 {
			c.wrong("a rise is of 1 to 1000, not %d", k.Threshold)
			return
		}
		r.own = int32(len(c.p.rises))
		c.p.rises = append(c.p.rises, rise{thing: r.thing, threshold: int32(k.Threshold), seconds: c.seconds(k.For, 1)})
	case StaysUnder:
		c.stay(i, k)
	case Pressed:
		thing("is pressed", ButtonOf)
		r.press = k.Press
		if k.Press < Single || k.Press > Hold {
			c.wrong("it names no press of a button")
		}
	case Became:
		thing("has a value", Lamp, Fan, Valve, Plug, Sounder, Motion, Presence, Door, Hygrometer, Probe, Meter, Flag)
		r.on, r.any, r.hand, r.plain = k.On, k.Any, k.ByHand, k.Plain
		if k.Plain && (!k.On || k.Any || !k.ByHand || r.thing >= 0 && c.p.sheet.Things[r.thing].Kind != Lamp) {
			c.wrong("only a person can switch on, and only a lamp, without a level")
		}
	case Clock:
		r.time = c.time(k.At)
	case Ended:
		w, ok := c.p.waitAt[k.Wait]
		if !ok || !c.started[k.Wait] {
			c.wrong("nothing starts the wait %q", k.Wait)
			return
		}
		c.p.byWait[w] = append(c.p.byWait[w], i)
	case PowerBack:
		c.p.power = append(c.p.power, i)
	default:
		c.wrong("it has no cause that rules know")
	}
}

func (c *compiler) stay(i int32, k Cause) {
	t := c.thing(k.Thing, "has a reading", Hygrometer, Meter)
	s := stay{thing: t, threshold: c.reading(k.Threshold), seconds: c.seconds(k.For, 1)}
	for n := range c.p.stays {
		if o := &c.p.stays[n]; o.thing == s.thing && o.threshold == s.threshold && o.seconds == s.seconds {
			o.rules = append(o.rules, i)
			return
		}
	}
	s.rules = []int32{i}
	c.p.stays = append(c.p.stays, s)
}

func (c *compiler) thing(id, fits string, kinds ...ThingKind) int32 {
	i, ok := c.p.thingAt[id]
	switch {
	case !ok:
		c.wrong("there is no thing %q", id)
		return -1
	case !slices.Contains(kinds, c.p.sheet.Things[i].Kind):
		c.wrong("%s is no thing that %s", id, fits)
		return -1
	}
	return int32(i)
}

func (c *compiler) reading(v int) int32 {
	if v < 0 || v > MaxReading {
		c.wrong("a threshold is from 0 to %d, not %d", MaxReading, v)
		return 0
	}
	return int32(v)
}

func (c *compiler) seconds(s q.Span, least int32) int32 {
	d := time.Duration(s)
	if d%time.Second != 0 || d < time.Duration(least)*time.Second || d > MaxWait*time.Second {
		c.wrong("a time is whole seconds from %d on, not %v", least, d)
		return least
	}
	return int32(d / time.Second)
}

func (c *compiler) time(t q.DayTime) int32 {
	if t.Offset%time.Second != 0 || t.Sun == q.NoSun && (t.Offset < 0 || t.Offset >= 24*time.Hour) {
		c.wrong("%v is no time of a day", t.Offset)
	}
	for i, o := range c.p.times {
		if o == t {
			return int32(i)
		}
	}
	c.p.times = append(c.p.times, t)
	return int32(len(c.p.times) - 1)
}

func (c *compiler) literals(ls []Literal) []literal {
	var out []literal
	for _, l := range ls {
		x := literal{kind: l.Kind, not: l.Not, thing: -1, than: -1, wait: -1}
		switch l.Kind {
		case Is:
			x.thing = c.thing(l.Thing, "is on or off", Lamp, Fan, Valve, Plug, Sounder, Motion, Presence, Door, Probe, Flag)
		case ReadsOver:
			x.thing, x.threshold = c.thing(l.Thing, "has a reading", Hygrometer, Meter), c.reading(l.Threshold)
			if l.Than != "" {
				x.than = c.thing(l.Than, "has a reading", Hygrometer, Meter)
			}
		case Between:
			x.from, x.to = c.time(l.From), c.time(l.To)
		case Running:
			w, ok := c.p.waitAt[l.Wait]
			if !ok || !c.started[l.Wait] {
				c.wrong("it looks at the wait %q, which nothing starts", l.Wait)
				continue
			}
			x.wait = int32(w)
		default:
			c.wrong("a guard says nothing that rules know")
		}
		out = append(out, x)
	}
	return out
}

func (c *compiler) effect(e Effect) effect {
	x := effect{kind: e.Kind, thing: -1, wait: -1}
	switch e.Kind {
	case Set:
		x.thing = c.thing(e.Thing, "rules can set", Lamp, Fan, Valve, Plug, Sounder, Flag)
		if v := e.Value; v.Level < 0 || v.Level > 100 || v.Colour < 0 || v.Colour > MaxColour {
			c.wrong("%s can't be set to level %d, colour %d", e.Thing, v.Level, v.Colour)
		} else if x.thing >= 0 {
			x.value = normal(c.p.sheet.Things[x.thing].Kind, v)
		}
	case Start, Stop:
		w, ok := c.p.waitAt[e.Wait]
		switch {
		case !ok:
			c.wrong("a wait needs a name")
		case !c.started[e.Wait]:
			c.wrong("it stops the wait %q, which nothing starts", e.Wait)
		}
		x.wait = int32(w)
		if e.Kind == Start {
			x.seconds = c.seconds(e.For, 1)
		}
	case Tell:
	default:
		c.wrong("an effect does nothing that rules know")
	}
	return x
}
