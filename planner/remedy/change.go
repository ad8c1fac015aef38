package remedy

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/rules"
)

// remedy puts a candidate in words.
func (s *search) remedy(c *candidate, keeps, leaves []string) Remedy {
	r := Remedy{Price: c.price, Currency: c.plan.made.Bill.Currency, Household: c.asks > 0, Keeps: keeps, Leaves: leaves}
	var words []string
	for i, k := range c.moves {
		m := s.moves[k]
		r.Moves = append(r.Moves, m)
		r.Edits = append(r.Edits, m.Edits...)
		if i > 0 {
			m.Words = english.Lower(m.Words)
		}
		words = append(words, m.Words)
	}
	r.Words = strings.Join(words, ", and ") + "."
	r.Changes = append(r.Changes, articles(s.base.made.Bill, c.plan.made.Bill)...)
	r.Changes = append(r.Changes, burning(s.base, c.plan, s.room)...)
	r.Changes = append(r.Changes, waits(s.base.sheet, c.plan.sheet, s.room)...)
	r.Changes = append(r.Changes, sentences(s.base, c.plan)...)
	return r
}

// articles are the parts that come and go, and the work.
func articles(a, b bill.Bill) []string {
	count := map[string]int{}
	var names []string
	take := func(x bill.Bill, sign int) {
		for _, l := range x.Lines {
			if _, ok := count[l.Name]; !ok {
				names = append(names, l.Name)
			}
			count[l.Name] += sign * l.Quantity
		}
	}
	take(b, 1)
	take(a, -1)
	var more, less []string
	for _, n := range names {
		switch d := count[n]; {
		case d > 0:
			more = append(more, fmt.Sprintf("%d x %s", d, n))
		case d < 0:
			less = append(less, fmt.Sprintf("%d x %s", -d, n))
		}
	}
	var out []string
	if len(more) > 0 {
		out = append(out, "More to buy: "+strings.Join(more, "; ")+".")
	}
	if len(less) > 0 {
		out = append(out, "Not needed any more: "+strings.Join(less, "; ")+".")
	}
	switch d := b.Minutes - a.Minutes; {
	case d > 0:
		out = append(out, fmt.Sprintf("%s more of work.", q.Span(time.Duration(d)*time.Minute)))
	case d < 0:
		out = append(out, fmt.Sprintf("%s less of work.", q.Span(time.Duration(-d)*time.Minute)))
	}
	return out
}

// burning compares for how long the light burns on when everybody has left, with what their leaving looks like to
// the sensors: seen on the way out, the door shut behind them.
func burning(a, b *plan, room string) []string {
	was, ok := burns(a.sheet, room)
	is, still := burns(b.sheet, room)
	if !ok || !still || was == is {
		return nil
	}
	return []string{fmt.Sprintf("The light burns for %s after everybody has left and shut the door; now it is %s.", span(is), span(was))}
}

func span(seconds int) q.Span { return q.Span(time.Duration(seconds) * time.Second) }

// burns plays somebody who comes in, shuts the door, stays for a while, leaves and shuts the door. It gives the
// seconds from then until no lamp of the room burns; ok is false where none burned.
func burns(sheet rules.Sheet, room string) (seconds int, ok bool) {
	prog, err := rules.Compile(sheet)
	if err != nil {
		return 0, false
	}
	const blind, stays = 60, 100
	st := prog.Start(20 * 3600)
	var lamps []int
	of := map[rules.ThingKind][]int{}
	for _, id := range near(sheet, room) {
		n, _ := prog.Thing(id)
		k := sheet.Things[n].Kind
		of[k] = append(of[k], n)
		if k == rules.Lamp && sheet.Things[n].Room == room {
			lamps = append(lamps, n)
		}
	}
	report := func(k rules.ThingKind, on bool) {
		for _, n := range of[k] {
			prog.Do(&st, rules.Event{Kind: rules.Reported, Thing: n, Value: rules.Value{On: on}}, nil)
		}
	}
	pass := func(n int) { prog.DoAdvance(&st, n, nil) }
	lit := func() bool { return slices.ContainsFunc(lamps, func(n int) bool { return prog.Value(st, n).On }) }
	through := func() {
		report(rules.Door, true)
		report(rules.Motion, true)
		report(rules.Presence, true)
		report(rules.Door, false)
	}
	through()
	if !lit() && len(lamps) > 0 {
		prog.Do(&st, rules.Event{Kind: rules.HandSet, Thing: lamps[0], Value: rules.Value{On: true, Level: 50}}, nil)
	}
	pass(blind)
	report(rules.Motion, false)
	pass(stays - blind)
	if !lit() {
		return 0, false
	}
	through()
	report(rules.Presence, false)
	for ; seconds < rules.DaySeconds && lit(); seconds++ {
		if seconds == blind {
			report(rules.Motion, false)
		}
		pass(1)
	}
	return seconds, seconds < rules.DaySeconds
}

