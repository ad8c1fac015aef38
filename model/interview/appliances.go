package interview

import (
	"slices"
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
	{Name: "clothes iron", Watts: 2400, Off: "25m or idle under 20 W for 8m", Warn: "3m"},
	{Name: "electric heater", Watts: 2000, Off: "2h", Warn: "5m"},
	{Name: "towel rail", Watts: 150, Fixed: true, Off: "1h", Warn: "no"},
	{Name: "hair dryer", Watts: 1800, Off: "20m", Warn: "2m"},
	{Name: "hair straightener", Watts: 100, Off: "30m", Warn: "2m"},
	{Name: "coffee maker", Watts: 1000, Off: "40m", Warn: "2m"},
	{Name: "kettle", Watts: 2400},
	{Name: "toaster", Watts: 1000},
	{Name: "toaster oven", Watts: 1200, Off: "1h", Warn: "5m"},
	{Name: "oven", Watts: 3000, Fixed: true},
	{Name: "electric hob", Watts: 6000, Fixed: true},
	{Name: "microwave", Watts: 1000},
	{Name: "bottle warmer", Watts: 300, Off: "30m", Warn: "2m"},
	{Name: "electric blanket", Watts: 100, Off: "1h", Warn: "5m"},
	{Name: "soldering iron", Watts: 60, Off: "1h", Warn: "5m"},
	{Name: "kiln", Watts: 3000, Fixed: true},
	{Name: "tumble dryer", Watts: 2500},
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
	{Name: "freezer", Watts: 120},
	{Name: "fridge", Watts: 150},
	{Name: "sump pump", Watts: 800},
	{Name: "boiler", Watts: 150, Fixed: true},
	{Name: "alarm", Watts: 15, Fixed: true},
	{Name: "router", Watts: 15},
	{Name: "medical device", Watts: 300},
	{Name: "baby monitor", Watts: 5},
	{Name: "aquarium", Watts: 150},
	{Name: "garage door opener", Watts: 500, Fixed: true},
}

// applianceOf finds what is known of an appliance by its kind; ok is false for one that nobody has listed.
func applianceOf(kind string) (a applianceKind, ok bool) {
	kind = strings.ToLower(strings.Join(strings.Fields(kind), " "))
	i := slices.IndexFunc(applianceTable, func(a applianceKind) bool { return a.Name == kind })
	a.Name = kind
	if i >= 0 {
		a = applianceTable[i]
	}
	a.Must, a.Heats = model.KindStaysOn(kind), model.KindHeats(kind)
	return a, i >= 0
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
