package readback

import (
	"strconv"
	"strings"
	"time"

	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
)

// words makes words of a short name: "night-light" is "night light".
func words(id string) string { return strings.ReplaceAll(id, "-", " ") }

// span tells a time in whole words: "1 hour and 10 minutes".
func span(v q.Span) string {
	sec := int64(time.Duration(v) / time.Second)
	var parts []string
	for _, u := range []struct {
		each int64
		name string
	}{{3600, "hour"}, {60, "minute"}, {1, "second"}} {
		if n := sec / u.each; n > 0 {
			parts = append(parts, count(n, u.name))
			sec -= n * u.each
		}
	}
	if len(parts) == 0 {
		return "no time"
	}
	return english.Join(parts, "and")
}

func count(n int64, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.FormatInt(n, 10) + " " + thing + "s"
}

// colour names a colour temperature as people do.
func colour(k q.ColourTemp) string {
	switch {
	case k < 2400:
		return "amber"
	case k < 3300:
		return "warm white"
	case k < 3900:
		return "neutral white"
	case k < 4600:
		return "cool white"
	}
	return "daylight white"
}

// they gives a verb its ending: one light comes, two lights come.
func they(one bool, singular, plural string) string {
	if one {
		return singular
	}
	return plural
}
