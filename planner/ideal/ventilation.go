package ideal

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/rules"
)

// Figures of the fan that no brief asks for.
const (
	// HouseMargin is how many points of relative humidity a room must be above the house before its air counts as damp.
	HouseMargin = physics.HouseMargin
	// RunOn is how long the fan runs on at least once the air is dry enough, so that it doesn't start and stop at the
	// ceiling; MostRunOn is how long it does at most, for walls that take longer.
	RunOn     = q.Span(5 * time.Minute)
	MostRunOn = q.Span(30 * time.Minute)
	// BackAfter is how soon a fan that was switched off by hand in damp air comes back.
	BackAfter = q.Span(10 * time.Minute)
	// ByHandRun is how long a fan runs that was switched on by hand where the brief names no run.
	ByHandRun = q.Span(30 * time.Minute)
	// DryingLimit bounds a run for damp air where the brief gives no limit.
	DryingLimit = q.Span(3 * time.Hour)
)

// fan is the part of a room's rules that moves the fan. The fan runs while any wish runs; each wish is a wait of its own, so
// the end of one never cuts another short.
type fan struct {
	brief   model.Ventilation
	wet     string // flag: damp against the ceiling and against the house
	enough  string // flag: today's runs for damp air are used up
	damp    string // wait of the wish "damp air"
	limit   string
	back    string
	asked   string // wait of the wish "somebody asked"
	people  string // wait of the wish "somebody is in"
	in      string // wait until somebody has been in long enough
	settled string // flag: somebody has been, and the room hasn't been empty since
	on      q.Span // run-on once the air is dry
	why     string // so long
}

func (r *room) ventilation() {
	r.goal = "ventilation"
	wanted, deeds := r.r.Brief.Ventilation.Wanted(), r.fanDeeds()
	if !wanted && !deeds {
		return
	}
	if len(r.r.Fans) == 0 {
		if wanted {
			r.find(true, "brief/ventilation", "Air is asked for in %s, but no fan is noted there; note the fan, or have one put in by somebody who may do that.", r.the())
		} else {
			r.find(true, "brief/buttons", "A button of %s runs the fan, but no fan is noted there; note the fan, or give the button another deed.", r.the())
		}
		return
	}
	if !wanted {
		r.goal = "buttons"
	}
	for i := range r.r.Fans {
		r.fanNeed(&r.r.Fans[i])
	}
	f := &r.fan
	f.brief = r.r.Brief.Ventilation.Want
	f.asked = r.wait("fan-asked")
	people := wanted && f.brief.WithPeople != (model.WithPeople{})
	if people {
		f.people = r.wait("fan-people") // every other wish has to know of it
	}
	if wanted && f.brief.Ceiling.Wanted() {
		r.dampAir()
	}
	if people {
		r.fanForPeople()
	}
	r.fanAsked()
	r.fanQuiet()
	r.fanPower()
}

func (r *room) fanDeeds() bool {
	return slices.ContainsFunc(deeds(&r.r.Brief), func(d model.Deed) bool { return d.Verb == model.FanRun || d.Verb == model.FanOff })
}

func (r *room) fanNeed(f *model.Fan) {
	name := title(f.ID)
	if !strings.Contains(strings.ToLower(name), "fan") {
		name += " fan"
	}
	path := r.thing(rules.Fan, f.ID, "fan", name)
	r.fans = append(r.fans, path)
	n := needs.Need{ID: path, Name: name, Why: "The brief runs it.", Wants: []catalogue.Ability{catalogue.SwitchFan},
		Facts: needs.Facts{Load: f.Power, LoadKind: catalogue.Motor}}
	r.box(&n, f.Switch, "fans/"+f.ID+"/switch")
	r.need(n)
}

func (r *room) turnFans(on bool) []rules.Effect {
	out := make([]rules.Effect, len(r.fans))
	for i, f := range r.fans {
		out[i] = turn(f, on)
	}
	return out
}

// without is the guard of every rule that stops the fan: no wish but the one that ends.
func (r *room) without(ending string) []rules.Literal {
	var out []rules.Literal
	for _, w := range []string{r.fan.damp, r.fan.asked, r.fan.people} {
		if w != "" && w != ending {
			out = append(out, notRunning(w))
		}
	}
	return out
}

