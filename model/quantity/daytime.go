package quantity

import (
	"fmt"
	"strings"
	"time"
)

const dayTimeAccepts = "a time of day such as 06:20, sunset or sunrise-00:30"

var sunNames = [...]string{NoSun: "", Dawn: "dawn", Sunrise: "sunrise", Sunset: "sunset", Dusk: "dusk"}

// String is the word for the moment, "" for none.
func (s Sun) String() string {
	if s < 0 || int(s) >= len(sunNames) {
		return ""
	}
	return sunNames[s]
}

// UnmarshalText reads HH:MM by the 24-hour clock, a 12-hour time with am or pm, or a sun time
// with an offset of less than 12 hours.
func (v *DayTime) UnmarshalText(b []byte) error {
	text := strings.TrimSpace(string(b))
	fail := func(why string) error { return failure(quote(text)+why, dayTimeAccepts) }
	if text == "" {
		return failure("nothing was written", dayTimeAccepts)
	}
	for s := Dawn; s <= Dusk; s++ {
		rest, ok := strings.CutPrefix(text, s.String())
		if !ok {
			continue
		}
		off, ok := sunOffset(strings.TrimSpace(rest))
		if !ok {
			return fail(" has an offset that cannot be read")
		}
		*v = DayTime{Sun: s, Offset: off}
		return nil
	}
	clock, half := cutHalf(text)
	h, m, ok := hoursMinutes(clock)
	switch {
	case !ok:
		return fail(" is not a time of day")
	case half != "" && (h < 1 || h > 12):
		return fail(" is not a time of the 12-hour clock")
	case half == "am":
		h %= 12
	case half == "pm":
		h = h%12 + 12
	}
	if h == 24 && m == 0 {
		return fail(" is midnight, which is written 00:00")
	}
	if h > 23 {
		return fail(" is later than the day is long")
	}
	*v = DayTime{Offset: time.Duration(h)*time.Hour + time.Duration(m)*time.Minute}
	return nil
}

func cutHalf(text string) (clock, half string) {
	low := strings.ToLower(text)
	for _, half := range []string{"am", "pm"} {
		if head, ok := strings.CutSuffix(low, half); ok {
			return strings.TrimSpace(head), half
		}
	}
	return text, ""
}

func sunOffset(s string) (time.Duration, bool) {
	if s == "" {
		return 0, true
	}
	if s[0] != '+' && s[0] != '-' {
		return 0, false
	}
	h, m, ok := hoursMinutes(strings.TrimSpace(s[1:]))
	if !ok || h >= 12 {
		return 0, false
	}
	d := time.Duration(h)*time.Hour + time.Duration(m)*time.Minute
	if s[0] == '-' {
		d = -d
	}
	return d, true
}

// hoursMinutes reads H:MM or HH:MM, hours up to 99.
func hoursMinutes(s string) (h, m int, ok bool) {
	hs, ms, cut := strings.Cut(s, ":")
	if !cut || len(hs) < 1 || len(hs) > 2 || len(ms) != 2 {
		return 0, 0, false
	}
	for _, c := range []byte(hs) {
		if c < '0' || c > '9' {
			return 0, 0, false
		}
		h = h*10 + int(c-'0')
	}
	for _, c := range []byte(ms) {
		if c < '0' || c > '9' {
			return 0, 0, false
		}
		m = m*10 + int(c-'0')
	}
	return h, m, m < 60
}

// String is canonical: 06:20, sunset, sunrise-00:30.
func (v DayTime) String() string {
	if v.Sun == NoSun {
		return clock(v.Offset)
	}
	switch {
	case v.Offset > 0:
		return v.Sun.String() + "+" + clock(v.Offset)
	case v.Offset < 0:
		return v.Sun.String() + "-" + clock(-v.Offset)
	}
	return v.Sun.String()
}

func clock(d time.Duration) string {
	m := int(d / time.Minute)
	return fmt.Sprintf("%02d:%02d", m/60, m%60)
}

// Show is for people: 06:20, or 6:20 am in US units; 30 min before sunrise.
func (v DayTime) Show(s System) string {
	if v.Sun != NoSun {
		switch {
		case v.Offset > 0:
			return Span(v.Offset).Show(s) + " after " + v.Sun.String()
		case v.Offset < 0:
			return Span(-v.Offset).Show(s) + " before " + v.Sun.String()
		}
		return v.Sun.String()
	}
	if s == Metric {
		return clock(v.Offset)
	}
	m := int(v.Offset / time.Minute)
	half := "am"
	if m >= 12*60 {
		half = "pm"
	}
	return fmt.Sprintf("%d:%02d %s", (m/60+11)%12+1, m%60, half)
}

// InUnitOf keeps the 12-hour clock where written uses it.
func (v DayTime) InUnitOf(written string) string {
	if _, half := cutHalf(strings.TrimSpace(written)); half != "" && v.Sun == NoSun {
		return v.Show(US)
	}
	return v.String()
}

// Accepts says what may be written.
func (DayTime) Accepts() string { return dayTimeAccepts }
