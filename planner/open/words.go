package open

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model/english"
	"example.org/roombrief/planner/bill"
)

// look is the thing at which a point is settled, and what to do there.
func (w *Weighing) look(x *weighed) (thing, words string) {
	if x.fact == nil {
		return x.At, "ask"
	}
	steps := strings.Split(x.fact.at(), "/")
	thing = x.fact.thing()
	switch x.fact.key() {
	case "coldest":
		return x.At, "hold a thermometer to its coldest corner on a cold morning"
	case "outdoor":
		return x.At, "ask the weather service what the air outside is like in winter and in summer"
	}
	if x.Room == "" || len(steps) != 4 {
		return x.At, "find out " + x.Asks
	}
	name := w.thingName(x.Room, steps[1], steps[2])
	switch {
	case steps[1] == "switches":
		return thing, "look in " + name
	case steps[3] == "dimmable":
		return x.At, "read what is printed on a lamp of " + name
	case steps[3] == "switch":
		return x.At, "find the box behind " + name
	case steps[3] == "airflow":
		return x.At, "find out what " + name + " moves"
	case steps[3] == "pipe":
		return x.At, "measure the pipe at " + name
	}
	return x.At, "find out " + x.Asks
}

// Caution is the kind of the caution that goes with looking there, "" when none does.
func (l Look) Caution() string {
	if strings.Contains(l.At, "/switches/") || strings.Contains(l.At, "/circuits/") || strings.HasSuffix(l.At, "/switch") {
		return "mains"
	}
	return ""
}

// thingName is a thing of a room within a sentence.
func (w *Weighing) thingName(room, list, id string) string {
	r, _ := w.project.Room(room)
	name := spaced(id)
	ends := func(words ...string) bool {
		for _, x := range words {
			if strings.HasSuffix(name, x) {
				return true
			}
		}
		return false
	}
	switch list {
	case "switches":
		for _, b := range r.Switches {
			if b.ID == id && b.Place() != "" {
				return "the switch box " + b.Place()
			}
		}
		if ends("box") || strings.HasPrefix(name, "box") {
			return "the switch " + name
		}
		return "the switch box " + name
	case "circuits":
		if !ends("light", "lights", "lamp", "lamps") {
			name += " light"
		}
	case "fans":
		if !ends("fan", "hood") {
			name += " fan"
		}
	}
	return "the " + name
}

func (w *Weighing) the(room string) string {
	r, ok := w.project.Room(room)
	if !ok {
		return room
	}
	t := r.Title()
	if strings.ContainsAny(t, "'’0123456789") || strings.HasPrefix(strings.ToLower(t), "the ") {
		return t
	}
	return "the " + english.Lower(t)
}

// Says is an answer in a clause: "a neutral saves 38.40 GBP and breaks nothing".
func (a Answer) Says(currency string, proved bool) string {
	if a.AsPlanned() {
		return a.Words + " is as planned"
	}
	var does []string
	switch {
	case a.More > 0:
		does = append(does, "costs "+a.More.In(currency)+" more")
	case a.More < 0:
		does = append(does, "saves "+(-a.More).In(currency))
	}
	if len(a.Gains) > 0 {
		does = append(does, "serves "+english.Few(a.Gains, "things")+" better")
	}
	if len(a.Loses) > 0 {
		does = append(does, "leaves "+english.Few(a.Loses, "things")+" with less than asked")
	}
	if len(a.Airs) > 0 {
		does = append(does, "airs "+english.Few(a.Airs, "rooms")+" in time")
	}
	if len(a.Damp) > 0 {
		does = append(does, "doesn't air "+english.Few(a.Damp, "rooms")+" in time")
	}
	if len(a.Clear) > 0 {
		does = append(does, "keeps mould off the coldest surface of "+english.Few(a.Clear, "rooms"))
	}
	if len(a.Mould) > 0 {
		does = append(does, "lets mould grow on the coldest surface of "+english.Few(a.Mould, "rooms"))
	}
	if len(a.Starts) > 0 {
		does = append(does, "starts "+english.Few(a.Starts, "fans"))
	}
	if len(does) == 0 && len(a.Parts) > 0 {
		does = append(does, "changes the parts and not the price")
	}
	if n := len(a.Drops); n > 0 {
		does = append(does, "makes "+english.Plural(n, "promise")+" fewer")
	}
	if n := len(a.Makes); n > 0 {
		does = append(does, "makes "+english.Plural(n, "promise")+" more, kept")
	}
	if n := len(a.Mends); n > 0 {
		does = append(does, "mends "+english.Plural(n, "promise"))
	}
	switch n := len(a.Breaks); {
	case n > 0:
		does = append(does, "breaks "+english.Plural(n, "promise"))
	case proved && len(a.Mends) == 0:
		does = append(does, "breaks nothing")
	}
	return a.Words + " " + english.List(does)
}