// allowed is the guard of a wish in quiet hours; for is the sort of wish.
func (r *room) allowed(wish string) []rules.Literal {
	qt := r.fan.brief.Quiet
	if !r.quiet() || r.excepted(wish) {
		return nil
	}
	return lits(rules.Literal{Not: true, Kind: rules.Between, From: qt.From, To: qt.To})
}

func (r *room) quiet() bool { return r.fan.brief.Quiet.From != r.fan.brief.Quiet.To }

// excepted reports whether a wish runs in the quiet hours too. Both are damp air and requests; people who are
// merely in are never an exception.
func (r *room) excepted(wish string) bool {
	e := r.fan.brief.Quiet.Except
	return (wish == "humidity" || wish == "request") && (e == wish || e == "both")
}

// midnightQuiet reports whether damp air waits at midnight, when the day's allowance is new.
func (r *room) midnightQuiet() bool {
	qt := r.fan.brief.Quiet
	from, to := rules.Equinox.Second(qt.From), rules.Equinox.Second(qt.To)
	return r.quiet() && !r.excepted("humidity") && qt.From.Sun == q.NoSun && qt.To.Sun == q.NoSun && (from > to && to > 0 || from == 0)
}

// dampAir runs the fan for vapour. Damp is a state, not a crossing: over the ceiling, and over the house, because no fan
// gets a room drier than the air that it draws in.
func (r *room) dampAir() {
	f := &r.fan
	place := "in " + r.the()
	h := r.thing(rules.Hygrometer, "humidity", "sensor", "humidity "+place)
	r.need(needs.Need{ID: h, Name: "humidity " + place, Why: "The fan runs until the air is back under the ceiling.",
		Wants: []catalogue.Ability{catalogue.SenseHumidity}, Facts: needs.Facts{Ingress: r.sensorIngress(), Soon: f.brief.Within}})
	f.wet = r.thing(rules.Flag, "damp", "flag", "damp air")
	f.enough = r.thing(rules.Flag, "aired-enough", "flag", "aired enough today")
	r.runOn()
	f.damp, f.limit, f.back = r.wait("fan-damp"), r.wait("fan-limit"), r.wait("fan-back")
	ceiling, house := int(physics.CeilingOf(r.h.p, *r.r)), r.h.houseHumidity()
	overCeiling := rules.Literal{Kind: rules.ReadsOver, Thing: h, Threshold: ceiling}
	overHouse := rules.Literal{Kind: rules.ReadsOver, Thing: h, Threshold: HouseMargin, Than: house}
	cross := func(k rules.CauseKind, threshold int, than string) rules.Cause {
		return rules.Cause{Kind: k, Thing: h, Threshold: threshold, Than: than}
	}
	r.add("damp-over-ceiling", rules.Rule{Purpose: "Air over the ceiling is damp, as long as it is damper than the house.",
		Cause: cross(rules.Over, ceiling, ""), Guard: lits(overHouse), Effects: []rules.Effect{note(f.wet)}})
	r.add("damp-over-house", rules.Rule{Purpose: "Air damper than the house is damp, as long as it is over the ceiling.",
		Cause: cross(rules.Over, HouseMargin, house), Guard: lits(overCeiling), Effects: []rules.Effect{note(f.wet)}})
	r.add("dry-under-ceiling", rules.Rule{Purpose: "Air back under the ceiling is dry enough.",
		Cause: cross(rules.Under, ceiling, ""), Effects: []rules.Effect{forget(f.wet)}})
	r.add("dry-as-house", rules.Rule{Purpose: "Air as dry as the house is dry enough: on a damp summer day the fan can do no more.",
		Cause: cross(rules.Under, HouseMargin, house), Effects: []rules.Effect{forget(f.wet)}})
	run := func(name, purpose string, c rules.Cause, guard ...rules.Literal) {
		r.add(name, rules.Rule{Purpose: purpose, Cause: c, Guard: guards(guard, r.allowed("humidity")),
			Effects: append(r.turnFans(true), start(f.damp, f.on), start(f.limit, r.mostAir())), Again: rules.Keep})
	}
	run("air", "The fan runs while the air is damp.", became(f.wet, true, false), isNot(f.enough))
	run("air-back", "A fan that was switched off in damp air comes back.", ended(f.back), is(f.wet), isNot(f.enough))
	if !r.midnightQuiet() {
		run("air-new-day", "A new day has its own allowance.", became(f.enough, false, false), is(f.wet))
	}
	if r.quiet() && !r.excepted("humidity") {
		run("air-after-quiet", "Damp air that waited for the end of the quiet hours is aired then.",
			rules.Cause{Kind: rules.Clock, At: f.brief.Quiet.To}, is(f.wet), isNot(f.enough))
	}
	r.dampEnds(h, overCeiling, overHouse)
}

