package fitting

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// Enterable says why a rule can't be entered on a controller as it stands; nil when it can. Every rule of a fitted sheet can.
func Enterable(sheet rules.Sheet, r rules.Rule, lim catalogue.Limits, info Info) error {
	for _, check := range []func(rules.Rule, catalogue.Limits) error{
		causeFits, guardFits,
		func(r rules.Rule, lim catalogue.Limits) error { return effectsFit(r, lim, info) },
		func(r rules.Rule, lim catalogue.Limits) error { return notesFit(sheet, r, lim) },
	} {
		if err := check(r, lim); err != nil {
			return fmt.Errorf("rule %s: %w", r.ID, err)
		}
	}
	return nil
}

func causeFits(r rules.Rule, lim catalogue.Limits) error {
	switch c := r.Cause; {
	case c.Kind == rules.Pressed && len(lim.Presses) > 0 && !slices.Contains(lim.Presses, pressName[c.Press]):
		return fmt.Errorf("the controller doesn't know the press %q", pressName[c.Press])
	case c.Kind == rules.StaysUnder && !lim.SeenFor:
		return fmt.Errorf("the controller doesn't know how long a reading has stayed")
	case c.Kind == rules.Rises && !lim.RisesBy:
		return fmt.Errorf("the controller doesn't know rises")
	case c.Kind == rules.Clock:
		return timeFits(c.At, lim)
	case len(r.Hold) > 0 && !lim.Holds:
		return fmt.Errorf("the controller can't hold waits")
	case lim.LongestWait > 0 && r.HoldFor > lim.LongestWait:
		return fmt.Errorf("a held wait of %s is longer than %s", r.HoldFor, lim.LongestWait)
	}
	return nil
}

func timeFits(t q.DayTime, lim catalogue.Limits) error {
	switch {
	case t.Sun != q.NoSun && !lim.SunTimes:
		return fmt.Errorf("the controller doesn't know the sun")
	case t.Sun == q.NoSun && lim.ClockStep > 0 && t.Offset%time.Duration(lim.ClockStep) != 0:
		return fmt.Errorf("%s is not on a step of the clock", t)
	}
	return nil
}

func guardFits(r rules.Rule, lim catalogue.Limits) error {
	if lim.MostGuards > 0 && len(r.Guard) > lim.MostGuards {
		return fmt.Errorf("the guard has %d statements, and the controller takes %d", len(r.Guard), lim.MostGuards)
	}
	for _, l := range append(slices.Clone(r.Guard), r.Hold...) {
		if l.Kind == rules.Between && l.From == l.To {
			continue // always, or never: nothing to look at
		}
		kind := "state"
		if l.Kind == rules.Between {
			kind = "time"
		}
		if lim.Guards != "" && lim.Guards != "both" && lim.Guards != kind {
			return fmt.Errorf("a guard of the controller can't look at the %s", kind)
		}
		if l.Kind != rules.Between {
			continue
		}
		for _, t := range []q.DayTime{l.From, l.To} {
			if err := timeFits(t, lim); err != nil {
				return err
			}
		}
		if !lim.OverMidnight && (l.Not || over(l.From, l.To)) {
			return fmt.Errorf("the window goes over midnight")
		}
	}
	return nil
}

func effectsFit(r rules.Rule, lim catalogue.Limits, info Info) error {
	for i, e := range r.Effects {
		switch e.Kind {
		case rules.Start:
			if err := startFits(r, i, lim); err != nil {
				return err
			}
		case rules.Set:
			if info.toggled(e.Thing, lim) && !slices.Contains(r.Guard, rules.Literal{Not: e.Value.On, Kind: rules.Is, Thing: e.Thing}) {
				return fmt.Errorf("%s can only be toggled, and nothing guards it", e.Thing)
			}
		}
	}
	return nil
}

func notesFit(sheet rules.Sheet, r rules.Rule, lim catalogue.Limits) error {
	if lim.Flags {
		return nil
	}
	named := []string{r.Cause.Thing}
	for _, l := range append(slices.Clone(r.Guard), r.Hold...) {
		named = append(named, l.Thing)
	}
	for _, e := range r.Effects {
		named = append(named, e.Thing)
	}
	for _, t := range sheet.Things {
		if t.Kind == rules.Flag && slices.Contains(named, t.ID) {
			return fmt.Errorf("the controller can't remember %q", t.Name)
		}
	}
	return nil
}

