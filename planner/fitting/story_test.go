package fitting

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// limitSet is one of the shelf's.
func limitSet(t testing.TB, id string) catalogue.Limits {
	t.Helper()
	l, ok := fixtures.Catalogue().LimitSet(id)
	if !ok {
		t.Fatalf("no limits %q", id)
	}
	return l
}

// homeSheet is the ideal sheet of an example home.
func homeSheet(t testing.TB, file string) rules.Sheet {
	t.Helper()
	for _, h := range fixtures.Homes() {
		if h.File == file {
			return ideal.Draft(projectfile.Parse(h.Source).Project()).Sheet
		}
	}
	t.Fatalf("no home %s", file)
	return rules.Sheet{}
}

// rooms cuts a sheet into one for each room: its rules with all things.
func roomSheets(sheet rules.Sheet) []rules.Sheet {
	var out []rules.Sheet
	at := map[string]int{}
	for _, r := range sheet.Rules {
		i, ok := at[r.Room]
		if !ok {
			i = len(out)
			at[r.Room] = i
			out = append(out, rules.Sheet{})
		}
		out[i].Rules = append(out[i].Rules, r)
	}
	for i := range out {
		used := map[string]bool{}
		for _, r := range out[i].Rules {
			used[r.Cause.Thing], used[r.Cause.Than] = true, true
			for _, l := range append(slices.Clone(r.Guard), r.Hold...) {
				used[l.Thing], used[l.Than] = true, true
			}
			for _, e := range r.Effects {
				used[e.Thing] = true
			}
		}
		for _, t := range sheet.Things {
			if used[t.ID] {
				out[i].Things = append(out[i].Things, t)
			}
		}
	}
	return slices.DeleteFunc(out, func(s rules.Sheet) bool { // rules without anything that a story could do
		return !slices.ContainsFunc(s.Things, func(t rules.Thing) bool { return t.Kind != rules.Flag })
	})
}

// player plays one program, with things known by their names.
type player struct {
	p    *rules.Program
	s    rules.State
	last bool // takes the last of what is due first
	told []string
}

func newPlayer(t testing.TB, sheet rules.Sheet, begin int) *player {
	t.Helper()
	p, err := rules.Compile(sheet)
	if err != nil {
		t.Fatalf("the sheet doesn't compile: %v", err)
	}
	return &player{p: p, s: p.Start(begin)}
}

func (y *player) note(hs []rules.Happening) error {
	for _, h := range hs {
		switch h.Kind {
		case rules.Told:
			y.told = append(y.told, y.p.Sheet().Rules[h.Rule].Effects[h.Effect].Text)
		case rules.Endless:
			return fmt.Errorf("endless")
		}
	}
	return nil
}

func (y *player) do(e rules.Event) error { return y.note(y.p.Do(&y.s, e, nil)) }

func (y *player) settle() error {
	for {
		due := y.p.Due(y.s, nil)
		if len(due) == 0 {
			return nil
		}
		e := due[0]
		if y.last {
			e = due[len(due)-1]
		}
		if err := y.do(e); err != nil {
			return err
		}
	}
}

// next is how long nothing happens by itself, at most n.
func (y *player) next(n int) int {
	if m, ok := y.p.Next(y.s); ok {
		return min(n, m)
	}
	return n
}

func (y *player) pass(n int) error {
	if err := y.do(rules.Event{Kind: rules.TimePasses, Seconds: n}); err != nil {
		return err
	}
	return y.settle()
}

// shown is what people see of the devices.
func (y *player) shown(things []rules.Thing) string {
	out := ""
	for _, t := range things {
		switch t.Kind {
		case rules.Lamp, rules.Fan, rules.Valve, rules.Plug, rules.Sounder:
			i, _ := y.p.Thing(t.ID)
			v := y.p.Value(y.s, i)
			out += fmt.Sprintf("%s %v %d %d\n", t.ID, v.On, v.Level, v.Colour)
		}
	}
	return out
}

// happening is one thing that people or the world do, in a program without numbers.
type happening struct {
	after int
	thing string
	event rules.Event
}

func (y *player) act(h happening) error {
	e := h.event
	if h.thing != "" {
		e.Thing, _ = y.p.Thing(h.thing)
	}
	return y.do(e)
}

