// Package fitting rewrites ideal rules into rules that a controller with limits can run, says what cannot be
// kept, and decides which of several controllers runs which rule.
//
// How it goes, file by file; each pass takes the whole list of rules to the next form:
//
//	sense.go   presses, rises of a reading, and "stayed under for" that the controller doesn't know
//	guard.go   guards that it can't look at
//	hold.go    waits that can't be held: look again at the end, start over when the reason falls
//	stand.go   starts of a held wait for which it makes no difference whether it runs
//	clock.go   sun times, clock steps, windows over midnight
//	order.go   rules of one cause that depend on their order
//	flag.go    what it can't remember: a wait that renews itself stands for a note
//	wait.go    what a second start of a wait does
//	chain.go   waits that are too long, or can't be restarted
//	steps.go   guards that are too long
//	toggle.go  devices that it can only toggle
//	tidy.go    impossible and doubled rules, rules that say the same of the same cause
//	enter.go   whether a rule can be entered, and what to type where
//	place.go   which controller runs which rule
//
// A fitted sheet is a sheet like any other: rules.Program plays it, and nothing else says what it does.
package fitting

import (
	"slices"

	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// Info is what fitting must know beside the rules.
type Info struct {
	// Parts are the parts that serve things, by the path of the thing. A thing without one takes any order.
	Parts map[string]catalogue.Part
	// Year gives the sun's clock times on each day of a year, from 1 January on; nil where nobody knows them.
	Year []rules.Day
	// Day of Year, from 0 on, for which the clock times that stand for sun times are written into the sheet.
	Day int
}

// Fitted is a sheet that a controller can run.
type Fitted struct {
	Sheet  rules.Sheet
	From   map[string][]string // fitted rule to the ideal rules that it carries out
	Notes  []Note
	Lost   []Lost
	Races  []Race
	Tables []Table
	// Slack is by how many seconds an effect may come later than in the ideal sheet: rules in several steps
	// take a second for each.
	Slack int
}

// Note says what a limit changed.
type Note struct {
	Limit string // key of the limits
	Rule  string // ideal rule, "" for all of them
	Text  string // what was done
	Costs string // what is not as in the ideal sheet any more; "" when nothing

	// Moment is for rules that one event causes together: what they come to in that moment may be other than in the ideal sheet.
	Moment bool
}

// Lost is something that the controller cannot do.
type Lost struct {
	Rule    string // ideal rule, "" for all of them
	Limit   string // key of the limits
	Text    string
	Promise string // that it costs, as rules.md names them
	Remedy  string
}

// Race is two fitted rules of one cause whose order matters, on a controller that promises none.
type Race struct {
	Rules [2]string
	About string // the thing or wait
	Text  string
}

// Table is the clock times that stand for a sun time on a controller that doesn't know the sun.
type Table struct {
	Of    q.DayTime
	Rows  []Row
	Worst int // largest distance from the sun over the year, in minutes, rounded up
}

// Row of a table: from a day of the year on (0 is 1 January), the clock time to set.
type Row struct {
	From int
	At   q.DayTime
}

// Fit rewrites the rules of a sheet for one controller. It is pure, and gives equal results for equal input. A
// sheet that rules.Compile takes stays one.
func Fit(sheet rules.Sheet, lim catalogue.Limits, info Info) Fitted {
	f := newFitter(sheet, lim, info)
	for _, pass := range []func(){
		f.presses, f.rises, f.stays, f.suns, f.step, f.unlookable, f.standing, f.holds, f.stacks, f.order, f.noWindows,
		f.forgetful, f.policies, f.chains, f.midnight, f.toggles, f.tidy, f.merge, f.beforeSteps, f.long, f.tidy, f.shadowed, f.restarts,
	} {
		pass()
	}
	f.after()
	return f.emit()
}

// fitter is one Fit.
type fitter struct {
	lim   catalogue.Limits
	info  Info
	sheet rules.Sheet // the ideal one
	kind  map[string]rules.ThingKind
	name  map[string]string

	things []rules.Thing
	rules  []rule
	waits  map[string]bool // names in use
	out    Fitted
}

// rule is a rule in the making: each start of a wait has its own policy.
type rule struct {
	rules.Rule // Effects and Again count only at the end
	effs       []eff
	from       []string
	needs      []rules.Literal // notes that have come about for it to act; where it takes a step, it is off when they fall meanwhile
}

type eff struct {
	rules.Effect
	again rules.Again
}

func newFitter(sheet rules.Sheet, lim catalogue.Limits, info Info) *fitter {
	f := &fitter{lim: lim, info: info, sheet: sheet, kind: map[string]rules.ThingKind{}, name: map[string]string{},
		things: slices.Clone(sheet.Things), waits: map[string]bool{}}
	if f.lim.Guards == "" {
		f.lim.Guards = "both"
	}
	if f.lim.MostGuards < 0 {
		f.lim.MostGuards = 0
	}
	for _, t := range sheet.Things {
		f.kind[t.ID], f.name[t.ID] = t.Kind, t.Name
	}
	for _, r := range sheet.Rules {
		x := rule{Rule: r, from: []string{r.ID}}
		x.Guard = nil
		for _, l := range r.Guard {
			if !slices.Contains(x.Guard, l) {
				x.Guard = append(x.Guard, l)
			}
		}
		x.Hold = slices.Clone(r.Hold)
		for _, e := range r.Effects {
			x.effs = append(x.effs, eff{e, r.Again})
			f.waits[e.Wait] = true
		}
		x.Effects = nil
		for _, e := range r.Effects {
			if e.Wait != "" {
				x.effs = collected(x.effs, e.Wait)
			}
		}
		f.rules = append(f.rules, x)
	}
	return f
}

func (f *fitter) states() bool  { return f.lim.Guards == "state" || f.lim.Guards == "both" }
func (f *fitter) windows() bool { return f.lim.Guards == "time" || f.lim.Guards == "both" }

// note keeps each note once.
func (f *fitter) note(limit, rule, text, costs string) { f.keep(Note{limit, rule, text, costs, false}) }

// moment is a note on rules that one event causes together.
func (f *fitter) moment(limit, rule, text, costs string) {
	f.keep(Note{limit, rule, text, costs, true})
}

func (f *fitter) keep(n Note) {
	if !slices.Contains(f.out.Notes, n) {
		f.out.Notes = append(f.out.Notes, n)
	}
}

func (f *fitter) lose(l Lost) {
	if !slices.Contains(f.out.Lost, l) {
		f.out.Lost = append(f.out.Lost, l)
	}
}

// fresh is a name for a wait that nothing has yet.
func (f *fitter) fresh(name string) string {
	out := name
	for n := 2; f.waits[out]; n++ {
		out = name + "-" + number(n)
	}
	f.waits[out] = true
	return out
}

// emit writes the sheet. Variants of one rule are numbered; rules with two policies become two.
func (f *fitter) emit() Fitted {
	used := map[string]bool{}
	f.out.From = map[string][]string{}
	var order []string
	for _, r := range f.rules {
		for _, part := range byPolicy(r) {
			id := part.ID
			for n := 2; used[id]; n++ {
				id = part.ID + "~" + number(n)
			}
			used[id] = true
			part.ID = id
			f.out.Sheet.Rules = append(f.out.Sheet.Rules, part)
			f.out.From[id] = r.from
			order = append(order, id)
		}
	}
	f.out.Sheet.Things = f.needed()
	f.capacity(len(order))
	f.races()
	return f.out
}

// byPolicy is a rule as one rule for each policy that its starts have.
func byPolicy(r rule) []rules.Rule {
	var policies []rules.Again
	for _, e := range r.effs {
		if e.Kind == rules.Start && !slices.Contains(policies, e.again) {
			policies = append(policies, e.again)
		}
	}
	if len(policies) < 2 {
		policies = append(policies, rules.Restart)[:1]
		out := r.Rule
		out.Again = policies[0]
		for _, e := range r.effs {
			out.Effects = append(out.Effects, e.Effect)
		}
		return []rules.Rule{out}
	}
	parts := make([]rules.Rule, len(policies))
	for i, again := range policies {
		parts[i] = r.Rule
		parts[i].Again = again
		if i > 0 {
			parts[i].Hold, parts[i].HoldFor = nil, 0
		}
	}
	for _, e := range r.effs {
		at := 0
		if e.Kind == rules.Start {
			at = slices.Index(policies, e.again)
		}
		parts[at].Effects = append(parts[at].Effects, e.Effect)
	}
	return parts
}

// needed are the things without the flags that no rule speaks of any more.
func (f *fitter) needed() []rules.Thing {
	used := map[string]bool{}
	for _, r := range f.rules {
		used[r.Cause.Thing] = true
		for _, l := range append(slices.Clone(r.Guard), r.Hold...) {
			used[l.Thing] = true
		}
		for _, e := range r.effs {
			used[e.Thing] = true
		}
	}
	var out []rules.Thing
	for _, t := range f.things {
		if t.Kind != rules.Flag || used[t.ID] {
			out = append(out, t)
		}
	}
	return out
}