func startFits(r rules.Rule, i int, lim catalogue.Limits) error {
	e := r.Effects[i]
	if lim.LongestWait > 0 && e.For > lim.LongestWait {
		return fmt.Errorf("a wait of %s is longer than %s", e.For, lim.LongestWait)
	}
	if lim.Keeps && r.Again != rules.Stack || lim.Stacks && r.Again == rules.Stack {
		return nil
	}
	if lim.Restarts {
		if r.Again != rules.Restart {
			return fmt.Errorf("the controller only starts a running wait over")
		}
		return nil
	}
	if r.Again != rules.Keep {
		return fmt.Errorf("the controller can't start a running wait over")
	}
	return nil
}

// Entry is one rule as it is typed into a controller.
type Entry struct {
	Order   int
	Title   string
	Rule    string // of the fitted sheet
	Room    string
	Purpose string
	Promise string // that it serves, as the promises are called
	Fields  []Field
}

// Field is what to type where.
type Field struct{ Name, Value string }

// Entries are the rules of a fitted sheet in the order in which to enter them: rules that others lean on don't come first on
// any controller that matters, so it is the order of the sheet.
func Entries(fit Fitted, lim catalogue.Limits, info Info) []Entry {
	w := rules.NewWording(fit.Sheet)
	names := map[string]string{}
	for _, t := range fit.Sheet.Things {
		names[t.ID] = t.Name
	}
	name := func(id string) string { return names[id] }
	out := make([]Entry, len(fit.Sheet.Rules))
	for i, r := range fit.Sheet.Rules {
		out[i] = entry(w, name, r, lim, info)
		out[i].Order, out[i].Rule, out[i].Room = i+1, r.ID, r.Room
		x := rule{Rule: r}
		for _, e := range r.Effects {
			x.effs = append(x.effs, eff{e, r.Again})
		}
		out[i].Promise = promiseOf(x)
		for _, t := range fit.Tables {
			if uses(r, t) {
				out[i].Fields = append(out[i].Fields, Field{"Through the year", t.Words()})
			}
		}
	}
	return out
}

func entry(w rules.Wording, name func(string) string, r rules.Rule, lim catalogue.Limits, info Info) Entry {
	e := Entry{Title: title(r.ID), Purpose: r.Purpose}
	add := func(field, value string) { e.Fields = append(e.Fields, Field{field, value}) }
	add("Cause", english.Upper(w.Cause(r.Cause)))
	for _, l := range r.Guard {
		if l.Kind == rules.Between {
			from, to := Typed(l, lim)
			add("Guard", fmt.Sprintf("%sbetween %s and %s%s", map[bool]string{true: "not "}[l.Not], from, to, counted(lim)))
			continue
		}
		add("Guard", w.Literal(l))
	}
	for _, f := range r.Effects {
		add("Effect", order(w, name, f, r, lim, info))
	}
	if len(r.Hold) > 0 {
		add("Hold", w.Rule(r).Hold)
	}
	return e
}

func counted(lim catalogue.Limits) string {
	if lim.EndInclusive {
		return ", the last included"
	}
	return ""
}

// order is one effect as the controller wants it.
func order(w rules.Wording, name func(string) string, e rules.Effect, r rules.Rule, lim catalogue.Limits, info Info) string {
	switch {
	case e.Kind == rules.Set && info.toggled(e.Thing, lim):
		return "toggle the " + name(e.Thing)
	case e.Kind != rules.Start:
		return w.Effect(e, r.Again)
	case lim.Keeps || r.Again == rules.Stack:
		return w.Effect(e, r.Again)
	case !lim.Restarts:
		return fmt.Sprintf("start the wait %s for %s", waitName(e.Wait), e.For)
	}
	return fmt.Sprintf("start the wait %s for %s, from the start if it runs", waitName(e.Wait), e.For)
}

func uses(r rules.Rule, t Table) bool {
	x := rule{Rule: r}
	x.Guard, x.Hold = slices.Clone(r.Guard), slices.Clone(r.Hold)
	found := false
	x.times(func(at q.DayTime) q.DayTime {
		found = found || slices.ContainsFunc(t.Rows, func(row Row) bool { return row.At == at })
		return at
	})
	return found
}

// Words of a table: when to set which clock time.
func (t Table) Words() string {
	var parts []string
	for _, r := range t.Rows {
		d := time.Date(2025, 1, 1+r.From, 0, 0, 0, 0, time.UTC)
		parts = append(parts, fmt.Sprintf("%s from %s", r.At.Show(q.Metric), d.Format("2 January")))
	}
	return fmt.Sprintf("for %s: %s", t.Of.Show(q.Metric), strings.Join(parts, ", "))
}

// title of a rule: shower-room/light-on-night~2 is "Light on night, part 2".
func title(id string) string {
	_, name, ok := strings.Cut(id, "/")
	if !ok {
		name = id
	}
	name, part, more := strings.Cut(name, "~")
	name = english.Upper(strings.ReplaceAll(name, "-", " "))
	if more {
		name += ", part " + part
	}
	return name
}