// happenings draws a story for the things of a sheet.
func happenings(t *rapid.T, sheet rules.Sheet, cuts bool) []happening {
	var able []rules.Thing
	for _, x := range sheet.Things {
		if x.Kind != rules.Flag {
			able = append(able, x)
		}
	}
	gap := rapid.OneOf(rapid.IntRange(1, 90), rapid.IntRange(60, 1500), rapid.IntRange(1, 9000))
	out := make([]happening, rapid.IntRange(1, 30).Draw(t, "acts"))
	outage := false
	for i := range out {
		h := &out[i]
		h.after = gap.Draw(t, "after")
		if outage || cuts && rapid.IntRange(0, 12).Draw(t, "cut") == 0 {
			h.event.Kind = rules.PowerFails
			if outage {
				h.event.Kind = rules.PowerReturns
			}
			outage = !outage
			continue
		}
		x := rapid.SampledFrom(able).Draw(t, "thing")
		h.thing = x.ID
		on := rapid.Bool().Draw(t, "on")
		h.event.Value.On = on
		switch x.Kind {
		case rules.Motion, rules.Presence, rules.Door, rules.Probe:
			h.event.Kind = rules.Reported
		case rules.Hygrometer:
			h.event.Kind = rules.ReadingIs
			h.event.Value = rules.Value{Level: rapid.IntRange(30, 95).Draw(t, "level")}
		case rules.Meter:
			h.event.Kind = rules.ReadingIs
			h.event.Value = rules.Value{Level: rapid.SampledFrom([]int{0, 3, 20, 300, 2000}).Draw(t, "power")}
		case rules.ButtonOf:
			h.event.Kind = rules.ButtonPress
			h.event.Press = rapid.SampledFrom([]rules.Press{rules.Single, rules.Double, rules.Hold}).Draw(t, "press")
		default:
			h.event.Kind = rules.HandSet
			if x.Kind == rules.Lamp && on {
				h.event.Value.Level = rapid.SampledFrom([]int{20, 50, 100}).Draw(t, "level")
			}
		}
	}
	return out
}

// compare plays one story on two sheets and says where the devices differ for longer than slack. Where the ideal sheet leaves it
// open which of two things due in one second comes first, and that matters, the story ends.
func compare(t testing.TB, one, other rules.Sheet, begin, slack int, story []happening) error {
	a, twin, b := newPlayer(t, one, begin), newPlayer(t, one, begin), newPlayer(t, other, begin)
	twin.last = true
	ys := []*player{a, twin, b}
	now, differ, log := 0, -1, ""
	check := func() error {
		if a.shown(one.Things) == b.shown(one.Things) {
			differ = -1
			return nil
		}
		if differ < 0 {
			differ = now
		}
		if now-differ >= slack && slack == 0 || now-differ > slack {
			return fmt.Errorf("after %d s (%s) the devices differ:\nideal:\n%s\nfitted:\n%s\nstory:\n%s", now, clockWords(a.s.Clock()), a.shown(one.Things), b.shown(one.Things), log)
		}
		return nil
	}
	pass := func(n int) (bool, error) {
		for n > 0 {
			d := n
			for _, y := range ys {
				d = y.next(d)
			}
			d = max(d, 1)
			if slack > 0 && differ >= 0 {
				d = 1
			}
			for _, y := range ys {
				if err := y.pass(d); err != nil {
					return false, err
				}
			}
			now, n = now+d, n-d
			if !a.s.Equal(twin.s) {
				return false, nil
			}
			if err := check(); err != nil {
				return false, err
			}
		}
		return true, nil
	}
	quiet := func() bool { // nothing of the ideal sheet happens near now
		return a.next(slack+2) > slack+1
	}
	for _, h := range story {
		if ok, err := pass(h.after); !ok {
			return err
		}
		for slack > 0 && !quiet() {
			if ok, err := pass(2*slack + 2); !ok {
				return err
			}
		}
		log += fmt.Sprintf("%6d s %s %s %+v\n", now, clockWords(a.s.Clock()), h.thing, h.event)
		for _, y := range ys {
			if err := y.act(h); err != nil {
				return err
			}
		}
		if err := check(); err != nil {
			return err
		}
		if slack > 0 {
			if ok, err := pass(2*slack + 2); !ok {
				return err
			}
		}
	}
	if ok, err := pass(8 * 3600); !ok {
		return err
	}
	x, y := slices.Clone(a.told), slices.Clone(b.told)
	slices.Sort(x)
	slices.Sort(y)
	if !slices.Equal(x, y) {
		return fmt.Errorf("people are told\n%q\nand of the fitted sheet\n%q\nstory:\n%s", x, y, log)
	}
	return nil
}

func clockWords(s int) string { return fmt.Sprintf("%02d:%02d:%02d", s/3600, s/60%60, s%60) }

// enterable fails where a rule of a fitted sheet can't be typed into the controller.
func enterable(t testing.TB, fit Fitted, lim catalogue.Limits, info Info) {
	t.Helper()
	for _, r := range fit.Sheet.Rules {
		if err := Enterable(fit.Sheet, r, lim, info); err != nil {
			t.Errorf("%v\n%+v", err, r)
		}
	}
}

// sameMeaning plays random stories on a sheet and on what it was fitted to.
func sameMeaning(t *testing.T, sheet rules.Sheet, lim catalogue.Limits, info Info, cuts bool) Fitted {
	t.Helper()
	fit := Fit(sheet, lim, info)
	enterable(t, fit, lim, info)
	rapid.Check(t, func(r *rapid.T) {
		story := happenings(r, sheet, cuts)
		begin := rapid.IntRange(0, rules.DaySeconds-1).Draw(r, "begin")
		if err := compare(t, sheet, fit.Sheet, begin, fit.Slack, story); err != nil {
			r.Fatal(err)
		}
	})
	return fit
}
