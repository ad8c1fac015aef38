package bill

// mostSums is how many sums of ways are held at once; a home with more is not small.
const mostSums = 600

// sum is ways to cover some groups, added up.
type sum struct {
	money Money
	toll  toll
	slots slots
	picks []int // of each group
}

// beats reports whether a sum makes another pointless; of equal ones the first does.
func (a *sum) beats(b *sum) bool {
	return a.money <= b.money && a.toll.within(b.toll) && a.slots.within(b.slots)
}

// every finds all bills that none beats, when there are few enough sums to go through: the ways to cover the groups are
// added up one by one, and of the sums those that another beats in money, tolls and slots alike are left out, for
// whatever they are part of, the other makes a better whole. It reports whether it went through.
func (t *trader) every() (bool, error) {
	h := t.d.h
	if h.router != nil {
		return false, nil // what is in reach depends on all groups at once
	}
	for _, set := range t.d.hosts {
		if len(set.hosts.owned) > 0 || !set.hosts.all(func(s *setup) bool { return s.toll == toll{} }) {
			return false, nil
		}
	}
	sums := []sum{{}}
	for _, it := range h.items {
		for range it.count {
			var next []sum
			for _, s := range sums {
				for k := range it.front.points {
					p := &it.front.points[k]
					next = keepSum(next, sum{s.money + p.cost, s.toll.plus(p.toll, 1), s.slots.plus(p.slots, 1), append(s.picks[:len(s.picks):len(s.picks)], k)})
				}
				if len(next) > mostSums || h.ctx.Err() != nil {
					return false, h.ctx.Err()
				}
			}
			sums = next
		}
	}
	for _, s := range sums {
		if err := t.host(s); err != nil {
			return false, err
		}
	}
	return true, nil
}

func keepSum(all []sum, s sum) []sum {
	for i := range all {
		if all[i].beats(&s) {
			return all
		}
	}
	kept := all[:0]
	for i := range all {
		if !s.beats(&all[i]) {
			kept = append(kept, all[i])
		}
	}
	return append(kept, s)
}

// host adds a sum with its cheapest controllers, and where some of those need the internet also without them.
func (t *trader) host(s sum) error {
	picks, at := make([][]int, len(t.d.h.items)), 0
	for i, it := range t.d.h.items {
		picks[i] = make([]int, len(it.front.points))
		for range it.count {
			picks[i][s.picks[at]]++
			at++
		}
	}
	for _, set := range t.d.hosts {
		hp, err := set.chooser(t.d, weights{money: 1}).controllers(s.slots)
		if err != nil {
			return err
		}
		if hp.ok {
			t.add(traded{solution: solution{money: s.money + hp.cost, toll: s.toll.plus(set.extra, 1), picks: picks, hosted: hp}})
		}
	}
	return nil
}
