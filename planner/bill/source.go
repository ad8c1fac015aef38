package bill

import (
	"fmt"
	"sort"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
)

// Source is where prices of a bill come from, and from when.
type Source struct {
	Supplier string // "" is the catalogue, whose prices are indicative
	Dated    string // the oldest of its prices: a day, or the catalogue's month
	Parts    int    // kinds of part
}

// Sources of the prices that a bill rests on: own suppliers by name, then the catalogue.
func Sources(b Bill) []Source {
	at := map[string]*Source{}
	seen := map[string]bool{}
	var names []string
	for _, l := range b.Lines {
		if seen[l.Part] {
			continue
		}
		seen[l.Part] = true
		s := at[l.Supplier]
		if s == nil {
			s = &Source{Supplier: l.Supplier, Dated: l.Priced}
			at[l.Supplier] = s
			names = append(names, l.Supplier)
		}
		s.Parts++
		s.Dated = min(s.Dated, l.Priced)
	}
	sort.Slice(names, func(i, j int) bool {
		if (names[i] == "") != (names[j] == "") {
			return names[j] == ""
		}
		return names[i] < names[j]
	})
	var out []Source
	for _, n := range names {
		out = append(out, *at[n])
	}
	return out
}

// PriceNote says in a sentence where the prices come from and how old they are on a day; without one, from when.
func PriceNote(b Bill, today model.Date) string {
	all := Sources(b)
	kinds := 0
	for _, s := range all {
		kinds += s.Parts
	}
	var own []string
	mine, indicative := 0, ""
	for _, s := range all {
		if s.Supplier == "" {
			indicative = "indicative, of " + s.Dated + Age(s.Dated, today)
			continue
		}
		mine += s.Parts
		own = append(own, s.Supplier+", "+s.Dated+Age(s.Dated, today))
	}
	switch {
	case mine == 0 && indicative == "":
		return ""
	case mine == 0:
		return "Prices are " + indicative + "."
	case indicative == "":
		return "All prices are your own: " + strings.Join(own, "; ") + "."
	}
	return fmt.Sprintf("Prices of %d of %d parts are your own: %s. The others are %s.", mine, kinds, strings.Join(own, "; "), indicative)
}

// Age is how long ago a day or a month was, to stand after it: " (29 days old)"; "" where either is not known. A month counts
// from its end, so that nothing is called older than it is.
func Age(dated string, today model.Date) string {
	if today.IsZero() {
		return ""
	}
	then, err := time.Parse("2006-01-02", dated)
	if err != nil {
		month, err := time.Parse("2006-01", dated)
		if err != nil {
			return ""
		}
		then = month.AddDate(0, 1, -1)
	}
	y, m, d := today.Date()
	days := int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Sub(then).Hours() / 24)
	switch {
	case days < 0:
		return " (not yet in force)"
	case days == 0:
		return " (of today)"
	case days < 60:
		return " (" + english.Plural(days, "day") + " old)"
	case days < 730:
		return " (" + english.Plural(int(float64(days)/30.44), "month") + " old)"
	}
	return " (" + english.Plural(days/365, "year") + " old)"
}
