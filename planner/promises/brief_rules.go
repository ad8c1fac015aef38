package promises

import (
	"fmt"
	"strings"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// rulesThemselves is what the rules of a room promise as rules: that no two contradict each other in one
// instant, and that each has a use.
func (m *maker) rulesThemselves() {
	own := m.rules[m.r.ID]
	if len(own) == 0 {
		return
	}
	where := "the house"
	if m.r.ID != "" {
		where = m.the()
	}
	assumed := []Assumption{{"order", "a controller may run two rules with one cause in either order"}}
	m.add(Promise{Goal: "rules", Kind: OneVoice, Assumes: assumed, facets: m.rivals(own), fixed: alone(m.rivals(own)),
		Sentence: fmt.Sprintf("No two rules of %s set one device to different values in one instant.", where)})
	p := Promise{Goal: "rules", Kind: EarnsItsPlace, Assumes: m.peopleAssumed(m.world()),
		Sentence: fmt.Sprintf("Each rule of %s acts in some story, and none only repeats another.", where)}
	if why := m.shadowed(own); why != "" {
		p.fixed = &Computed{Why: why}
	}
	for _, i := range own {
		p.facets = append(p.facets, m.acts(&m.ix.sheet.Rules[i]))
	}
	m.add(p)
}

// alone is the outcome where no two rules could contradict each other.
func alone(fs []facet) *Computed {
	if len(fs) == 0 {
		return &Computed{Kept: true}
	}
	return nil
}

// acts looks for a story in which a rule acts.
func (m *maker) acts(r *rules.Rule) facet {
	f := facet{can: true, name: r.ID, watch: func(prog *rules.Program) watcher { return fires{ruleOf(prog, r.ID)} }}
	f.keep = []string{r.ID}
	if r.Cause.Kind == rules.PowerBack {
		f.fault.Kind = PowerCut
	}
	return f
}

func ruleOf(prog *rules.Program, id string) int {
	for i := range prog.Sheet().Rules {
		if prog.Sheet().Rules[i].ID == id {
			return i
		}
	}
	return -1
}

// rivals are pairs of rules that may act by one cause and set one device differently: a facet for each pair whose
// guards don't exclude each other at a glance.
func (m *maker) rivals(own []int) []facet {
	var out []facet
	for n, i := range own {
		for _, j := range own[n+1:] {
			a, b := &m.ix.sheet.Rules[i], &m.ix.sheet.Rules[j]
			if m.differ(a, b) == "" || !together(a.Cause, b.Cause) || m.exclude(a.Guard, b.Guard) {
				continue
			}
			f := facet{watch: func(prog *rules.Program) watcher { return bothAct{ruleOf(prog, a.ID), ruleOf(prog, b.ID)} }}
			f.keep = []string{a.ID, b.ID}
			if a.Cause.Kind == rules.Clock && b.Cause.Kind == rules.Clock {
				f.meet = []q.DayTime{a.Cause.At, b.Cause.At}
			}
			out = append(out, f)
		}
	}
	return out
}

// differ is a device that two rules set to different values, or "".
func (m *maker) differ(a, b *rules.Rule) string {
	for _, x := range a.Effects {
		for _, y := range b.Effects {
			if x.Kind == rules.Set && y.Kind == rules.Set && x.Thing == y.Thing && x.Value != y.Value && !m.isFlag(x.Thing) {
				return x.Thing
			}
		}
	}
	return ""
}

// isFlag reports whether a thing is only remembered: what rules remember goes by their order on the sheet.
func (m *maker) isFlag(id string) bool {
	i, ok := m.ix.thing[id]
	return ok && m.ix.sheet.Things[i].Kind == rules.Flag
}

// together reports whether one event may be the cause of two rules.
func together(a, b rules.Cause) bool {
	switch {
	case a.Kind == rules.Clock && b.Kind == rules.Clock:
		return a.At == b.At || a.At.Sun != b.At.Sun
	case a.Kind == rules.Ended || b.Kind == rules.Ended:
		return a.Kind == b.Kind && a.Wait == b.Wait
	case a.Kind == rules.PowerBack || b.Kind == rules.PowerBack:
		return a.Kind == b.Kind
	case a.Kind == rules.Clock || b.Kind == rules.Clock || a.Thing != b.Thing:
		return false
	case a.Kind == rules.Pressed:
		return a.Press == b.Press
	case a.Kind == rules.Over && b.Kind == rules.Under, a.Kind == rules.Under && b.Kind == rules.Over:
		return a.Than != b.Than
	case a.Kind == rules.Reports || a.Kind == rules.Became && b.Kind == rules.Became:
		return a.On == b.On || a.Any || b.Any
	}
	return true
}

// exclude reports whether two guards can't hold together: one says what the other denies, or their windows have
// no moment in common on any day.
func (m *maker) exclude(a, b []rules.Literal) bool {
	both := append(append([]rules.Literal(nil), a...), b...)
	var windows []rules.Literal
	for i, x := range both {
		if x.Kind == rules.Between {
			windows = append(windows, x)
			continue
		}
		for _, y := range both[i+1:] {
			y.Not = !y.Not
			if x == y {
				return true
			}
		}
	}
	if len(windows) < 2 {
		return false
	}
	for _, day := range m.days() {
		for _, w := range windows {
			for _, t := range [2]q.DayTime{w.From, w.To} {
				if allHold(windows, day, day.Second(t)) {
					return false
				}
			}
		}
	}
	return true
}

// days of the year, or the one in hand.
func (h *home) days() []rules.Day {
	if len(h.opts.Year) > 0 {
		return h.opts.Year
	}
	return []rules.Day{h.day}
}

func allHold(windows []rules.Literal, day rules.Day, second int) bool {
	for _, w := range windows {
		if inside(second, day.Second(w.From), day.Second(w.To)) == w.Not {
			return false
		}
	}
	return true
}

// shadowed finds a rule that does what another does whenever it acts.
func (m *maker) shadowed(own []int) string {
	for _, i := range own {
		for _, j := range own {
			a, b := &m.ix.sheet.Rules[i], &m.ix.sheet.Rules[j]
			if i != j && a.Cause == b.Cause && a.Again == b.Again && within(a.Guard, b.Guard) && (len(a.Guard) < len(b.Guard) || i < j) && contained(b.Effects, a.Effects) && len(b.Hold) == 0 {
				return fmt.Sprintf("rule %s does nothing that %s doesn't do whenever it acts", b.ID, a.ID)
			}
		}
	}
	return ""
}

func within(some, all []rules.Literal) bool {
	for _, x := range some {
		found := false
		for _, y := range all {
			found = found || x == y
		}
		if !found {
			return false
		}
	}
	return true
}

func contained(some, all []rules.Effect) bool {
	for _, x := range some {
		found := false
		for _, y := range all {
			found = found || x.Kind == y.Kind && x.Thing == y.Thing && x.Value == y.Value && x.Wait == y.Wait && x.For == y.For && x.Text == y.Text &&
				strings.Join(x.People, ",") == strings.Join(y.People, ",")
		}
		if !found {
			return false
		}
	}
	return true
}
