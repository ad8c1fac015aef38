package rules

import (
	"fmt"
	"strings"

	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
)

// Worded is a rule in plain English, each part a sentence or the piece of one. Guard and Hold are empty
// where the rule has none.
type Worded struct {
	Cause  string // "Motion is seen in the shower room"
	Guard  string // "between 22:45 and 06:20, and "set by hand" is not noted"
	Effect string // "ceiling light to 4 %, 2200 K; start the wait "empty" for 6m, again from now"
	Hold   string // what holds the wait of the cause, and for how long it starts over
}

// Words says what a rule of a sheet does. Things that the sheet doesn't know are called by their id. Whoever words a
// whole large sheet is quicker with one NewWording.
func Words(sheet Sheet, r Rule) Worded { return wordingOf(sheet, r).Rule(r) }

// Wording words many rules of one sheet without looking its things up each time.
type Wording struct{ things map[string]Thing }

// NewWording prepares the wording of a sheet.
func NewWording(sheet Sheet) Wording {
	w := Wording{things: make(map[string]Thing, len(sheet.Things))}
	for _, t := range sheet.Things {
		w.things[t.ID] = t
	}
	return w
}

// wordingOf prepares the wording of some rules only.
func wordingOf(sheet Sheet, rules ...Rule) Wording {
	w := Wording{things: map[string]Thing{}}
	for i := range rules {
		for _, id := range Named(&rules[i]) {
			w.things[id] = Thing{}
		}
	}
	for i := range sheet.Things {
		if _, named := w.things[sheet.Things[i].ID]; named {
			w.things[sheet.Things[i].ID] = sheet.Things[i]
		}
	}
	for id, t := range w.things {
		if t.ID == "" {
			delete(w.things, id)
		}
	}
	return w
}

// Named are the things that a rule names, in the order in which it does; some may come twice.
func Named(r *Rule) []string {
	var out []string
	add := func(ids ...string) {
		for _, id := range ids {
			if id != "" {
				out = append(out, id)
			}
		}
	}
	add(r.Cause.Thing, r.Cause.Than)
	for _, l := range r.Guard {
		add(l.Thing, l.Than)
	}
	for _, e := range r.Effects {
		add(e.Thing)
	}
	for _, l := range r.Hold {
		add(l.Thing, l.Than)
	}
	return out
}

// Rule words one rule.
func (w Wording) Rule(r Rule) Worded {
	out := Worded{Cause: english.Upper(w.Cause(r.Cause)), Guard: w.all(r.Guard, ", and ")}
	effects := make([]string, len(r.Effects))
	for i, e := range r.Effects {
		effects[i] = w.Effect(e, r.Again)
	}
	out.Effect = strings.Join(effects, "; ")
	if len(r.Hold) > 0 {
		out.Hold = fmt.Sprintf("held while %s; after that it runs %s from the start", w.all(r.Hold, ", or "), span(r.HoldFor))
	}
	return out
}

func (w Wording) thing(id string) Thing {
	if t, ok := w.things[id]; ok {
		return t
	}
	return Thing{ID: id, Name: id, Kind: -1}
}

// Cause says what happens, without the full stop, starting in lower case.
func (w Wording) Cause(c Cause) string {
	t := w.thing(c.Thing)
	unit := unitOf(t.Kind)
	switch c.Kind {
	case Reports:
		return report(t, c.On)
	case Over:
		if c.Than != "" {
			return fmt.Sprintf("%s goes more than %d%s above %s", t.Name, c.Threshold, pointsOf(t.Kind), w.thing(c.Than).Name)
		}
		return fmt.Sprintf("%s goes over %d%s", t.Name, c.Threshold, unit)
	case Under:
		if c.Than != "" {
			return fmt.Sprintf("%s comes back to within %d%s of %s", t.Name, c.Threshold, pointsOf(t.Kind), w.thing(c.Than).Name)
		}
		return fmt.Sprintf("%s comes back to %d%s", t.Name, c.Threshold, unit)
	case Rises:
		return fmt.Sprintf("%s rises by %d%s or more inside %s", t.Name, c.Threshold, pointsOf(t.Kind), span(c.For))
	case StaysUnder:
		return fmt.Sprintf("%s has stayed at %d%s or less for %s", t.Name, c.Threshold, unit, span(c.For))
	case Pressed:
		return "the " + t.Name + " is " + pressWord(c.Press)
	case Became:
		return becameWords(t, c)
	case Clock:
		return "it is " + clockWords(c.At)
	case Ended:
		return fmt.Sprintf("the wait %s runs out", waitName(c.Wait))
	case PowerBack:
		return "the power comes back"
	}
	return ""
}

func pressWord(p Press) string {
	switch p {
	case Double:
		return "pressed twice"
	case Hold:
		return "held down"
	}
	return "pressed once"
}

// report says what a sensor saw; names of sensors start with what they sense and end with the place.
func report(t Thing, on bool) string {
	switch t.Kind {
	case Motion:
		if place, ok := strings.CutPrefix(t.Name, "motion "); ok {
			if on {
				return "motion is seen " + place
			}
			return "no more motion is seen " + place
		}
	case Presence:
		if place, ok := strings.CutPrefix(t.Name, "people "); ok {
			if on {
				return "somebody is seen " + place + ", moving or still"
			}
			return "nobody is seen " + place + " any more"
		}
	case Door:
		return "the " + t.Name + choose(on, " opens", " shuts")
	case Probe:
		if place, ok := strings.CutPrefix(t.Name, "water "); ok {
			return choose(on, "water is found ", "water is gone ") + place
		}
	}
	return t.Name + choose(on, " reports something", " reports nothing more")
}

