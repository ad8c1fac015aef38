package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// unit is one way to write a measure. A value in base units is number*factor + shift.
type unit struct {
	names  []string // the first is the one that is printed
	factor float64
	shift  float64
}

// measure is everything that a kind of quantity needs to be read and written.
// The first unit is the base unit: its factor is 1 and its shift 0.
type measure struct {
	what     string // "length"
	accepts  string // "a length such as 2.4 m, 35 mm or 7 ft 10 in"
	units    []unit
	pairs    [][2]string // units that may follow one another: feet and inches
	low      float64     // in base units, both ends included
	high     float64
	optional bool // a bare number is in the base unit
}

// failure words every refusal alike: what was found, then what is accepted.
func failure(found, accepts string) error {
	return fmt.Errorf("%s; accepted: %s", found, accepts)
}

func (m *measure) fail(format string, args ...any) error {
	return failure(fmt.Sprintf(format, args...), m.accepts)
}

func (m *measure) unit(name string) *unit {
	for i := range m.units {
		for _, n := range m.units[i].names {
			if n == name {
				return &m.units[i]
			}
		}
	}
	return nil
}

// term is one number with its unit, as written.
type term struct {
	number string
	unit   string
	spaced bool // whether a space stood between them
}

// terms splits text into numbers with units. It knows no unit: what isn't part of a number is one.
func terms(text string) ([]term, bool) {
	var out []term
	s := strings.TrimSpace(text)
	for s != "" {
		n := numberLength(s)
		if n == 0 {
			return nil, false
		}
		t := term{number: s[:n]}
		rest := strings.TrimLeft(s[n:], " ")
		t.spaced = len(rest) < len(s[n:])
		end := unitLength(rest)
		t.unit = strings.TrimRight(rest[:end], " ")
		out = append(out, t)
		s = strings.TrimLeft(rest[end:], " ")
	}
	return out, len(out) > 0
}

// numberLength is the length of the plain decimal number at the start of s, or 0.
func numberLength(s string) int {
	i, digits := 0, 0
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		i++
	}
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
		digits++
	}
	if i+1 < len(s) && s[i] == '.' && s[i+1] >= '0' && s[i+1] <= '9' {
		i++
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
			digits++
		}
	}
	if digits == 0 || digits > 20 {
		return 0
	}
	return i
}

// unitLength is the length of the unit at the start of s: up to the next number. A digit that
// directly follows a letter belongs to the unit, as in m2 and ft2, unless text goes on after it
// as it does in 1h10m.
func unitLength(s string) int {
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c < '0' || c > '9' {
			continue
		}
		power := (c == '2' || c == '3') && i > 0 && (s[i-1] == 'm' || s[i-1] == 't' || s[i-1] == 'n') &&
			(i+1 == len(s) || s[i+1] == '/' || s[i+1] == ' ')
		if power {
			continue
		}
		if i > 0 && (s[i-1] == '+' || s[i-1] == '-' || s[i-1] == '.') {
			return i - 1
		}
		return i
	}
	return len(s)
}

// parse reads text into base units.
func (m *measure) parse(b []byte) (float64, error) {
	text := strings.TrimSpace(string(b))
	if text == "" {
		return 0, m.fail("nothing was written")
	}
	if !printable(text) || len(text) > 60 {
		return 0, m.fail("%s is not a %s", quote(text), m.what)
	}
	ts, ok := terms(text)
	if !ok {
		return 0, m.fail("%s is not a %s", quote(text), m.what)
	}
	if i := strings.IndexByte(text, ','); i >= 0 {
		return 0, m.fail("%s has a comma in it: decimals are written with a point, and thousands run on", quote(text))
	}
	value, err := m.sum(text, ts)
	if err != nil {
		return 0, err
	}
	return value, m.within(text, value)
}