// near are the things that the rules of a room look at or move, in the order of the sheet.
func near(sheet rules.Sheet, room string) []string {
	used := map[string]bool{}
	for _, r := range sheet.Rules {
		if r.Room != room {
			continue
		}
		used[r.Cause.Thing] = true
		for _, l := range r.Guard {
			used[l.Thing] = true
		}
		for _, e := range r.Effects {
			used[e.Thing] = true
		}
	}
	var out []string
	for _, t := range sheet.Things {
		if used[t.ID] {
			out = append(out, t.ID)
		}
	}
	return out
}

// waits are the waits of a room that come, go, or last differently.
func waits(a, b rules.Sheet, room string) []string {
	was, is := lengths(a, room), lengths(b, room)
	var out, come, gone []string
	for _, w := range is.order {
		name := waitName(w)
		switch old, ok := was.longest[w]; {
		case !ok:
			come = append(come, fmt.Sprintf("%s, for %s", name, is.longest[w]))
		case old != is.longest[w]:
			out = append(out, fmt.Sprintf("The wait %s lasts %s instead of %s.", name, is.longest[w], old))
		}
	}
	for _, w := range was.order {
		if _, ok := is.longest[w]; !ok {
			gone = append(gone, waitName(w))
		}
	}
	return append(append(out, counted(come, "more")...), counted(gone, "less")...)
}

// counted says which waits there are more or less; of many their number alone, for those of a controller's steps tell nobody anything.
func counted(waits []string, how string) []string {
	const few = 3
	if len(waits) > few {
		return []string{fmt.Sprintf("%d waits %s.", len(waits), how)}
	}
	var out []string
	for _, w := range waits {
		out = append(out, fmt.Sprintf("A wait %s: %s.", how, w))
	}
	return out
}

type lengthsOf struct {
	longest map[string]q.Span
	order   []string
}

func lengths(sheet rules.Sheet, room string) lengthsOf {
	out := lengthsOf{longest: map[string]q.Span{}}
	for _, r := range sheet.Rules {
		for _, e := range r.Effects {
			if r.Room != room || e.Kind != rules.Start {
				continue
			}
			if _, ok := out.longest[e.Wait]; !ok {
				out.order = append(out.order, e.Wait)
			}
			out.longest[e.Wait] = max(out.longest[e.Wait], e.For)
		}
	}
	return out
}

// sentences are promises whose words change, as their numbers do.
func sentences(a, b *plan) []string {
	var out []string
	for _, p := range b.promises {
		if old, ok := a.promise(p.ID); ok && old.Sentence != p.Sentence {
			out = append(out, "Promised then: "+p.Sentence)
		}
	}
	return out
}

// Cost says a difference in price, in minor units.
func Cost(price int64, currency string) string {
	switch {
	case price > 0:
		return "It costs " + bill.Money(price).In(currency) + " more."
	case price < 0:
		return "It saves " + bill.Money(-price).In(currency) + "."
	}
	return "It costs nothing."
}

// waitName is a wait as stories name it: "door check".
func waitName(id string) string {
	return fmt.Sprintf("%q", strings.ReplaceAll(id[strings.LastIndexByte(id, '/')+1:], "-", " "))
}
