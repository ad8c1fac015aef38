package open

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
)

// verdicts of a home that is planned and proved from scratch, by promise.
func verdicts(t testing.TB, p *model.Project, c *catalogue.Catalogue) map[string]proof.Verdict {
	t.Helper()
	made, err := planner.Make(context.Background(), p, c)
	if err != nil {
		t.Fatal(err)
	}
	all, err := proof.Home(context.Background(), p, made.Fitted, proof.Options{})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]proof.Verdict{}
	for _, v := range all {
		out[v.Promise.ID] = v
	}
	return out
}

// changes are what an answer breaks and mends, and what is no longer promised, by proving everything on both plans.
func changes(was, is map[string]proof.Verdict) (breaks, mends, drops []string) {
	for id, v := range is {
		old, had := was[id]
		switch {
		case v.State == proof.Breaks && (!had || old.State != proof.Breaks):
			breaks = append(breaks, v.Promise.Sentence)
		case had && old.State == proof.Breaks && v.State == proof.Kept:
			mends = append(mends, v.Promise.Sentence)
		}
	}
	for id, v := range was {
		if _, has := is[id]; !has {
			drops = append(drops, v.Promise.Sentence)
		}
	}
	for _, list := range [][]string{breaks, mends, drops} {
		slices.Sort(list)
	}
	return breaks, mends, drops
}

func sameSentences(a, b []string) bool {
	a = slices.Clone(a)
	slices.Sort(a)
	return slices.Equal(a, b)
}

// toggling is a shelf whose cheap relay needs a neutral and can only be told to change, which a controller that can't remember makes
// nothing sure of.
func toggling() *catalogue.Catalogue {
	cheap := relay("toggles", "zigbee", "needed", 0.010, 10)
	cheap.Behaviour.Orders = "toggle"
	c := shelfOf(cheap, relay("sets", "zigbee", "not needed", 0.010, 30),
		catalogue.Part{ID: "pir", Name: "pir", Kind: "motion sensor", Place: "ceiling", Does: []catalogue.Ability{catalogue.SenseMotion}, Radio: "zigbee", Price: map[string]float64{"GBP": 5}},
		catalogue.Part{ID: "contact", Name: "contact", Kind: "door contact", Place: "door", Does: []catalogue.Ability{catalogue.SenseDoor}, Radio: "zigbee", Price: map[string]float64{"GBP": 5}})
	return c
}

const lit = `  - id: a
    kind: hall
    doors: [{id: d, to: outside, usually: closed}]
    circuits: [{id: lamp, lamps: 1, flux: 470 lm, power: 6 W, base: GU10, switch: box}]
    switches: [{id: box, gangs: 2, neutral: unknown, depth: 40 mm, by: door}]
    brief:
      lighting: {start: on entry, periods: [{from: 00:00, level: 100 %}], stop: {after: 4m, never_while: moving}}
`

// What the answers to a fact break and mend is what proving everything on both plans finds.
func TestPromisesOfAFactAgreeWithProvingEverything(t *testing.T) {
	d, c := home(t, lit), toggling()
	w := New(d, c, Options{})
	for more := true; more; {
		var err error
		if more, err = w.Step(context.Background()); err != nil {
			t.Fatal(err)
		}
	}
	was := verdicts(t, d.Project(), c)
	changed := false
	for _, x := range w.points {
		for i, v := range x.values {
			breaks, mends, drops := changes(was, verdicts(t, with(d.Project(), *x.fact, v.is), c))
			a := x.each[i]
			if !sameSentences(a.Breaks, breaks) || !sameSentences(a.Mends, mends) || !sameSentences(a.Drops, drops) {
				t.Errorf("%s: breaks %q mends %q drops %q; proving everything: %q, %q, %q", a.Words, a.Breaks, a.Mends, a.Drops, breaks, mends, drops)
			}
			changed = changed || !a.plan.same
		}
	}
	if !changed || w.points[0].Stake.Promises == 0 {
		t.Error("no answer changes what the controller runs, or breaks a promise by it, so this shows nothing")
	}
}

// The same for a parked wish, whose answers change the briefs.
func TestPromisesOfAWishAgreeWithProvingEverything(t *testing.T) {
	src := head + lit + "open:\n  - {at: a/brief/lighting/start, ask: Ada}\n"
	d, c := sound(t, src), toggling()
	p := weigh(t, d, c)
	x, ok := p.Of("a/brief/lighting/start")
	if !ok || len(x.Answers) < 2 || x.Stake.Promises == 0 {
		t.Fatalf("the wish is not weighed: %+v", x)
	}
	was := verdicts(t, d.Project(), c)
	qn := interview.All(d, "a")[slices.IndexFunc(interview.All(d, "a"), func(q interview.Question) bool { return q.Parked })]
	for _, choice := range qn.Choices {
		doc, err := interview.Answer(d, qn, choice.Value)
		if err != nil {
			t.Fatal(err)
		}
		breaks, mends, drops := changes(was, verdicts(t, doc.Project(), c))
		at := slices.IndexFunc(x.Answers, func(a Answer) bool { return a.Words == choice.Label })
		if at < 0 {
			t.Fatalf("no answer %q among %+v", choice.Label, x.Answers)
		}
		if a := x.Answers[at]; !sameSentences(a.Breaks, breaks) || !sameSentences(a.Mends, mends) || !sameSentences(a.Drops, drops) {
			t.Errorf("%s: breaks %q mends %q drops %q; proving everything: %q, %q, %q", a.Words, a.Breaks, a.Mends, a.Drops, breaks, mends, drops)
		}
	}
}

// No promise speaks of a fact of the house itself: where the controllers run the same rules after an answer, the same has to be proved.
// That is why such answers aren't proved.
func TestPromisesSpeakOfNoFact(t *testing.T) {
	for _, h := range fixtures.Homes() {
		w := New(projectfile.Parse(h.Source), fixtures.Catalogue(), Options{NoProof: true})
		for more := true; more; {
			var err error
			if more, err = w.Step(context.Background()); err != nil {
				t.Fatal(err)
			}
		}
		w.made(w.base)
		for _, x := range w.points {
			for i, v := range x.values {
				if x.fact == nil || !x.worlds[i].same {
					continue
				}
				other := &planned{project: with(w.project, *x.fact, v.is), plan: planner.Plan{Fitted: w.base.plan.Fitted}}
				w.made(other)
				for k, p := range other.promises {
					if same, err := promises.Alike(w.base.promises[k], w.base.ix, p, other.ix); err != nil || !same {
						t.Fatalf("%s: %s speaks of %s as %v: %v", h.File, p.ID, x.At, fmt.Sprint(v.is), err)
					}
				}
				break // one answer of each point
			}
		}
	}
}