// RunOnOf is how long the walls of a room take longer than its air, with its fan and what usually goes on in it, in the season in
// which they take longest: rules know no seasons, and in the other one the fan merely runs a little longer. Where the
// room's size or its fan isn't known, it is RunOn. why goes on after "once the air is dry", and assumed is what nobody noted.
func RunOnOf(p *model.Project, r *model.Room) (on q.Span, why string, assumed []string) {
	on = RunOn
	if _, sized := physics.Volume(*r); !sized || !fansKnown(r.Fans) || !physics.Airs(*r) {
		return on, "", nil
	}
	a, err := physics.Air(p, *r)
	if err != nil {
		return on, "", nil
	}
	for _, s := range a.Seasons {
		if longer := min(s.RunOn, MostRunOn); longer > on {
			on, why = longer, fmt.Sprintf(": so much longer the walls take, after %s in %s", a.Use.Name, s.Name)
		}
	}
	return on, why, a.Assumed
}

// runOn notes it, and says what it leans on.
func (r *room) runOn() {
	f := &r.fan
	var assumed []string
	f.on, f.why, assumed = RunOnOf(r.h.p, r.r)
	_, sized := physics.Volume(*r.r)
	switch {
	case physics.Airs(*r.r) && (!sized || !fansKnown(r.r.Fans)):
		r.find(false, "brief/ventilation", "The fan of %s runs on for %s once its air is dry, as is usual; note the room's size and what the fan moves, and that is reckoned.", r.the(), f.on)
	case len(assumed) > 0:
		r.find(false, "brief/ventilation", "The fan of %s runs on for %s once its air is dry. That leans on what nobody noted: %s; note it to be sure.", r.the(), f.on, strings.Join(assumed, "; "))
	}
}

func fansKnown(fans []model.Fan) bool {
	for _, f := range fans {
		if flow, ok := f.Airflow.Get(); !ok || flow <= 0 {
			return false
		}
	}
	return true
}

func (r *room) mostAir() q.Span {
	if most := q.Span(r.fan.brief.AtMost); most > 0 {
		return most
	}
	return DryingLimit
}

// dampEnds are the ends of a run for damp air: dry, or the day's limit.
func (r *room) dampEnds(h string, wet ...rules.Literal) {
	f := &r.fan
	r.add("aired", rules.Rule{Purpose: fmt.Sprintf("The fan runs on for %s once the air is dry%s.", f.on, f.why), Cause: ended(f.damp),
		Effects: []rules.Effect{stop(f.limit)}, Hold: lits(is(f.wet)), HoldFor: f.on})
	r.add("aired-off", rules.Rule{Purpose: "The fan stops once the air is dry, unless another wish runs it.", Cause: ended(f.damp),
		Guard: r.without(f.damp), Effects: r.turnFans(false)})
	most := r.mostAir()
	over := []rules.Effect{note(f.enough), stop(f.damp), stop(f.back)}
	if len(r.h.alerts) > 0 {
		over = append(over, tell(r.h.alerts, fmt.Sprintf("The fan of %s has run for %s and the air is still damp. It rests until tomorrow: look for wet laundry, a window, or a leak.", r.the(), most)))
	} else {
		r.find(false, "brief/ventilation/at_most", "Nobody of the household takes alerts, so nobody hears when the fan of %s has run for its %s; give somebody alerts.", r.the(), most)
	}
	r.add("air-limit", rules.Rule{Purpose: fmt.Sprintf("No run for damp air lasts longer than %s; the household hears of it.", most),
		Cause: ended(f.limit), Effects: over})
	r.add("air-limit-off", rules.Rule{Purpose: "At the limit the fan stops, unless another wish runs it.", Cause: ended(f.limit),
		Guard: r.without(f.damp), Effects: r.turnFans(false)})
	r.add("new-day", rules.Rule{Purpose: "The limit is for a day.", Cause: rules.Cause{Kind: rules.Clock}, Effects: []rules.Effect{forget(f.enough)}})
	r.add("power-back-dry", rules.Rule{Purpose: "After a power cut the reading decides anew.", Cause: rules.Cause{Kind: rules.PowerBack},
		Effects: []rules.Effect{forget(f.wet)}})
	r.add("power-back-damp", rules.Rule{Purpose: "Air that is still damp after a power cut is aired.", Cause: rules.Cause{Kind: rules.PowerBack},
		Guard: wet, Effects: []rules.Effect{note(f.wet)}})
}

