package fitting

import (
	"fmt"
	"slices"
	"time"

	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// times lets change look at every time of day that a rule names.
func (r *rule) times(change func(q.DayTime) q.DayTime) {
	if r.Cause.Kind == rules.Clock {
		r.Cause.At = change(r.Cause.At)
	}
	for _, ls := range [][]rules.Literal{r.Guard, r.Hold} {
		for i := range ls {
			if ls[i].Kind == rules.Between {
				ls[i].From, ls[i].To = change(ls[i].From), change(ls[i].To)
			}
		}
	}
}

// suns puts clock times in the place of sun times, by a table that is to be kept through the year.
func (f *fitter) suns() {
	if f.lim.SunTimes {
		return
	}
	made := map[q.DayTime]q.DayTime{}
	for i := range f.rules {
		r := &f.rules[i]
		r.times(func(t q.DayTime) q.DayTime {
			if t.Sun == q.NoSun {
				return t
			}
			at, ok := made[t]
			if !ok {
				at = f.sun(t)
				made[t] = at
			}
			return at
		})
	}
}

func (f *fitter) sun(t q.DayTime) q.DayTime {
	if len(f.info.Year) == 0 {
		at := roundTo(clockAt(rules.Equinox.Second(t)), f.lim.ClockStep)
		f.lose(Lost{Limit: "sun_times", Text: fmt.Sprintf("The controller doesn't know the sun, and without the home's place and time zone nobody can say when it is %s; %s stands in.",
			t.Show(q.Metric), at.Show(q.Metric)), Promise: "light on entry", Remedy: "Note the home's place and time zone, or take a controller that knows the sun."})
		return at
	}
	table := TableOf(t, f.info.Year, f.lim.ClockStep)
	f.out.Tables = append(f.out.Tables, table)
	f.note("sun_times", "", fmt.Sprintf("Clock times stand for %s; change them on %d days of the year, as the table says.", t.Show(q.Metric), len(table.Rows)-1),
		fmt.Sprintf("They are up to %d minutes from the sun.", table.Worst))
	return table.On(f.info.Day)
}

// jump is how far apart the sun times of two days are when the clock changed between them.
const jump = 30 * 60

// TableOf makes the table of clock times for a sun time: one for each month, and a new one where the clock changes. Each is
// the middle between the earliest and the latest of its days, on a step of the clock.
func TableOf(t q.DayTime, year []rules.Day, step q.Span) Table {
	out := Table{Of: t}
	worst, from := 0, 0
	for from < len(year) {
		base := year[from].Second(t)
		least, most, last := 0, 0, 0
		to := from
		for to < len(year) && month(to) == month(from) {
			off := around(year[to].Second(t) - base)
			if d := off - last; d > jump || d < -jump {
				break
			}
			least, most, last = min(least, off), max(most, off), off
			to++
		}
		at := roundTo(clockAt(base+(least+most)/2), step)
		for d := from; d < to; d++ {
			worst = max(worst, abs(around(year[d].Second(t)-int(at.Offset/time.Second))))
		}
		if n := len(out.Rows); n == 0 || out.Rows[n-1].At != at {
			out.Rows = append(out.Rows, Row{from, at})
		}
		from = to
	}
	out.Worst = (worst + 59) / 60
	return out
}

// On is the time to set on a day of the year.
func (t Table) On(day int) q.DayTime {
	var at q.DayTime
	for i, r := range t.Rows {
		if i == 0 || r.From <= day {
			at = r.At
		}
	}
	return at
}

// month of a day of a year of 365 days.
func month(day int) time.Month { return time.Date(2025, 1, 1+day, 0, 0, 0, 0, time.UTC).Month() }

// around is a difference of two times of day, at most half a day.
func around(d int) int {
	const whole = rules.DaySeconds
	d = ((d % whole) + whole) % whole
	if d > whole/2 {
		d -= whole
	}
	return d
}

func abs(n int) int { return max(n, -n) }

func clockAt(second int) q.DayTime {
	second = ((second % rules.DaySeconds) + rules.DaySeconds) % rules.DaySeconds
	return q.DayTime{Offset: time.Duration(second) * time.Second}
}

// roundTo is the nearest step of the clock; half a step goes up.
func roundTo(t q.DayTime, step q.Span) q.DayTime {
	d := time.Duration(step)
	if d <= 0 || t.Sun != q.NoSun {
		return t
	}
	n := (t.Offset + d/2) / d * d
	if n >= day {
		n = 0
	}
	return q.DayTime{Offset: n}
}

// step puts clock times on steps of the clock. A window that becomes nothing never holds, and one that lacked nothing
// always does.
func (f *fitter) step() {
	step := f.lim.ClockStep
	if step <= 0 {
		return
	}
	for i := range f.rules {
		r := &f.rules[i]
		for _, ls := range [][]rules.Literal{r.Guard, r.Hold} {
			for j := range ls {
				l := &ls[j]
				if l.Kind == rules.Between && l.From != l.To && roundTo(l.From, step) == roundTo(l.To, step) {
					f.note("clock_step", r.ID, fmt.Sprintf("Between %s and %s there is no step of the clock.", l.From, l.To),
						"The window is lost, because the clock can't tell its edges apart.")
					if parts, ok := spans(rules.Literal{Kind: rules.Between, From: l.From, To: l.To}); ok && parts[0][1]-parts[0][0] < 12*time.Hour && len(parts) == 1 {
						l.Not = !l.Not
					}
					l.From, l.To = q.DayTime{}, q.DayTime{}
				}
			}
		}
		r.times(func(t q.DayTime) q.DayTime {
			at := roundTo(t, step)
			if at != t {
				f.note("clock_step", "", fmt.Sprintf("%s is set as %s.", t, at), fmt.Sprintf("It is off by %s.",
					q.Span(time.Duration(abs(around(int((at.Offset-t.Offset)/time.Second))))*time.Second)))
			}
			return at
		})
	}
}

// midnight splits windows over midnight into the part before and the part from then on. They adjoin.
func (f *fitter) midnight() {
	if f.lim.OverMidnight {
		return
	}
	for i := range f.rules {
		f.rules[i].Hold = beforeAndAfter(f.rules[i].Hold)
	}
	var out []rule
	for _, r := range f.rules {
		variants := []rule{r}
		for n, l := range r.Guard {
			if l.Kind != rules.Between || l.From == l.To {
				continue
			}
			parts := pieces(l)
			if len(parts) > 1 {
				f.note("over_midnight", "", fmt.Sprintf("The window over midnight became two that adjoin: %s and %s.", words(parts[0]), words(parts[1])), "")
			}
			var next []rule
			for _, v := range variants {
				for _, p := range parts {
					x := v
					x.Guard = slices.Clone(v.Guard)
					x.Guard[n] = p
					x.effs = slices.Clone(v.effs)
					next = append(next, x)
				}
			}
			variants = next
		}
		out = append(out, variants...)
	}
	f.rules = out
}

// pieces are the windows that together are a window, none of them over midnight, none turned round.
func pieces(l rules.Literal) []rules.Literal {
	from, to := l.From, l.To
	if l.Not {
		from, to = to, from
	}
	one := func(a, b q.DayTime) rules.Literal { return rules.Literal{Kind: rules.Between, From: a, To: b} }
	var zero q.DayTime
	if over(from, to) {
		return []rules.Literal{one(from, zero), one(zero, to)}
	}
	return []rules.Literal{one(from, to)}
}

// over reports whether a window goes over midnight. One that ends with the day doesn't. Sun times are judged at the equinox.
func over(from, to q.DayTime) bool {
	return rules.Equinox.Second(from) > rules.Equinox.Second(to) && to != (q.DayTime{})
}

func beforeAndAfter(ls []rules.Literal) []rules.Literal {
	var out []rules.Literal
	for _, l := range ls {
		if l.Kind == rules.Between && l.From != l.To {
			out = append(out, pieces(l)...)
		} else {
			out = append(out, l)
		}
	}
	return out
}

// words of a window, its end as the controller means it: excluded.
func words(l rules.Literal) string {
	return fmt.Sprintf("%s to %s", l.From.Show(q.Metric), endOf(l.To).show())
}

type wall time.Duration

func (w wall) show() string {
	s := int(time.Duration(w) / time.Second)
	if s%60 != 0 {
		return fmt.Sprintf("%02d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%02d:%02d", s/3600, s/60%60)
}

// endOf is the end of a window on the wall; the end of the day is 24:00.
func endOf(t q.DayTime) wall {
	if t.Offset == 0 {
		return wall(day)
	}
	return wall(t.Offset)
}

// lastStep is how much of a window's typed end belongs to it on a controller that counts the last minute in: a minute, or
// a step of its clock where that is longer.
func lastStep(lim catalogue.Limits) time.Duration {
	if !lim.EndInclusive {
		return 0
	}
	return max(time.Minute, time.Duration(lim.ClockStep))
}

// Typed is how a window of clock times is entered, so that it means From to To without To: where the controller counts
// the last minute in, that minute, or step, is left off. The end of the day is 24:00 where the end is left out.
func Typed(l rules.Literal, lim catalogue.Limits) (from, to string) {
	if l.From.Sun != q.NoSun || l.To.Sun != q.NoSun {
		return l.From.Show(q.Metric), l.To.Show(q.Metric)
	}
	end := endOf(l.To)
	if l.To.Offset == 0 && lim.OverMidnight && !lim.EndInclusive {
		end = 0
	}
	if back := lastStep(lim); back > 0 {
		end = wall((time.Duration(end) - back + day) % day)
	}
	return wall(l.From.Offset).show(), end.show()
}
