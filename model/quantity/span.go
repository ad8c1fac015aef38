package quantity

import (
	"math"
	"strconv"
	"strings"
	"time"
)

const (
	spanAccepts      = "a time such as 30s, 45m or 1h10m"
	allowanceAccepts = "a time per day such as 2h a day"
	longestSpan      = 366 * 24 * time.Hour
)

// spanUnits from long to short; a span names each at most once, in this order.
var spanUnits = []struct {
	names []string
	each  time.Duration
}{
	{[]string{"d", "day", "days"}, 24 * time.Hour},
	{[]string{"h", "hr", "hour", "hours"}, time.Hour},
	{[]string{"m", "min", "minute", "minutes"}, time.Minute},
	{[]string{"s", "sec", "second", "seconds"}, time.Second},
}

func spanUnit(name string) int {
	for i, u := range spanUnits {
		for _, n := range u.names {
			if n == name {
				return i
			}
		}
	}
	return -1
}

func parseSpan(text, accepts string) (time.Duration, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0, failure("nothing was written", accepts)
	}
	ts, ok := terms(text)
	if !ok || !printable(text) || len(text) > 60 {
		return 0, failure(quote(text)+" is not a time", accepts)
	}
	if strings.ContainsAny(text, "-+") {
		return 0, failure(quote(text)+" has a sign: a time is never negative", accepts)
	}
	total, last := 0.0, -1
	for _, t := range ts {
		if t.unit == "" {
			return 0, failure(quote(text)+" has no unit", accepts)
		}
		u := spanUnit(t.unit)
		if u < 0 {
			return 0, failure(quote(t.unit)+" is not a unit of time", accepts)
		}
		if u <= last {
			return 0, failure(quote(text)+" has its units out of order", accepts)
		}
		last = u
		n, err := strconv.ParseFloat(t.number, 64)
		if err != nil {
			return 0, failure(quote(t.number)+" is not a number that can be used", accepts)
		}
		total += n * spanUnits[u].each.Seconds()
	}
	if total > longestSpan.Seconds() {
		return 0, failure(quote(text)+" is too long: 366 days at most", accepts)
	}
	whole := math.Round(total)
	if math.Abs(total-whole) > 1e-6 {
		return 0, failure(quote(text)+" is no whole number of seconds", accepts)
	}
	return time.Duration(whole) * time.Second, nil
}

func formatSpan(d time.Duration) string {
	sec := int64(d / time.Second)
	if sec == 0 {
		return "0s"
	}
	out := ""
	if sec < 0 {
		out, sec = "-", -sec
	}
	for _, u := range spanUnits[1:] {
		each := int64(u.each / time.Second)
		if n := sec / each; n > 0 {
			out += strconv.FormatInt(n, 10) + u.names[0]
			sec -= n * each
		}
	}
	return out
}

// Duration is the span for reckoning.
func (v Span) Duration() time.Duration { return time.Duration(v) }

// UnmarshalText reads days, hours, minutes and seconds: 1h10m, 90 min, 2 h, 30s.
func (v *Span) UnmarshalText(b []byte) error {
	d, err := parseSpan(string(b), spanAccepts)
	if err == nil {
		*v = Span(d)
	}
	return err
}

// String is canonical: 1h10m, 45m, 30s.
func (v Span) String() string { return formatSpan(time.Duration(v)) }

// Show spaces the units out for people: 1 h 10 min.
func (v Span) Show(System) string {
	sec := int64(time.Duration(v).Round(time.Second) / time.Second)
	if sec == 0 {
		return "0 s"
	}
	var parts []string
	sign := ""
	if sec < 0 {
		sign, sec = "-", -sec
	}
	for _, u := range []struct {
		each int64
		name string
	}{{3600, "h"}, {60, "min"}, {1, "s"}} {
		if n := sec / u.each; n > 0 {
			parts = append(parts, strconv.FormatInt(n, 10)+" "+u.name)
			sec -= n * u.each
		}
	}
	return sign + strings.Join(parts, " ")
}

// InUnitOf keeps to the single unit that written uses when the span is a whole number of it.
func (v Span) InUnitOf(written string) string {
	ts, ok := terms(written)
	if !ok || len(ts) != 1 || spanUnit(ts[0].unit) < 0 {
		return v.String()
	}
	each := Span(spanUnits[spanUnit(ts[0].unit)].each)
	if v%each != 0 {
		return v.String()
	}
	return strconv.FormatInt(int64(v/each), 10) + gap(ts[0]) + ts[0].unit
}

// Accepts says what may be written.
func (Span) Accepts() string { return spanAccepts }

// perDay endings, the canonical one first.
var perDay = []string{" a day", " per day", "/day", " / day", "/d"}

// Span is the allowance without its day.
func (v Allowance) Span() Span { return Span(v) }

// Duration is the allowance of one day, for reckoning.
func (v Allowance) Duration() time.Duration { return time.Duration(v) }

// UnmarshalText reads a span with "a day" after it, 24 h at most.
func (v *Allowance) UnmarshalText(b []byte) error {
	text := strings.TrimSpace(string(b))
	for _, end := range perDay {
		head, ok := strings.CutSuffix(text, end)
		if !ok {
			continue
		}
		d, err := parseSpan(head, allowanceAccepts)
		if err != nil {
			return err
		}
		if d > 24*time.Hour {
			return failure(quote(text)+" is more than a day has", allowanceAccepts)
		}
		*v = Allowance(d)
		return nil
	}
	return failure(quote(text)+" does not say per what", allowanceAccepts)
}

// String is canonical: 2h a day.
func (v Allowance) String() string { return formatSpan(time.Duration(v)) + perDay[0] }

// Show is for people: 2 h a day.
func (v Allowance) Show(s System) string { return Span(v).Show(s) + perDay[0] }

// InUnitOf keeps the unit and the ending that written uses.
func (v Allowance) InUnitOf(written string) string {
	for _, end := range perDay {
		if head, ok := strings.CutSuffix(strings.TrimSpace(written), end); ok {
			return Span(v).InUnitOf(head) + end
		}
	}
	return v.String()
}

// Accepts says what may be written.
func (Allowance) Accepts() string { return allowanceAccepts }