// askFan are the effects of a run that somebody asks for. Its rule must start waits as Longer: a short wish never cuts a long one.
func (r *room) askFan(run q.Span) []rules.Effect {
	return append(r.turnFans(true), start(r.fan.asked, run))
}

// restFan ends all wishes. A fan that is sent to rest in damp air is looked at again after a while.
func (r *room) restFan() []rules.Effect {
	f := &r.fan
	out := []rules.Effect{stop(f.asked)}
	if f.people != "" {
		out = append(out, stop(f.people))
		if f.in != "" {
			out = append(out, stop(f.in), forget(f.settled))
		}
	}
	if f.damp != "" {
		out = append(out, stop(f.damp), stop(f.limit), start(f.back, BackAfter))
	}
	return out
}

// fanAsked is what people do at the fan's own switch, and the end of a run that they asked for.
func (r *room) fanAsked() {
	f := &r.fan
	run := ByHandRun
	if len(f.brief.OnRequest) > 0 {
		run = f.brief.OnRequest[0].Run
	}
	ends := "Switching the fan off by hand ends what was wished of it."
	if f.wet != "" {
		ends += fmt.Sprintf(" In damp air it comes back after %s.", BackAfter)
	}
	for _, thing := range r.fans {
		r.add("fan-on-by-hand", rules.Rule{Purpose: fmt.Sprintf("A fan switched on by hand runs for %s.", run), Cause: became(thing, true, true),
			Effects: []rules.Effect{start(f.asked, run)}, Again: rules.Longer})
		r.add("fan-off-by-hand", rules.Rule{Purpose: ends, Cause: became(thing, false, true),
			Effects: r.restFan()})
	}
	r.add("asked-off", rules.Rule{Purpose: "The fan stops after the run that was asked for, unless another wish runs it.", Cause: ended(f.asked),
		Guard: r.without(f.asked), Effects: r.turnFans(false)})
}

// fanQuiet ends at the start of the quiet hours what may not run in them. People at the fan's own switch have their way at any hour.
func (r *room) fanQuiet() {
	f := &r.fan
	if !r.quiet() {
		return
	}
	at := rules.Cause{Kind: rules.Clock, At: f.brief.Quiet.From}
	var end []rules.Effect
	var stays []rules.Literal
	sort := func(wish string, waits ...string) {
		if waits[0] == "" {
			return
		}
		if r.excepted(wish) {
			stays = append(stays, notRunning(waits[0]))
			return
		}
		for _, w := range waits {
			end = append(end, stop(w))
		}
	}
	sort("request", f.asked)
	sort("humidity", f.damp, f.limit, f.back)
	sort("", f.people)
	if len(end) > 0 {
		r.add("quiet", rules.Rule{Purpose: "Quiet hours end every wish that isn't excepted.", Cause: at, Effects: end})
	}
	r.add("quiet-off", rules.Rule{Purpose: "In quiet hours only the exceptions run the fan.", Cause: at, Guard: stays, Effects: r.turnFans(false)})
}

// fanPower: a fan that comes back with the mains has lost the wait that would stop it.
func (r *room) fanPower() {
	off := r.turnFans(false)
	if r.fan.settled != "" {
		off = append(off, forget(r.fan.settled))
	}
	r.add("power-back-fan", rules.Rule{Purpose: "After a power cut the fan is off until there is a new wish.", Cause: rules.Cause{Kind: rules.PowerBack}, Effects: off})
}