func (m *measure) sum(text string, ts []term) (float64, error) {
	total, exact := 0.0, true
	for i, t := range ts {
		if t.unit == "" && !(m.optional && len(ts) == 1) {
			return 0, m.fail("%s has no unit", quote(text))
		}
		u := m.unit(t.unit)
		if t.unit == "" {
			u = &m.units[0]
		}
		if u == nil {
			return 0, m.fail("%s is not a unit of %s", quote(t.unit), m.what)
		}
		if i > 0 && !(i == 1 && len(ts) == 2 && m.paired(ts[0].unit, t.unit)) {
			return 0, m.fail("%s is more than one %s", quote(text), m.what)
		}
		n, err := strconv.ParseFloat(t.number, 64)
		if err != nil || math.IsInf(n, 0) {
			return 0, m.fail("%s is not a number that can be used", quote(t.number))
		}
		if i > 0 && (t.number[0] == '-' || t.number[0] == '+') {
			return 0, m.fail("%s has a sign in the middle", quote(text))
		}
		if i > 0 && strings.HasPrefix(ts[0].number, "-") {
			n = -n
		}
		exact = exact && u.factor == 1 && u.shift == 0
		total += n*u.factor + u.shift
	}
	if exact && len(ts) == 1 {
		return total, nil
	}
	return trim(total, 12), nil
}

func (m *measure) paired(big, small string) bool {
	a, b := m.unit(big), m.unit(small)
	for _, p := range m.pairs {
		if a != nil && b != nil && a.names[0] == p[0] && b.names[0] == p[1] {
			return true
		}
	}
	return false
}

func (m *measure) within(text string, v float64) error {
	switch {
	case v < m.low && m.low == 0:
		return m.fail("%s is negative, which makes no sense for %s", quote(text), m.one())
	case v < m.low:
		return m.fail("%s is too low: %s is %s at least", quote(text), m.one(), m.format(m.low))
	case v > m.high:
		return m.fail("%s is too large: %s is %s at most", quote(text), m.one(), m.format(m.high))
	}
	return nil
}

// one of it, with its article.
func (m *measure) one() string {
	if m.what[0] == 'a' {
		return "an " + m.what
	}
	return "a " + m.what
}

// format is canonical: the base unit, every digit, so that it reads back as the same value.
func (m *measure) format(v float64) string {
	n := plain(v)
	if m.units[0].names[0] == "" {
		return n
	}
	return n + " " + m.units[0].names[0]
}

// in shows v in the named unit, rounded to so many decimals, without trailing zeros.
func (m *measure) in(name string, v float64, decimals int) string {
	u := m.unit(name)
	return round(((v-u.shift)/u.factor), decimals) + " " + name
}

// inUnitOf shows v the way that written is: its unit or units, its space or none.
func (m *measure) inUnitOf(written string, v float64) string {
	ts, ok := terms(written)
	if !ok || len(ts) > 2 {
		return m.format(v)
	}
	for _, t := range ts {
		if m.unit(t.unit) == nil {
			return m.format(v)
		}
	}
	if len(ts) == 2 {
		if !m.paired(ts[0].unit, ts[1].unit) {
			return m.format(v)
		}
		return m.inPair(ts, v)
	}
	u := m.unit(ts[0].unit)
	if u == &m.units[0] {
		return plain(v) + gap(ts[0]) + ts[0].unit
	}
	return plain(trim((v-u.shift)/u.factor, 9)) + gap(ts[0]) + ts[0].unit
}

func (m *measure) inPair(ts []term, v float64) string {
	big, small := m.unit(ts[0].unit), m.unit(ts[1].unit)
	each := math.Round(big.factor / small.factor)
	whole, rest := split(trim(math.Abs(v)/small.factor, 9), each)
	sign := ""
	if v < 0 {
		sign = "-"
	}
	join := " "
	if ts[0].unit == "'" || ts[0].unit == "′" {
		join = ""
	}
	return sign + plain(whole) + gap(ts[0]) + ts[0].unit + join + plain(trim(rest, 9)) + gap(ts[1]) + ts[1].unit
}

func split(total, each float64) (whole, rest float64) {
	whole = math.Floor(total / each)
	return whole, total - whole*each
}

func gap(t term) string {
	if t.spaced {
		return " "
	}
	return ""
}

// trim keeps so many significant digits: enough to hide that 7 ft 10 in is no round number of metres.
func trim(v float64, digits int) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if err != nil {
		return v
	}
	return out
}

// plain is a number without exponent or needless zeros; it reads back as the same number.
func plain(v float64) string {
	if v == 0 {
		return "0" // never -0
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// round shows so many decimals at most, and no zeros at the end of them.
func round(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func printable(s string) bool {
	if !utf8.ValidString(s) {
		return false
	}
	for _, r := range s {
		if !unicode.IsPrint(r) {
			return false
		}
	}
	return true
}

// quote puts what was found in quotes, short enough to read and safe to print.
func quote(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "…"
	}
	return strconv.Quote(s)
}
