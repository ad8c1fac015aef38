package open

import (
	"context"
	"reflect"
	"slices"
	"strings"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"

	"example.org/roombrief/model"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
)

// Options of a weighing.
type Options struct {
	Cache   *proof.Cache // what is proved already; nil is nothing
	Effort  proof.Effort // for each promise; the zero Effort is Usual
	NoProof bool         // leave the promises out
	Combos  int          // pairs of answers in different boxes that are planned at most; 0 is Combos
}

// Combos is how many pairs of answers in different boxes are planned at most.
const Combos = 200

// Weighing prices the open points of a home step by step, money first. It is for one goroutine.
type Weighing struct {
	doc     *projectfile.Document
	project *model.Project
	shelf   *catalogue.Catalogue
	o       Options
	units   q.System
	again   *planner.Again
	base    *planned
	points  []*weighed
	todo    []func(context.Context) error
	known   map[string]Answer // by room and ways
	tried   Tried
	far     int // pairs of answers in different boxes that were planned
	proving bool
}

// planned is the home under some answer.
type planned struct {
	project *model.Project
	plan    planner.Plan // of an answer that has been compared, the rules alone; nothing where they are as in the plan as it is
	same    bool         // the controllers run the same rules as in the plan as it is
	ways    string       // as planner.Again has it; "" where it can't be compared

	ix       *promises.Index
	promises []promises.Promise
}

// weighed is a point in the making.
type weighed struct {
	Priced
	fact   *fact
	values []value
	ranged bool
	worlds []*planned // by value
	each   []Answer   // by value
	priced bool
}

// New begins to weigh a home that is sound.
func New(doc *projectfile.Document, c *catalogue.Catalogue, o Options) *Weighing {
	w := &Weighing{doc: doc, project: doc.Project(), shelf: c, o: o, units: physics.System(doc.Project()), known: map[string]Answer{}}
	if w.o.Cache == nil {
		w.o.Cache = &proof.Cache{}
	}
	if w.o.Effort == (proof.Effort{}) {
		w.o.Effort = proof.Usual
	}
	if w.o.Combos == 0 {
		w.o.Combos = Combos
	}
	for _, x := range List(w.project) {
		w.points = append(w.points, &weighed{Priced: Priced{Point: x}})
	}
	if len(w.points) > 0 {
		w.todo = append(w.todo, w.plan)
	}
	return w
}

// All weighs a home to the end.
func All(ctx context.Context, doc *projectfile.Document, c *catalogue.Catalogue, o Options) (*Points, error) {
	w := New(doc, c, o)
	for {
		if more, err := w.Step(ctx); err != nil || !more {
			return w.Points(), err
		}
	}
}

// Step goes on a little, and reports whether there is more to do. An error of ctx leaves what is known as it was.
func (w *Weighing) Step(ctx context.Context) (more bool, err error) {
	if len(w.todo) == 0 {
		return false, nil
	}
	next := w.todo[0]
	if err := next(ctx); err != nil {
		return false, err
	}
	w.todo = w.todo[1:]
	return len(w.todo) > 0, nil
}

// plan plans the home as it is, and lays out what there is to do.
func (w *Weighing) plan(ctx context.Context) error {
	again, err := planner.NewAgain(w.project, w.shelf)
	if err != nil {
		return err
	}
	w.again = again
	if w.base, _, err = w.world(ctx, w.project, ""); err != nil {
		return err
	}
	w.tried.Routes = again.Bill().Fixed()
	for _, x := range w.points {
		w.todo = append(w.todo, func(ctx context.Context) error { return w.price(ctx, x) })
	}
	w.todo = append(w.todo, w.pairUp)
	return nil
}

// world plans the home with some fact otherwise. What has been planned in another guise, with the same ways to cover every box,
// isn't planned again.
func (w *Weighing) world(ctx context.Context, p *model.Project, room string) (*planned, Answer, error) {
	ways, comparable, err := w.again.Ways(ctx, p)
	if err != nil {
		return nil, Answer{}, err
	}
	key := room + " " + ways
	if known, ok := w.known[key]; ok && comparable {
		return known.plan, known, nil
	}
	x, a, err := w.anew(ctx, p, room)
	if err != nil {
		return nil, Answer{}, err
	}
	x.ways = ways
	if comparable && w.base != nil {
		w.known[key] = a
	}
	return x, a, nil
}