// PartsSaid is what comes and goes with an answer: "1 relay, without 1 spacer"; "" when nothing does.
func (a Answer) PartsSaid() string {
	var come, go_ []string
	for _, p := range a.Parts {
		if p.More > 0 {
			come = append(come, fmt.Sprintf("%d × %s", p.More, english.Lower(p.Name)))
		} else {
			go_ = append(go_, fmt.Sprintf("%d × %s", -p.More, english.Lower(p.Name)))
		}
	}
	switch {
	case len(go_) == 0:
		return english.Few(come, "kinds of part")
	case len(come) == 0:
		return "without " + english.Few(go_, "kinds of part")
	}
	return english.Few(come, "kinds of part") + ", without " + english.Few(go_, "kinds of part")
}

// Says is what hangs on a point, in a sentence or two.
func (p Priced) Says(currency string) string {
	var clauses, rest []string
	promised, others := false, 0
	for _, a := range p.Answers {
		promised = promised || len(a.Breaks)+len(a.Mends) > 0
		if !a.AsPlanned() {
			others++
		}
	}
	for _, a := range p.Answers {
		if a.AsPlanned() {
			rest = append(rest, a.Words)
		} else {
			clauses = append(clauses, a.Says(currency, p.Proved && (promised || others == 1)))
		}
	}
	switch {
	case len(p.Answers) == 0:
		clauses = append(clauses, "no answer was planned")
	case len(clauses) == 0:
		clauses = append(clauses, "by itself it changes nothing")
	case len(rest) > 0:
		clauses = append(clauses, strings.Join(rest, " or ")+" is as planned")
	}
	out := english.Upper(strings.Join(clauses, "; ")) + "."
	if p.Proved && !promised && others > 1 {
		out += " None of them breaks a promise."
	}
	switch {
	case p.Why == "":
		return out
	case len(p.Answers) == 0:
		return strings.TrimSuffix(out, ".") + ": " + p.Why + "."
	}
	return out + " " + english.Upper(p.Why) + "."
}

// Short is what a point comes to in a word or two: "up to 38.40 less", "nothing hangs on it".
func (p Priced) Short(currency string) string {
	switch {
	case p.Matters():
		return short(p.Stake, p.all(), currency)
	case len(p.Answers) == 0:
		return "no price"
	}
	return "nothing hangs on it"
}

// Short is what all points of a place come to in a word or two.
func (l Look) Short(currency string) string {
	var all []Answer
	for _, p := range l.Points {
		all = append(all, p.all()...)
	}
	if len(all) == 0 {
		return "no price"
	}
	return short(l.Stake, all, currency)
}

func short(s Stake, all []Answer, currency string) string {
	var low, high bill.Money
	for _, a := range all {
		low, high = min(low, a.More), max(high, a.More)
	}
	var out []string
	if s.Promises > 0 {
		out = append(out, english.Plural(s.Promises, "promise")+" at stake")
	}
	switch {
	case low < 0 && high > 0:
		out = append(out, fmt.Sprintf("from %s less to %s more", (-low).In(currency), high.In(currency)))
	case low < 0:
		out = append(out, "up to "+(-low).In(currency)+" less")
	case high > 0:
		out = append(out, "up to "+high.In(currency)+" more")
	}
	if s.Things > 0 {
		out = append(out, english.Plural(s.Things, "thing")+" served better or worse")
	}
	starts := slices.ContainsFunc(all, func(a Answer) bool { return len(a.Starts) > 0 })
	switch {
	case len(out) == 0 && starts:
		return "fans start otherwise"
	case len(out) == 0:
		return "other parts, same price"
	}
	return strings.Join(out, ", ")
}

// all are the answers of a point by itself and with others.
func (p Priced) all() []Answer {
	out := append([]Answer{}, p.Answers...)
	for _, t := range p.Together {
		out = append(out, t.Most)
	}
	return out
}

// Says is what two points come to together, in one sentence; alone is the point that it stands beside.
func (t Together) Says(currency string) string {
	how := "Together"
	if t.Only {
		how = "Only together"
	}
	out := how + ": " + t.Most.Says(currency, t.Proved)
	if !t.Only && t.Most.More != t.Sum {
		switch {
		case t.Sum == 0:
			out += "; one by one it would be nothing"
		case t.Sum < 0:
			out += "; one by one it would be " + (-t.Sum).Plain() + " less"
		default:
			out += "; one by one it would be " + t.Sum.Plain() + " more"
		}
	}
	return out + "."
}
