package bill

import "fmt"

// tally counts how many groups of the home, wherever they are, take options that cost and use the same more than what their classes cost least. Which
// of them does so makes no difference to the sum, so that a search that asks one by one meets the same home many times; it asks first how many.
type tally struct {
	vars []int // of the options
	sum  int   // variable that is their sum once the rows that say so are written down
	on   bool
}

// addTallies makes a variable for each sum over several classes.
func (w *whole) addTallies() {
	at, most := map[string]int{}, []int{}
	for c := range w.classes {
		cl := &w.classes[c]
		if cl.groups == nil {
			continue
		}
		rest := &cl.options[cl.rest]
		for o := range cl.options {
			if o == cl.rest {
				continue
			}
			more := cl.options[o]
			more.cost -= rest.cost
			for d := range more.use {
				more.use[d] -= rest.use[d]
			}
			key := fmt.Sprint(more)
			i, ok := at[key]
			if !ok {
				i = len(w.tallies)
				at[key] = i
				w.tallies, most = append(w.tallies, tally{}), append(most, 0)
			}
			w.tallies[i].vars = append(w.tallies[i].vars, cl.first+o)
			most[i] += cl.count
		}
	}
	kept := w.tallies[:0]
	for i, t := range w.tallies {
		if len(t.vars) > 1 {
			t.sum = 1 + w.put(spread{class: class{options: make([]option, 2), count: most[i]}})
			kept = append(kept, t)
		}
	}
	w.tallies = kept
}

// say writes down that a tally's variable is the sum.
func (w *whole) say(t *tally) {
	t.on = true
	for _, sign := range []int{1, -1} {
		r := row{terms: []term{{t.sum, -sign}}}
		for _, v := range t.vars {
			r.terms = append(r.terms, term{v, sign})
		}
		w.rows = append(w.rows, r)
	}
}

// splitTally is the sum that is furthest from whole, -1 where all are.
func (w *whole) splitTally(x []float64, lo, hi []int) int {
	best, most := -1, 1e-5
	for i := range w.tallies {
		t := &w.tallies[i]
		sum := 0.0
		for _, v := range t.vars {
			sum += x[v]
		}
		if x[t.sum] = sum; lo[t.sum] < hi[t.sum] && fraction(sum) > most {
			best, most = i, fraction(sum)
		}
	}
	if best < 0 {
		return -1
	}
	if t := &w.tallies[best]; !t.on {
		w.say(t)
	}
	return w.tallies[best].sum
}