// anew plans the home with some fact otherwise, whatever has been planned before.
func (w *Weighing) anew(ctx context.Context, p *model.Project, room string) (*planned, Answer, error) {
	made, err := w.again.Make(ctx, p)
	if err != nil {
		return nil, Answer{}, err
	}
	w.tried.Plans++
	x := &planned{project: p, plan: made}
	if w.base == nil {
		return x, Answer{}, nil
	}
	return x, w.differs(x, room), nil
}

// price plans each answer to a point.
func (w *Weighing) price(ctx context.Context, x *weighed) error {
	x.worlds, x.each, x.values = nil, nil, nil
	f, isFact := factAt(w.project, x.At)
	if isFact {
		for _, a := range w.base.plan.Bill.Assumed {
			if strings.TrimPrefix(a.At, "rooms/") == x.At && f.key() != "switch" { // there it speaks of what may be in the box
				x.Planned = a.As
			}
		}
		x.fact = &f
		if f.key() == "coldest" {
			_, as, _ := physics.WinterWalls(w.project, mustRoom(w.project, x.Room))
			x.Planned = as.Show(w.units)
		}
		x.values, x.ranged, x.Why = w.values(f)
		for i, v := range x.values {
			p := with(w.project, f, v.is)
			world, a, err := w.world(ctx, p, x.Room)
			if err != nil {
				return err
			}
			switch f.key() {
			case "airflow":
				a = w.dries(a, p, x.Room)
			case "coldest":
				a = w.moulds(w.dries(a, p, x.Room), p, w.endOf(f, x.values, i), x.Room)
			case "outdoor":
				a = w.moulds(w.dries(a, p, x.Room), p, p, x.Room)
			}
			a.Words = v.words
			x.worlds, x.each = append(x.worlds, world), append(x.each, a)
		}
	} else if err := w.asking(ctx, x); err != nil {
		return err
	}
	x.merge(w)
	x.priced = true
	return nil
}

// differs says what is otherwise in a plan than in the plan as it is, but for promises.
func (w *Weighing) differs(x *planned, room string) Answer {
	is, was := x.plan.Bill, w.base.plan.Bill
	a := Answer{More: is.Total - was.Total, net: is.Parts + is.Labour - was.Parts - was.Labour, plan: x}
	before, after := served(w.base.plan), served(x.plan)
	for _, n := range needsOf(w.base.plan, x.plan) {
		switch d := after[n.id] - before[n.id]; {
		case d < 0:
			a.Gains, a.better = append(a.Gains, w.called(n, room)), append(a.better, n.id)
		case d > 0:
			a.Loses, a.worse = append(a.Loses, w.called(n, room)), append(a.worse, n.id)
		}
	}
	a.Parts, a.Lines = parts(was, is), lines(was, is)
	x.slim(w.base)
	return a
}

// slim forgets what has been compared: many answers to many points would fill the memory.
func (x *planned) slim(base *planned) {
	if x.same = reflect.DeepEqual(x.plan.Fitted, base.plan.Fitted); x.same {
		x.plan = planner.Plan{}
		return
	}
	x.plan = planner.Plan{Fitted: x.plan.Fitted}
}

type named struct{ id, name, room string }

// needsOf are the needs of two plans, and what else is unmet, each once.
func needsOf(a, b planner.Plan) []named {
	var out []named
	seen := map[string]bool{}
	add := func(n named) {
		if !seen[n.id] {
			seen[n.id] = true
			out = append(out, n)
		}
	}
	for _, p := range []planner.Plan{a, b} {
		for _, n := range p.Needs {
			add(named{n.ID, n.Name, n.Room})
		}
	}
	for _, p := range []planner.Plan{a, b} {
		for _, u := range p.Bill.Unmet {
			add(named{u.Need, spaced(u.Need), ""})
		}
	}
	return out
}

// called is a thing within a sentence: the ceiling light, and its room where that isn't the one that is spoken of.
func (w *Weighing) called(n named, room string) string {
	if n.room == "" || n.room == room {
		return "the " + n.name
	}
	return "the " + n.name + " (" + w.the(n.room) + ")"
}

