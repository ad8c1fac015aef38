package proof

import (
	"context"
	"runtime"
	"sync"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

// Cache remembers what was proved, by exactly what it was proved of. The zero Cache is empty and ready; a nil one
// remembers nothing. It may be shared by goroutines.
type Cache struct {
	mu    sync.Mutex
	known map[asked]*cached
}

// asked is a case with the effort that was put into its answer: what a small one leaves undecided a larger one may decide, and
// the stories that they come to may differ.
type asked struct {
	effort Effort
	key    string
}

type cached struct {
	once sync.Mutex
	done bool
	a    answer
}

// answer gives what is known of a case, or decides it. Of two goroutines that ask for one case, one waits.
func (c *Cache) answer(ctx context.Context, one promises.Case, e Effort) (answer, bool) {
	if c == nil {
		return decide(ctx, one, e), false
	}
	key := asked{e, one.Key()}
	c.mu.Lock()
	if c.known == nil {
		c.known = map[asked]*cached{}
	}
	k := c.known[key]
	if k == nil {
		k = &cached{}
		c.known[key] = k
	}
	c.mu.Unlock()
	k.once.Lock()
	defer k.once.Unlock()
	if k.done {
		a := k.a
		a.zones = 0
		return a, true
	}
	a := decide(ctx, one, e)
	if ctx.Err() == nil {
		k.a, k.done = a, true
	}
	return a, false
}

// Len is the number of cases that are known.
func (c *Cache) Len() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return len(c.known)
}

// Options of a proof.
type Options struct {
	Effort  Effort        // the zero Effort is Usual
	Workers int           // promises proved at once; 0 is as many as there are processors
	Faults  bool          // the second pass as well
	Cache   *Cache        // what is known already; nil is nothing
	Draft   ideal.Options // that the sheet was drafted with; the zero Options are Usual
}

func (o Options) usual(p *model.Project) Options {
	if o.Effort == (Effort{}) {
		o.Effort = Usual
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	if o.Draft.Blind == 0 {
		o.Draft = ideal.Usual()
	}
	if o.Draft.Year == nil {
		o.Draft.Year = ideal.YearOf(p)
	}
	if o.Cache == nil {
		o.Cache = &Cache{}
	}
	return o
}

// Home decides every promise of a home on a sheet of rules, room by room in the project's order. It stops when
// ctx does.
func Home(ctx context.Context, p *model.Project, sheet rules.Sheet, o Options) ([]Verdict, error) {
	o = o.usual(p)
	ix := promises.NewIndex(sheet)
	return all(ctx, ix, promises.OfAll(p, ix, o.Draft, rules.Equinox), o)
}

// Room decides the promises of one room; "" is what belongs to no room.
func Room(ctx context.Context, p *model.Project, sheet rules.Sheet, room string, o Options) ([]Verdict, error) {
	o = o.usual(p)
	ix := promises.NewIndex(sheet)
	return all(ctx, ix, promises.OfRoom(p, ix, o.Draft, rules.Equinox, room), o)
}

// all proves promises at once, and puts the verdicts in the order of the promises. What a kept promise comes to with
// each fault follows it. One that is broken without any is asked further only where it is kept for people who move often enough.
func all(ctx context.Context, ix *promises.Index, ps []promises.Promise, o Options) ([]Verdict, error) {
	found := make([][]Verdict, len(ps))
	errs := make([]error, len(ps))
	next := make(chan int)
	var wg sync.WaitGroup
	for range o.Workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				found[i], errs[i] = withFaults(ctx, ix, ps[i], o)
			}
		}()
	}
	for i := range ps {
		next <- i
	}
	close(next)
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var out []Verdict
	for i, err := range errs {
		if err != nil {
			return nil, err
		}
		out = append(out, found[i]...)
	}
	return out, nil
}

func withFaults(ctx context.Context, ix *promises.Index, p promises.Promise, o Options) ([]Verdict, error) {
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	v, err := prove(ctx, ix, p, o.Effort, o.Cache)
	out := []Verdict{v}
	if err != nil || !o.Faults || v.State != Kept && v.Moving == 0 {
		return out, err
	}
	if v.Moving > 0 { // it is kept for people who move so often, and asked of faults for them
		p = p.Still(v.Moving)
	}
	for _, f := range p.Faulty(ix) {
		v, err := prove(ctx, ix, f, o.Effort, o.Cache)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}
