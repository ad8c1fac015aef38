package bill

import (
	"fmt"
	"sort"
	"strconv"
	"strings"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/english"
)

func itoa(n int) string { return strconv.Itoa(n) }

// Doing says an ability as a verb: "dims", after "that".
func Doing(a catalogue.Ability) string {
	switch a {
	case catalogue.SenseMotion:
		return "sees motion"
	case catalogue.SenseStill:
		return "sees people who keep still"
	case catalogue.SenseDoor:
		return "tells an open door from a shut one"
	case catalogue.SenseHumidity:
		return "reads humidity"
	case catalogue.SenseWet:
		return "feels water"
	case catalogue.SwitchLamp:
		return "switches lamps"
	case catalogue.DimLamp:
		return "dims lamps"
	case catalogue.TuneLamp:
		return "sets level and colour of lamps"
	case catalogue.SwitchFan:
		return "switches a fan"
	case catalogue.CutPlug:
		return "meters and cuts off a plug"
	case catalogue.CutFixed:
		return "meters and cuts off a wired appliance"
	case catalogue.Press:
		return "takes presses"
	case catalogue.Sound:
		return "sounds an alarm"
	case catalogue.ShutWater:
		return "shuts the water"
	case catalogue.Host:
		return "runs rules"
	}
	return string(a)
}

// reasons fills in reason and runner-up of every line.
func (w *writer) reasons() error {
	r := newRunners(w)
	for _, e := range w.lines {
		if !e.main {
			e.Reason = e.there() + e.comesAlong()
			continue
		}
		next, err := r.after(e)
		if err != nil {
			return err
		}
		e.runnerUp(next, w.h.sh.owned)
		e.RunnerUse = next.uses(w, e)
		switch {
		case e.repeater:
			e.Reason = e.there() + e.carries
		case e.host:
			e.Reason = e.there() + w.whyHost(e)
		default:
			e.Reason = e.there() + w.why(e)
		}
	}
	return nil
}

func (e *entry) runnerUp(a answer, has []owned) {
	if a.next == nil {
		return
	}
	e.RunnerUp, e.RunnerName, e.RunnerAt = a.next.ID, a.next.Name, a.more
	e.RunnerUpkeep, e.RunnerLosses = a.toll[upkeep], a.toll[losses]
	if less, ok := a.wins(has); ok {
		e.RunnerWins = less
	}
}

func (e *entry) covers() []string {
	ids := append([]string{}, e.asked...)
	var orders []int
	for o := range e.spots {
		orders = append(orders, o)
	}
	sort.Ints(orders)
	for _, o := range orders {
		ids = append(ids, e.spots[o].ID)
	}
	return ids
}

func (e *entry) comesAlong() string {
	switch e.role {
	case newLamps:
		return "The " + english.Lower(e.for_.Name) + " needs lamps that dim; those there can't be counted on to."
	case guardPlate:
		return "Keeps the wall switch from cutting off the lamps that listen."
	case spareCells:
		return "One spare set for each device that runs on cells; the first set comes in the box."
	case deepens:
		return "Makes the switch box deep enough for the " + english.Lower(e.for_.Name) + "."
	}
	return "Goes with the " + english.Lower(e.for_.Name) + "."
}

// why says why a part of a room won.
func (w *writer) why(e *entry) string {
	g := w.h.groups[e.uses[0].group]
	o := e.uses[0].offer
	var able []string
	var sp spot // the one that asks most of the part
	most, forced := 0, false
	for _, u := range e.uses {
		spots := 0
		for t, n := range u.offer.covers {
			if n == 0 {
				continue
			}
			ty := &w.h.groups[u.group].types[t]
			if able == nil || ty.spots[0].Load > sp.Load {
				sp = ty.spots[0]
			}
			spots += n
			forced = forced || ty.spots[0].forced != ""
			if d := Doing(ty.spots[0].Wants[ty.best]); !listed(able, d) {
				able = append(able, d)
			}
		}
		most = max(most, spots)
	}
	what := english.List(able) + w.within(e.article, sp)
	if most > 1 && len(able) == 1 {
		what += fmt.Sprintf(", for %d at once", most)
	}
	switch {
	case forced:
		return "Chosen in the project; it " + what + "."
	case e.RunnerUp == "":
		return "The only one on the shelf that " + what + " here."
	}
	if w.h.minds != [tolls]bool{} {
		return w.h.winner() + what + "."
	}
	pt, first := w.taken[e.uses[0].group], &g.front.points[0]
	if reach := w.whyReach(e.uses[0].group); reach != "" {
		return "Cheapest for the home as a whole that " + what + ": " + reach + "."
	}
	if other := first.doing(o); pt.cost > first.cost && other != nil && other != e.article {
		return fmt.Sprintf("Cheapest for the home as a whole that %s: by itself the %s would cost less, but more in controllers.",
			what, english.Lower(other.Name))
	}
	return "Cheapest that " + what + "."
}

// winner begins the reason of a part that won by more than money.
func (w wish) winner() string {
	switch w.aim {
	case Upkeep:
		return "Keeps the home's upkeep at its least, and is the cheapest such that "
	case Resilience:
		return "Keeps what the home can lose at its least, and is the cheapest such that "
	}
	return "Best for its price, with upkeep and losses at what they are worth, that "
}

// doing is the article that does, in this way to cover a group, what the offer does in another.
func (p *point) doing(o *offer) *article {
	for t, n := range o.covers {
		if a := p.serving(t); n > 0 && a != nil {
			return a
		}
	}
	return nil
}