// served is how far each need falls short of what it wants first: 0 is not at all.
func served(p planner.Plan) map[string]int {
	out := map[string]int{}
	for _, u := range p.Bill.Unmet {
		out[u.Need] = 1
		for _, n := range p.Needs {
			if n.ID != u.Need {
				continue
			}
			out[u.Need] = len(n.Wants)
			for i, a := range n.Wants {
				if bill.Doing(a) == u.Got {
					out[u.Need] = i
					break
				}
			}
		}
	}
	return out
}

// parts are those of which the one bill has more or fewer than the other, in the order of the bills.
func parts(a, b bill.Bill) []Part {
	var out []Part
	at := map[string]int{}
	count := func(bl bill.Bill, sign int) {
		for _, l := range bl.Lines {
			i, ok := at[l.Part]
			if !ok {
				i = len(out)
				at[l.Part] = i
				out = append(out, Part{ID: l.Part, Name: l.Name})
			}
			out[i].More += sign * l.Quantity
		}
	}
	count(b, 1)
	count(a, -1)
	return slices.DeleteFunc(out, func(p Part) bool { return p.More == 0 })
}

// same reports whether two answers come to the same but for their words.
func (a Answer) same(b Answer) bool {
	a.Words, a.plan, b.Words, b.plan = "", nil, "", nil
	return reflect.DeepEqual(a, b)
}

// merge makes one answer of those that come to the same: of quantities those side by side, of others all.
func (x *weighed) merge(w *Weighing) {
	x.Answers = nil
	var first []int // value of each answer that is the first of it
	for i, a := range x.each {
		at := -1
		for k := range x.Answers {
			if x.Answers[k].same(a) && (!x.ranged || k == len(x.Answers)-1) {
				at = k
			}
		}
		switch {
		case at < 0:
			x.Answers, first = append(x.Answers, a), append(first, i)
		case !x.ranged:
			x.Answers[at].Words += " or " + a.Words
		}
	}
	if x.ranged {
		for k := range x.Answers {
			var end any
			if k+1 < len(first) {
				end = x.values[first[k+1]].is
			}
			x.Answers[k].Words = w.stretch(x.values[first[k]].is, end, k == 0)
		}
	}
	x.Stake = stakeOf(x.Answers)
	for _, t := range x.Together {
		x.Stake = x.Stake.or(stakeOf([]Answer{t.Most}))
	}
}

// stakeOf is how far answers lie apart from each other and from the plan as it is.
func stakeOf(all []Answer) Stake {
	var low, high bill.Money
	promised, things := map[string]bool{}, map[string]bool{}
	for _, a := range all {
		low, high = min(low, a.More), max(high, a.More)
		for _, list := range [][]string{a.Breaks, a.Mends, a.Drops} {
			for _, s := range list {
				promised[s] = true
			}
		}
		for _, list := range [][]string{a.Gains, a.Loses, a.Airs, a.Damp, a.Clear, a.Mould} {
			for _, s := range list {
				things[s] = true
			}
		}
	}
	return Stake{len(promised), len(things), high - low}
}

// Points is what is known now.
func (w *Weighing) Points() *Points {
	out := &Points{Tried: w.tried, Done: len(w.todo) == 0, Proved: !w.o.NoProof}
	if w.base != nil {
		out.Currency, out.Total = w.base.plan.Bill.Currency, w.base.plan.Bill.Total
	}
	at := map[string]int{}
	for _, x := range w.points {
		switch p := x.Priced; {
		case !x.priced:
			out.Left = append(out.Left, p.Point)
		case !p.Matters() && p.Why == "" && w.proving:
			out.Idle = append(out.Idle, p)
		case !p.Matters() && p.Why == "":
			out.Left = append(out.Left, p.Point) // it may matter together with another
		default:
			thing, words := w.look(x)
			i, ok := at[thing]
			if !ok {
				i = len(out.Looks)
				at[thing] = i
				out.Looks = append(out.Looks, Look{At: thing, Room: p.Room, Words: words})
			}
			out.Looks[i].Points = append(out.Looks[i].Points, p)
			out.Looks[i].Stake = out.Looks[i].Stake.or(p.Stake)
		}
	}
	slices.SortStableFunc(out.Looks, func(a, b Look) int { return a.Stake.compare(b.Stake) })
	for i := range out.Looks {
		slices.SortStableFunc(out.Looks[i].Points, func(a, b Priced) int { return a.Stake.compare(b.Stake) })
	}
	return out
}