func becameWords(t Thing, c Cause) string {
	who := choose(c.ByHand, " by hand", "")
	if t.Kind == Flag {
		switch {
		case c.Any:
			return quoted(t.Name) + " changes"
		case c.On:
			return quoted(t.Name) + " is noted"
		}
		return quoted(t.Name) + " is forgotten"
	}
	switch {
	case c.Any:
		return "the " + t.Name + choose(c.ByHand, " is changed by hand", " changes")
	case t.Kind == Valve:
		return "the " + t.Name + choose(c.On, " is shut", " is opened") + who
	case c.Plain:
		return "the " + t.Name + " is switched on by hand, at no level of its own"
	case c.ByHand:
		return "the " + t.Name + choose(c.On, " is switched on", " is switched off") + who
	}
	return "the " + t.Name + choose(c.On, " comes on", " goes off")
}

// Literal says one statement of a guard or hold.
func (w Wording) Literal(l Literal) string {
	t := w.thing(l.Thing)
	switch l.Kind {
	case Is:
		return state(t, !l.Not)
	case ReadsOver:
		if l.Than != "" {
			return fmt.Sprintf("%s is %s than %d%s above %s", t.Name, choose(l.Not, "no more", "more"), l.Threshold,
				pointsOf(t.Kind), w.thing(l.Than).Name)
		}
		return fmt.Sprintf("%s is %s %d%s", t.Name, choose(l.Not, "at most", "over"), l.Threshold, unitOf(t.Kind))
	case Between:
		return fmt.Sprintf("%s %s and %s", choose(l.Not, "not between", "between"), clockWords(l.From), clockWords(l.To))
	case Running:
		return "the wait " + waitName(l.Wait) + choose(l.Not, " does not run", " runs")
	}
	return ""
}

func state(t Thing, on bool) string {
	switch t.Kind {
	case Motion, Presence:
		place := t.Name
		for _, head := range []string{"motion ", "people "} {
			place = strings.TrimPrefix(place, head)
		}
		what := choose(t.Kind == Motion, "motion", "somebody")
		if !on {
			what = choose(t.Kind == Motion, "no motion", "nobody")
		}
		return what + " is seen " + place
	case Door:
		return "the " + t.Name + choose(on, " is open", " is shut")
	case Probe:
		return "there is " + choose(on, "", "no ") + t.Name
	case Valve:
		return "the " + t.Name + choose(on, " is shut", " is open")
	case Flag:
		return quoted(t.Name) + choose(on, " is noted", " is not noted")
	}
	return "the " + t.Name + choose(on, " is on", " is off")
}

func (w Wording) all(ls []Literal, join string) string {
	parts := make([]string, len(ls))
	for i, l := range ls {
		parts[i] = w.Literal(l)
	}
	return strings.Join(parts, join)
}

// Effect says one step of a rule, in the imperative.
func (w Wording) Effect(e Effect, again Again) string {
	t := w.thing(e.Thing)
	switch e.Kind {
	case Set:
		return setWords(t, e.Value)
	case Start:
		return fmt.Sprintf("start the wait %s for %s, %s", waitName(e.Wait), span(e.For), againWord(again))
	case Stop:
		return "stop the wait " + waitName(e.Wait)
	case Tell:
		return fmt.Sprintf("tell %s: %q", list(e.People), e.Text)
	}
	return ""
}

func againWord(a Again) string {
	switch a {
	case Longer:
		return "never cutting it short"
	case Keep:
		return "unless it runs already"
	case Stack:
		return "on top of what is left"
	}
	return "again from now"
}

func setWords(t Thing, v Value) string {
	switch t.Kind {
	case Lamp:
		switch {
		case !v.On:
			return t.Name + " off"
		case v.Colour > 0:
			return fmt.Sprintf("%s to %d %%, %d K", t.Name, v.Level, v.Colour)
		}
		return fmt.Sprintf("%s to %d %%", t.Name, v.Level)
	case Valve:
		return choose(v.On, "shut the ", "open the ") + t.Name
	case Flag:
		return choose(v.On, "note ", "forget ") + quoted(t.Name)
	}
	return t.Name + choose(v.On, " on", " off")
}

func unitOf(k ThingKind) string {
	switch k {
	case Hygrometer:
		return " %"
	case Meter:
		return " W"
	}
	return ""
}

// pointsOf is the unit of a difference of readings.
func pointsOf(k ThingKind) string {
	if k == Hygrometer {
		return " points"
	}
	return unitOf(k)
}

// waitName is the printed name of a wait: shower-room/fan-asked is "fan asked".
func waitName(id string) string {
	if _, last, ok := strings.Cut(id, "/"); ok {
		id = last
	}
	return quoted(strings.ReplaceAll(id, "-", " "))
}

func quoted(s string) string { return `"` + s + `"` }

func span(s q.Span) string {
	if s == 0 {
		return "0s"
	}
	return s.String()
}

// clockWords shows seconds too where a time has them, so that nothing exact is lost.
func clockWords(t q.DayTime) string {
	if sec := int(t.Offset.Seconds()); t.Sun == q.NoSun && sec%60 != 0 {
		return fmt.Sprintf("%02d:%02d:%02d", sec/3600, sec/60%60, sec%60)
	}
	return t.Show(q.Metric)
}

func choose(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

func list(names []string) string {
	switch n := len(names); n {
	case 0:
		return "nobody"
	case 1:
		return names[0]
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}
