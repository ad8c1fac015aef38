package promises

import (
	"encoding/binary"
	"fmt"
	"slices"
	"strings"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// Case is one facet of a promise, closed over the rules that bear on it, on days of one sort.
type Case struct {
	Promise Promise
	Can     bool   // it is kept when some story meets it, and can't be broken otherwise
	Name    string // in words: what of the promise it is about; of a Can the rule that is looked for
	Facet   int    // number of the facet; the cases of one facet are its sorts of day

	facet facet
	slice rules.Sheet
	touch map[string]bool
	free  map[string]bool
	less  [][]*Case // where things are free: the cases with less free, and last those with nothing
	prog  *rules.Program

	relays   []relay // what controllers hear of each other
	orders   bool    // something else goes from one to another
	loosened bool    // reports that are idle may come at any time, made or not
	prompt   bool    // all reports come at once

	days string // the shortest and longest of each stretch of the day, packed; "" where each is as long as on the day itself
	when When   // days that it stands for
}

// Cases are what has to be proved for a promise: each facet, on each sort of day that the year has for it.
func (p Promise) Cases(ix *Index) ([]Case, error) {
	var out []Case
	var acted map[string]bool
	if p.Kind == EarnsItsPlace {
		acted = p.walk(ix)
	}
	for n, f := range p.facets {
		if f.can && acted[f.name] {
			continue
		}
		c, err := p.loosely(ix, f)
		if err != nil {
			return nil, err
		}
		for _, one := range c.byDays() {
			one.Facet = n
			out = append(out, *one)
		}
	}
	return out, nil
}

// loosely makes the case of a facet with as much free as may be, and behind it those with less and with nothing free.
func (p Promise) loosely(ix *Index, f facet) (*Case, error) {
	var c *Case
	for _, free := range []map[string]bool{f.free, f.less, nil} {
		f.free = free
		if len(free) == 0 {
			f.heard = nil
		}
		next, err := p.close(ix, f)
		switch {
		case err != nil:
			return nil, err
		case c == nil || len(c.free) == 0:
			c = next
		case len(next.free) == 0 || len(next.free) < len(c.free):
			c.less = append(c.less, next.byDays())
		}
		if len(next.free) == 0 {
			break // nothing that might be free is in it
		}
	}
	return c, nil
}

// Alike reports whether the same has to be proved for a promise on one sheet and for one on another.
func Alike(p Promise, on *Index, q Promise, other *Index) (bool, error) {
	if x, y := p.Computed(), q.Computed(); x != nil && y != nil {
		return *x == *y, nil
	}
	before, err := p.Cases(on)
	if err != nil {
		return false, err
	}
	after, err := q.Cases(other)
	if err != nil {
		return false, err
	}
	return slices.EqualFunc(before, after, func(x, y Case) bool { return x.Key() == y.Key() }), nil
}

// close makes the case of one facet.
func (p Promise) close(ix *Index, f facet) (*Case, error) {
	if f.fault.Kind != NoFault {
		p.Fault = f.fault
	}
	f.room = p.Room
	f.power = p.Fault.Kind == PowerCut || p.Fault.Kind == Restart
	sheet, touch, free := ix.slice(f.want)
	crossed := orders(sheet, ix.sheet.Links)
	sheet, relays := relayed(sheet, ix.sheet.Links)
	for i, r := range relays {
		if free[r.thing] {
			free[r.heard], relays[i].free = true, true
		}
		if touch[r.thing] {
			touch[r.heard] = true
		}
	}
	p.Fault.powerUp(&sheet)
	prog, err := rules.Compile(sheet)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.ID, err)
	}
	return &Case{Promise: p, Can: f.can, Name: f.name, facet: f, slice: sheet, touch: touch, free: free, prog: prog, relays: relays, orders: crossed}, nil
}

// Real are the cases themselves where this one is only larger than them: some things that are only looked at may be
// anything in this one. What is kept here is kept there.
func (c Case) Real() []*Case {
	if len(c.less) == 0 {
		return nil
	}
	return c.less[len(c.less)-1]
}

// Less are the cases between this one and the real ones, with ever less free.
func (c Case) Less() [][]*Case { return c.less[:max(0, len(c.less)-1)] }

// With is the case with something that may fail in its story.
func (c Case) With(f Fault) Case {
	c.Promise.Fault = f
	return c
}

// Sensors are the sensors in the slice.
func (c Case) Sensors() []rules.Thing {
	var out []rules.Thing
	for _, t := range unheard(c.slice.Things) {
		if (t.Kind == rules.Motion || t.Kind == rules.Presence || t.Kind == rules.Door) && !strings.HasPrefix(t.ID, chances) {
			out = append(out, t)
		}
	}
	return out
}

// System closes the case. Where the day doesn't run by the clock its periods may change at any instant.
func (c Case) System(byClock bool) timed.System {
	w := c.Promise.World
	w.ByClock = byClock
	return newSystem(c, w)
}

// Lengths says how long the timers of a system of the case take when whoever is inside moves at least every still
// seconds. Where exactly, each stretch of the day is as long as on the case's day; otherwise as on all days that it stands for.
func (c Case) Lengths(sys timed.System, still int32, exactly bool) func(timed.State, timed.Timer) timed.Timer {
	s, ok := sys.(*system)
	if !ok || still == c.Promise.World.StillFor && !(exactly && c.Loose()) {
		return nil
	}
	return func(st timed.State, t timed.Timer) timed.Timer {
		switch {
		case t.ID == stillTimer:
			t.Lo, t.Hi = still, still
		case t.ID == dayTimer && exactly:
			t.Hi = s.lasts(s.stretch(s.at(st)))
			if t.Lo > 0 { // no clock change has loosened it
				t.Lo = t.Hi
			}
		}
		return t
	}
}

