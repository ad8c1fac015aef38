package model

import (
	"maps"
	"slices"
	"strings"
	"time"
	"unicode"

	q "example.org/roombrief/model/quantity"
)

// still is how long somebody who is awake may well sit, lie or stand in a kind of room without a movement that
// a motion sensor sees. Rules of thumb of the trade; no standard gives them.
var still = map[string]time.Duration{
	"shower room":  15 * time.Minute,
	"bathroom":     40 * time.Minute,
	"wc":           15 * time.Minute,
	"utility":      5 * time.Minute,
	"utility room": 5 * time.Minute,
	"laundry":      5 * time.Minute,
	"kitchen":      15 * time.Minute,
	"hall":         2 * time.Minute,
	"landing":      2 * time.Minute,
	"stairs":       2 * time.Minute,
	"living room":  90 * time.Minute,
	"dining room":  60 * time.Minute,
	"cellar":       10 * time.Minute,
	"pantry":       2 * time.Minute,
	"bedroom":      60 * time.Minute,
	"nursery":      45 * time.Minute,
	"study":        60 * time.Minute,
	"garage":       20 * time.Minute,
	"workshop":     20 * time.Minute,
}

// RoomKinds are the kinds of room that defaults are known of, in the order of the alphabet.
func RoomKinds() []string { return slices.Sorted(maps.Keys(still)) }

// KnownKind reports whether defaults are known of a kind of room.
func KnownKind(kind string) bool {
	_, ok := still[strings.ToLower(strings.TrimSpace(kind))]
	return ok
}

// LongestStill is how long people who are awake may keep still in a kind of room; 20 minutes where nobody has
// listed the kind.
func LongestStill(kind string) q.Span {
	if d, ok := still[strings.ToLower(strings.TrimSpace(kind))]; ok {
		return q.Span(d)
	}
	return q.Span(20 * time.Minute)
}

// staysOn are words that begin a word of the kind of an appliance which a rule must never switch off: life and
// health, food, water that must be pumped out, alarms, animals, heat for the house, the way out, and the network that
// carries the alarms.
var staysOn = []string{
	"medical", "oxygen", "cpap", "dialysis", "ventilator", "nebuliser", "nebulizer", "life support", "baby monitor",
	"freezer", "deepfreez", "fridge", "minifridge", "refrigerator", "incubator", "sump", "sewage",
	"alarm", "smoke", "carbon monoxide", "detector", "security", "aquarium", "vivarium",
	"boiler", "heat pump", "furnace", "frost", "trace heating",
	"door opener", "garage opener", "stairlift", "stair lift", "network", "router", "modem", "server",
}

// heats are words that begin a word of the kind of an appliance which gets hot. Unattended heat may be covered,
// tipped over, or beside fabric.
var heats = []string{
	"heater", "heating", "heat lamp", "heat gun", "glue gun", "fire", "radiator", "towel rail", "boiler", "warmer", "blanket",
	"iron", "steamer", "dryer", "drier", "hair", "tong", "curler", "straightener", "sauna",
	"oven", "hob", "cooker", "stove", "plate", "hot plate", "hotplate", "grill", "toaster", "fryer", "kettle", "urn", "coffee", "microwave",
	"solder", "kiln",
}

// KindStaysOn reports whether appliances of a kind are never switched off by a rule, marked or not: what they keep
// going matters more than what they use.
func KindStaysOn(kind string) bool { return begins(kind, staysOn) }

// KindHeats reports whether appliances of a kind get hot, so that no rule ever switches them on.
func KindHeats(kind string) bool { return begins(kind, heats) }

// begins looks for words at the start of a word, so that "environment" is no iron.
func begins(kind string, words []string) bool {
	kind = strings.ToLower(strings.Join(strings.FieldsFunc(kind, parts), " "))
	for _, w := range words {
		for at := 0; ; at++ {
			i := strings.Index(kind[at:], w)
			if i < 0 {
				break
			}
			if at += i; at == 0 || kind[at-1] == ' ' {
				return true
			}
		}
	}
	return false
}

// parts reports what stands between the words of a kind.
func parts(r rune) bool { return unicode.IsSpace(r) || r == '-' || r == '/' }
