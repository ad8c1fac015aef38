package interview

import (
	"strings"

	"example.org/roombrief/model"
)

// applianceKind is what is known of an appliance by its name. Power is the label's, in watts, in the upper
// part of the ranges of the DOE list of appliance energy; in a 120 V house no plug gives more than 1500 W.
type applianceKind struct {
	Name  string
	Watts int
	Fixed bool
	Off   string // when it goes off, "" when nothing is proposed
	Warn  string
	Must  bool // never switched off by a rule
	Heats bool
}

var applianceTable = []applianceKind{
	{Name: "clothes iron", Watts: 2400, Off: "25m or idle under 20 W for 8m", Warn: "3m", Heats: true},
	{Name: "electric heater", Watts: 2000, Off: "2h", Warn: "5m", Heats: true},
	{Name: "towel rail", Watts: 150, Fixed: true, Off: "1h", Warn: "no", Heats: true},
	{Name: "hair dryer", Watts: 1800, Off: "20m", Warn: "2m", Heats: true},
	{Name: "hair straightener", Watts: 100, Off: "30m", Warn: "2m", Heats: true},
	{Name: "coffee maker", Watts: 1000, Off: "40m", Warn: "2m", Heats: true},
	{Name: "kettle", Watts: 2400, Heats: true},
	{Name: "toaster", Watts: 1000, Heats: true},
	{Name: "toaster oven", Watts: 1200, Off: "1h", Warn: "5m", Heats: true},
	{Name: "oven", Watts: 3000, Fixed: true, Heats: true},
	{Name: "electric hob", Watts: 6000, Fixed: true, Heats: true},
	{Name: "microwave", Watts: 1000, Heats: true},
	{Name: "bottle warmer", Watts: 300, Off: "30m", Warn: "2m", Heats: true},
	{Name: "electric blanket", Watts: 100, Off: "1h", Warn: "5m", Heats: true},
	{Name: "soldering iron", Watts: 60, Off: "1h", Warn: "5m", Heats: true},
	{Name: "kiln", Watts: 3000, Fixed: true, Heats: true},
	{Name: "tumble dryer", Watts: 2500, Heats: true},
	{Name: "washing machine", Watts: 2200},
	{Name: "dishwasher", Watts: 2200},
	{Name: "dehumidifier", Watts: 600},
	{Name: "humidifier", Watts: 40, Off: "8h", Warn: "no"},
	{Name: "television", Watts: 150, Off: "4h or idle under 10 W for 30m", Warn: "5m"},
	{Name: "computer", Watts: 270},
	{Name: "printer", Watts: 300, Off: "idle under 10 W for 1h", Warn: "no"},
	{Name: "lamp", Watts: 10},
	{Name: "battery charger", Watts: 250, Off: "6h or idle under 10 W for 30m", Warn: "no"},
	{Name: "compressor", Watts: 1500, Off: "45m", Warn: "5m"},
	{Name: "table saw", Watts: 1500, Off: "idle under 30 W for 20m", Warn: "no"},
	{Name: "dust extractor", Watts: 1200, Off: "1h", Warn: "no"},
	{Name: "freezer", Watts: 120, Must: true},
	{Name: "fridge", Watts: 150, Must: true},
	{Name: "sump pump", Watts: 800, Must: true},
	{Name: "boiler", Watts: 150, Fixed: true, Must: true, Heats: true},
	{Name: "alarm", Watts: 15, Fixed: true, Must: true},
	{Name: "router", Watts: 15, Must: true},
	{Name: "medical device", Watts: 300, Must: true},
	{Name: "baby monitor", Watts: 5, Must: true},
	{Name: "aquarium", Watts: 150, Must: true},
	{Name: "garage door opener", Watts: 500, Fixed: true, Must: true},
}

// mustWords are kinds beyond model.KindStaysOn: heat for the house, other animals, and the way out.
var mustWords = []string{
	"detector", "carbon monoxide", "security", "server", "boiler", "heat pump", "furnace", "frost", "trace heating", "vivarium", "incubator", "baby monitor",
	"door opener", "stairlift", "stair lift",
}

var heatWords = []string{
	"heater", "heating", "iron", "dryer", "kettle", "oven", "hob", "cooker", "stove", "toaster", "blanket", "kiln", "grill",
	"straightener", "curler", "radiator", "sauna", "towel rail", "fryer", "soldering", "warmer", "hot plate", "hotplate", "coffee", "microwave", "boiler",
	"heat gun", "glue gun", "heat lamp", "fire",
}

// applianceOf finds what is known of an appliance by its kind; ok is false for one that nobody has listed.
func applianceOf(kind string) (a applianceKind, ok bool) {
	kind = strings.ToLower(strings.Join(strings.Fields(kind), " "))
	for _, a := range applianceTable {
		if a.Name == kind {
			return a, true
		}
	}
	return applianceKind{Name: kind, Must: model.KindStaysOn(kind) || hasAny(kind, mustWords), Heats: hasAny(kind, heatWords)}, false
}

// MustStayOn says whether an appliance of this kind is never switched off by a rule, whatever the file says.
func MustStayOn(kind string) bool {
	a, _ := applianceOf(kind)
	return a.Must
}

// Heats says whether an appliance of this kind gets hot, so that a rule may only ever switch it off.
func Heats(kind string) bool {
	a, _ := applianceOf(kind)
	return a.Heats
}

// hasAny looks for words at the start of a word, so that "environment" is no iron.
func hasAny(s string, words []string) bool {
	s = " " + s
	for _, w := range words {
		if strings.Contains(s, " "+w) {
			return true
		}
	}
	return false
}