// Steady reports whether a story of a system of the case whose periods may change at any instant is one of each day that the
// case stands for as well: the clock stays in the stretch in which it begins, and that lasts longer on all of them.
func (c Case) Steady(sys timed.System, begin timed.State, after []timed.State, ends int64) bool {
	s, ok := sys.(*system)
	if !ok {
		return false
	}
	clock := s.at(begin).rules.Clock()
	for _, st := range after {
		if s.at(st).rules.Clock() != clock {
			return false
		}
	}
	if len(s.moments) == 0 {
		return true
	}
	k := s.stretch(s.at(begin))
	least, _, ok := c.stretch(k)
	if !ok {
		least = s.lasts(k)
	}
	return ends < int64(least)
}

// Exactly is the case on its day alone, with each stretch as long as it is then.
func (c Case) Exactly() Case { c.days = ""; return c }

// Loose reports whether the case stands for days that differ in the length of their stretches.
func (c Case) Loose() bool { return c.days != "" }

// Size is the number of rules and of waits in the slice.
func (c Case) Size() (ruleCount, waits int) { return len(c.slice.Rules), len(c.prog.Waits()) }

// Slice is the rules that bear on the case.
func (c Case) Slice() rules.Sheet { return c.slice }

// times are the times of day that the case looks at.
func (c Case) times() []q.DayTime {
	out := append([]q.DayTime(nil), c.facet.moments...)
	for i := range c.slice.Rules {
		r := &c.slice.Rules[i]
		if r.Cause.Kind == rules.Clock {
			out = append(out, r.Cause.At)
		}
		for _, ls := range [2][]rules.Literal{r.Guard, r.Hold} {
			for _, l := range ls {
				if l.Kind == rules.Between {
					out = append(out, l.From, l.To)
				}
			}
		}
	}
	slices.SortFunc(out, func(a, b q.DayTime) int {
		if a.Sun != b.Sun {
			return int(a.Sun) - int(b.Sun)
		}
		return int(a.Offset - b.Offset)
	})
	return slices.Compact(out)
}

// SunDoubt is by how much two reckonings of a sun time may differ, in seconds.
const SunDoubt = 10 * 60

// When is the day of a case in which the sun matters, and on how many days of how many the times of day come in the same order. The zero
// When is any day.
type When struct {
	Date  int // day of the year, from 0 on
	Alike int
	Of    int
}

// When says for which days the case stands.
func (c Case) When() When { return c.when }

// Day is the date in words, "" where it is any day.
func (w When) Day() string {
	if w.Of == 0 {
		return ""
	}
	return dayName(w.Date, w.Of)
}

// byDays gives one case for each order in which the moments of the day come over the year. Within an order
// each stretch of the day may last from the shortest to the longest that it does on any of those days.
func (c *Case) byDays() []*Case {
	times := c.times()
	if !slices.ContainsFunc(times, func(t q.DayTime) bool { return t.Sun != q.NoSun }) {
		c.Promise.World.Day = rules.Day{}
		return []*Case{c}
	}
	if len(c.Promise.year) == 0 {
		return []*Case{c}
	}
	type class struct {
		day    rules.Day
		lo, hi []int
		n      int
		date   int
	}
	found := map[string]*class{}
	var order []*class
	at := make([]int, len(times))
	for date, day := range c.Promise.year {
		if m := c.facet.meet; len(m) == 2 && day.Second(m[0]) != day.Second(m[1]) {
			continue
		}
		for i, t := range times {
			at[i] = day.Second(t)
		}
		key, lengths := orderOf(at)
		k := found[key]
		if k == nil {
			k = &class{lo: slices.Clone(lengths), hi: slices.Clone(lengths), day: day, date: date}
			found[key] = k
			order = append(order, k)
		}
		k.n++
		for i, l := range lengths {
			k.lo[i], k.hi[i] = min(k.lo[i], l), max(k.hi[i], l)
		}
	}
	out := make([]*Case, 0, len(order))
	for _, k := range order {
		one := *c
		one.Promise.World.Day = k.day
		one.when = When{Date: k.date, Alike: k.n, Of: len(c.Promise.year)}
		if k.n > 1 {
			var b []byte
			for i := range k.lo {
				b = binary.LittleEndian.AppendUint32(b, uint32(max(1, k.lo[i]-SunDoubt)))
				b = binary.LittleEndian.AppendUint32(b, uint32(k.hi[i]+SunDoubt))
			}
			one.days = string(b)
		}
		out = append(out, &one)
	}
	return out
}

// orderOf names the order of some seconds of the day, and gives the lengths of the stretches between them in
// the order of the day.
func orderOf(at []int) (string, []int) {
	place := make([]int, len(at))
	for i := range place {
		place[i] = i
	}
	slices.SortStableFunc(place, func(a, b int) int { return at[a] - at[b] })
	var key []byte
	var moments []int
	for _, i := range place {
		if len(moments) > 0 && moments[len(moments)-1] == at[i] {
			key = append(key, '=')
		} else {
			moments = append(moments, at[i])
		}
		key = append(key, byte(i)+'a')
	}
	lengths := make([]int, len(moments))
	for i := range moments {
		lengths[i] = (moments[(i+1)%len(moments)]-moments[i]+rules.DaySeconds-1)%rules.DaySeconds + 1
	}
	return string(key), lengths
}

// stretch bounds of the case's day, or false.
func (c Case) stretch(k int) (lo, hi int32, ok bool) {
	if 8*(k+1) > len(c.days) {
		return 0, 0, false
	}
	return int32(binary.LittleEndian.Uint32([]byte(c.days[8*k:]))), int32(binary.LittleEndian.Uint32([]byte(c.days[8*k+4:]))), true
}
