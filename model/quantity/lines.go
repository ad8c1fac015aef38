package quantity

import "strings"

// Units that stand behind a figure in sentences; "in" is left out, because it is a word too.
var besideFigures = map[string]bool{
	"%": true, "K": true, "C": true, "F": true, "W": true, "V": true, "A": true, "GBP": true, "EUR": true, "USD": true,
	"l/s": true, "cfm": true, "m": true, "mm": true, "ft": true, "lm": true, "min": true, "h": true, "kg": true,
}

const unbroken = "\u00a0"

// Together ties figures to their units with spaces that no line breaks at; Apart makes them plain again.
func Together(s string) string {
	if !strings.ContainsAny(s, "0123456789") {
		return s
	}
	var b strings.Builder
	last := 0
	for i := 1; i < len(s)-1; i++ {
		if s[i] != ' ' || s[i-1] < '0' || s[i-1] > '9' {
			continue
		}
		unit := s[i+1:]
		if end := strings.IndexAny(unit, " ,;:.)\n\x1b"); end >= 0 {
			unit = unit[:end]
		}
		if besideFigures[unit] {
			b.WriteString(s[last:i])
			b.WriteString(unbroken)
			last = i + 1
		}
	}
	b.WriteString(s[last:])
	return b.String()
}

// Apart undoes Together, once the lines are broken.
func Apart(s string) string { return strings.ReplaceAll(s, unbroken, " ") }
