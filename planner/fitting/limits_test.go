package fitting

import (
	"testing"
	"time"

	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
)

// oneLimit is a controller without limits but for one.
var oneLimit = []struct {
	name string
	set  func(*catalogue.Limits)
	cuts bool // a power cut means the same, too
}{
	{"none", func(l *catalogue.Limits) {}, true},
	{"seen_for", func(l *catalogue.Limits) { l.SeenFor = false }, true},
	{"rises_by", func(l *catalogue.Limits) { l.RisesBy = false }, true},
	{"holds", func(l *catalogue.Limits) { l.Holds = false }, true},
	{"keeps", func(l *catalogue.Limits) { l.Keeps = false }, true},
	{"stacks", func(l *catalogue.Limits) { l.Stacks = false }, true},
	{"restarts", func(l *catalogue.Limits) { l.Restarts, l.Keeps = false, false }, true},
	{"longest_wait", func(l *catalogue.Limits) { l.LongestWait = q.Span(15 * time.Minute) }, true},
	{"over_midnight", func(l *catalogue.Limits) { l.OverMidnight = false }, true},
	{"end_inclusive", func(l *catalogue.Limits) { l.EndInclusive = true }, true},
	{"clock_step", func(l *catalogue.Limits) { l.ClockStep = q.Span(5 * time.Minute) }, true},
	{"most_guards with notes", func(l *catalogue.Limits) { l.MostGuards = 1 }, true},
	{"flags", func(l *catalogue.Limits) { l.Flags = false }, false},
	{"ordered", func(l *catalogue.Limits) { l.Ordered = false }, true},
	{"rules", func(l *catalogue.Limits) { l.Rules = 10 }, true},
	{"holds and keeps", func(l *catalogue.Limits) { l.Keeps, l.Holds = false, false }, true},
	{"holds and flags", func(l *catalogue.Limits) { l.Flags, l.Holds = false, false }, false},
	{"all but short guards", func(l *catalogue.Limits) {
		l.Flags, l.Holds, l.Keeps, l.Stacks, l.OverMidnight, l.EndInclusive, l.Ordered, l.SeenFor, l.RisesBy = false, false, false, false, false, true, false, false, false
		l.LongestWait, l.ClockStep, l.Rules = q.Span(time.Hour), q.Span(5*time.Minute), 60
	}, false},
	{"short guards and waits", func(l *catalogue.Limits) {
		l.Flags, l.Holds, l.Keeps, l.Ordered = false, false, false, false
		l.LongestWait, l.MostGuards = q.Span(15*time.Minute), 2
	}, false},
	{"short guards and waits with notes", func(l *catalogue.Limits) {
		l.Holds, l.Keeps, l.Ordered = false, false, false
		l.LongestWait, l.MostGuards = q.Span(15*time.Minute), 2
	}, false},
	{"most_guards without notes", func(l *catalogue.Limits) { l.MostGuards, l.Flags = 2, false }, false},
}

func TestOneLimitKeepsTheMeaning(t *testing.T) {
	for _, c := range oneLimit {
		for _, home := range []string{"alder-row.yaml", "larkspur-lane.yaml"} {
			for _, sheet := range roomSheets(homeSheet(t, home)) {
				t.Run(c.name+"/"+sheet.Rules[0].ID, func(t *testing.T) {
					lim := limitSet(t, "open")
					c.set(&lim)
					sameMeaning(t, sheet, lim, Info{}, c.cuts)
				})
			}
		}
	}
}
