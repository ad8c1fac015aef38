package bill

import "strconv"

// mergedItems are items whose ways differ by the same money and slots, taken as one class: which of them
// gives way when slots run short makes no difference to the sum.
type mergedItems struct {
	classes []class
	of      []int   // class of each item
	points  [][]int // of each item: the points within the kit, as the class's options
	base    Money
}

// shape is a front within a kit of radios, as money and slots above its cheapest way.
type shape struct {
	options []option
	points  []int // of the front
	base    Money
	key     string // equal for shapes that differ only in base
}

type shapeKey struct {
	front   *front
	kit     int
	bounded [tolls]bool
}

func (c *chooser) shape(f *front, kit int, bound toll) *shape {
	k := shapeKey{front: f, kit: kit}
	for i, n := range bound {
		k.bounded[i] = n != noBound
	}
	if s := c.shapes[k]; s != nil {
		return s
	}
	best, _ := f.within(kit, c.weights)
	s := &shape{}
	if best >= 0 {
		s.base = c.sum(f.points[best].cost, f.points[best].toll) // the least, so that no option costs less than none
	}
	var key []byte
	for i := range f.points {
		p := &f.points[i]
		if p.slots.kit()&^kit != 0 {
			continue
		}
		s.points = append(s.points, i)
		o := option{cost: c.sum(p.cost, p.toll) - s.base}
		copy(o.use[:], p.slots[:])
		o.takes(p.toll, bound)
		s.options = append(s.options, o)
		key = strconv.AppendInt(key, int64(o.cost), 10)
		for _, u := range o.use {
			key = strconv.AppendInt(append(key, ' '), int64(u), 10)
		}
		key = append(key, ';')
	}
	s.key = string(key)
	c.shapes[k] = s
	return s
}

func (c *chooser) merged(items []item, kit int) mergedItems {
	m := mergedItems{of: make([]int, len(items)), points: make([][]int, len(items))}
	m.classes = make([]class, 0, len(items))
	at := make(map[string]int, len(items))
	for i, it := range items {
		if it.count == 0 {
			continue
		}
		s := c.shape(it.front, kit, c.most)
		m.base += s.base * Money(it.count)
		k, ok := at[s.key]
		if !ok {
			k = len(m.classes)
			at[s.key] = k
			m.classes = append(m.classes, class{options: s.options})
		}
		m.classes[k].count += it.count
		m.of[i], m.points[i] = k, s.points
	}
	return m
}

func (c *chooser) pricesOf(kit int, beyond bool) *[dims]int64 {
	k := priceKey{kit, beyond}
	if c.prices[k] == nil {
		c.prices[k] = &[dims]int64{}
	}
	return c.prices[k]
}

// shared deals a class's counts out to its items: the earlier item gets the cheaper ways.
func (m *mergedItems) shared(items []item, counts [][]int) [][]int {
	left := make([][]int, len(counts))
	for i := range counts {
		left[i] = append([]int(nil), counts[i]...)
	}
	picks := make([][]int, len(items))
	for i, it := range items {
		picks[i] = make([]int, len(it.front.points))
		if it.count == 0 {
			continue
		}
		rest := left[m.of[i]]
		n := it.count
		for o := range rest {
			k := min(n, rest[o])
			picks[i][m.points[i][o]] += k
			rest[o] -= k
			n -= k
		}
	}
	return picks
}