// serving is the first article that serves a type of spots in this way to cover a group.
func (p *point) serving(t int) *article {
	for _, x := range p.offers {
		if x.covers[t] > 0 {
			return x.article
		}
	}
	return nil
}

// within adds the facts of the house that the part had to meet.
func (w *writer) within(a *article, sp spot) string {
	var s string
	if a.Place == "box" {
		if has, known := sp.Neutral.Get(); !known {
			if a.Neutral != "needed" {
				s += " without counting on a neutral"
			}
		} else if !has {
			s += " without a neutral"
		}
		if d, known := sp.Depth.Get(); known {
			s += ", fits a box " + w.h.sh.small(float64(d)) + " deep"
		}
	}
	if sp.Load > 0 && len(a.Ratings) > 0 {
		s += " and carries " + watts(sp.Load)
	}
	if sp.ComesOff && a.Behaviour.PowerUp == "off" {
		s += ", and stays off when the mains come back, because it heats"
	}
	if sp.Ingress != "" && a.Ingress != "" {
		s += " and is " + a.Ingress + " where " + sp.Ingress + " is asked"
	}
	return s
}

func (w *writer) whyHost(e *entry) string {
	if does(e.article.Part, catalogue.Speak) {
		return "Gives a controller the radio that it lacks, for less than another controller."
	}
	var on slots
	for _, t := range w.taken {
		on = on.plus(t.slots, 1)
	}
	if w.h.routed != nil {
		for _, a := range w.h.routed.added {
			on[a.radio]++
		}
	}
	var parts []string
	for r, n := range on {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d on %s", n, RadioName(Radios[r])))
		}
	}
	if len(parts) == 0 {
		parts = []string{"none"}
	}
	what := "Cheapest"
	if e.RunnerUp == "" {
		what = "The only way"
	}
	if w.h.rules > 0 {
		what += " to hold the home's " + english.Plural(w.h.rules, "rule") + " and its devices"
	} else {
		what += " to hold the home's devices"
	}
	return what + ": " + english.List(parts) + "."
}

const (
	noHost     = "No controller on the shelf may be used here."
	tooFew     = "The controllers that may be used here hold too few devices or rules for this home."
	fewRemedy  = "Allow more controllers: take some off choices/avoid, or choose another at choices/use."
	hostRemedy = "Put a controller on the shelf, or take it off choices/avoid."
)

// unmet lists the needs that nothing serves, or only poorly.
func (w *writer) unmet() {
	w.bill.Unmet = append(w.bill.Unmet, w.h.hosts.unmet...)
	if len(w.h.hosts.free)+len(w.h.hosts.places) == 0 && len(w.h.groups)+len(w.h.asked) > 0 {
		w.bill.Unmet = append(w.bill.Unmet, Unmet{Need: "controllers", Asked: Doing(catalogue.Host),
			Reason: noHost, Remedy: hostRemedy})
		for _, n := range w.h.asked {
			w.bill.Unmet = append(w.bill.Unmet, Unmet{Need: n.ID, Asked: Doing(catalogue.Host), Reason: noHost, Remedy: hostRemedy})
		}
	}
	if w.h.short && len(w.h.hosts.free)+len(w.h.hosts.places) > 0 {
		w.bill.Unmet = append(w.bill.Unmet, Unmet{Need: "controllers", Asked: Doing(catalogue.Host), Reason: tooFew, Remedy: fewRemedy})
		for _, n := range w.h.asked {
			w.bill.Unmet = append(w.bill.Unmet, Unmet{Need: n.ID, Asked: Doing(catalogue.Host), Reason: tooFew, Remedy: fewRemedy})
		}
	}
	for _, sp := range w.h.spots {
		t := sp.kind
		if t.best == 0 {
			continue
		}
		u := Unmet{Need: sp.ID, Asked: Doing(firstWant(sp.spot))}
		if t.best != unserved {
			u.Got = Doing(sp.Wants[t.best])
		}
		u.Reason, u.Remedy = w.whyNot(sp.spot, t.near)
		w.bill.Unmet = append(w.bill.Unmet, u)
	}
	w.outOfReach()
}

func (w *writer) whyNot(sp spot, near []refusal) (reason, remedy string) {
	if len(near) == 0 {
		if sp.forced != "" {
			if a := w.h.sh.byID[sp.forced]; a != nil {
				return fmt.Sprintf("The project says to use the %s, and that never %s.", english.Lower(a.Name), Doing(firstWant(sp))),
					"Choose another part at choices/use, or none."
			}
			return "The project says to use " + sp.forced + ", which is not on the shelf at a price in " + w.h.sh.currency + ".",
				"Choose another part at choices/use, or none."
		}
		return "Nothing on the shelf " + Doing(firstWant(sp)) + ".", "Add a part to the shelf, or change the brief."
	}
	var texts, remedies []string
	for _, r := range near {
		texts = append(texts, r.text)
		if r.remedy != "" {
			remedies = append(remedies, r.remedy)
		}
	}
	reason = "Nothing"
	if near[0].who != nil {
		reason = "The nearest is the " + english.Lower(near[0].who.Name) + ", which"
		if sp.forced != "" {
			reason = "The project says to use the " + english.Lower(near[0].who.Name) + ", which"
		}
	}
	remedy = "Change the brief, or add a part to the shelf."
	if len(remedies) > 0 {
		remedy = english.List(remedies)
		remedy = strings.ToUpper(remedy[:1]) + remedy[1:] + "."
	}
	return reason + " " + english.List(texts) + ".", remedy
}
