package fitting

import (
	"reflect"
	"strconv"
	"sync"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/rules"
)

// Counts remembers how many rules come of rooms fitted to limits, for homes that differ in a room or two: the others are fitted once for
// all of them. It may be used by several goroutines; what two ask for at once may be fitted twice.
type Counts struct {
	lock  sync.Mutex
	known map[string][]tally
}

type tally struct {
	sheet rules.Sheet
	lim   catalogue.Limits
	n     int
}

// of is the number of rules of a sheet fitted to limits; nothing but the sheet, the limits and the year decides it, and the year is one.
func (c *Counts) of(s rules.Sheet, lim catalogue.Limits, fit func() int) int {
	key := lim.ID + " " + strconv.Itoa(len(s.Rules))
	if len(s.Rules) > 0 {
		key += " " + s.Rules[0].ID
	}
	c.lock.Lock()
	for _, k := range c.known[key] {
		if reflect.DeepEqual(k.lim, lim) && reflect.DeepEqual(k.sheet, s) {
			c.lock.Unlock()
			return k.n
		}
	}
	c.lock.Unlock()
	n := fit()
	c.lock.Lock()
	defer c.lock.Unlock()
	if c.known == nil {
		c.known = map[string][]tally{}
	}
	c.known[key] = append(c.known[key], tally{s, lim, n})
	return n
}

// CountWith is Count with what other homes that stand at the same place came to.
func (h *Home) CountWith(c *Counts) func(catalogue.Limits) int {
	return func(lim catalogue.Limits) int {
		info := Info{Day: h.day}
		if !lim.SunTimes {
			info.Year = h.year()
		}
		if h.many(lim) {
			part := h.first(max(2*lim.Rules, 200))
			return h.scaled(part, lim, c.of(part, lim, func() int { return len(Fit(part, lim, info).Sheet.Rules) }))
		}
		n := 0
		for _, crew := range h.of(!lim.SeesOthers) {
			for _, s := range knots(crew.Sheet, lim) {
				n += c.of(s, lim, func() int { return len(Fit(s, lim, info).Sheet.Rules) })
			}
		}
		return n
	}
}

// many says whether the home has far more rules than a controller with such limits takes.
func (h *Home) many(lim catalogue.Limits) bool {
	return lim.Rules > 0 && len(h.sheet.Rules) > farMore*lim.Rules
}

// scaled is what the home comes to where a part of it comes to n rules.
func (h *Home) scaled(part rules.Sheet, lim catalogue.Limits, n int) int {
	return max(n*len(h.sheet.Rules)/len(part.Rules), lim.Rules+1)
}
