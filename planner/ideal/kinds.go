package ideal

import (
	"strings"
	"time"

	q "example.org/roombrief/model/quantity"
)

// kind is what the kind of a room says about people in it. The figures are rules of thumb of the trade:
// how long somebody who is awake may well sit, lie or stand without a motion sensor noticing, and a usual time to light
// an empty room for.
type kind struct {
	still q.Span // longest time that people keep still
	stop  q.Span // usual stop time, where the brief gives none
	wet   bool   // has a bath or shower: zones apply
	way   bool   // people pass through it
}

const minute = q.Span(time.Minute)

var kinds = map[string]kind{
	"shower room":  {still: 15 * minute, stop: 10 * minute, wet: true},
	"bathroom":     {still: 40 * minute, stop: 20 * minute, wet: true},
	"wc":           {still: 15 * minute, stop: 10 * minute},
	"utility":      {still: 5 * minute, stop: 10 * minute},
	"utility room": {still: 5 * minute, stop: 10 * minute},
	"laundry":      {still: 5 * minute, stop: 10 * minute},
	"kitchen":      {still: 15 * minute, stop: 20 * minute},
	"hall":         {still: 2 * minute, stop: 4 * minute, way: true},
	"landing":      {still: 2 * minute, stop: 4 * minute, way: true},
	"stairs":       {still: 2 * minute, stop: 4 * minute, way: true},
	"living room":  {still: 90 * minute, stop: 60 * minute},
	"dining room":  {still: 60 * minute, stop: 30 * minute},
	"cellar":       {still: 10 * minute, stop: 10 * minute},
	"pantry":       {still: 2 * minute, stop: 4 * minute},
	"bedroom":      {still: 60 * minute, stop: 30 * minute},
	"nursery":      {still: 45 * minute, stop: 30 * minute},
	"study":        {still: 60 * minute, stop: 20 * minute},
	"garage":       {still: 20 * minute, stop: 15 * minute},
	"workshop":     {still: 20 * minute, stop: 15 * minute},
}

// LongestStill is how long people in a kind of room may keep still; 20 minutes where the kind is unknown.
func LongestStill(room string) q.Span { return kindOf(room).still }

func kindOf(name string) kind {
	if k, ok := kinds[strings.ToLower(strings.TrimSpace(name))]; ok {
		return k
	}
	return kind{still: 20 * minute, stop: 15 * minute}
}

// heating appliances are never switched on by a rule, and stay off after a power cut. Unattended heat may
// be covered, tipped over, or beside fabric.
var heating = []string{"iron", "heater", "hair", "tong", "curler", "straightener", "solder", "kiln", "oven", "hob", "cooker",
	"toaster", "grill", "fryer", "kettle", "blanket", "coffee", "urn", "radiator", "towel rail", "heat lamp", "glue gun",
	"slow cooker", "plate", "sauna", "dryer", "steamer"}

// vital appliances never get a shut-off, marked or not: what they keep going matters more than power saved.
var vital = []string{"freezer", "fridge", "refrigerator", "sump", "sewage", "medical", "oxygen", "cpap", "dialysis", "ventilator",
	"alarm", "smoke", "carbon monoxide", "aquarium", "router", "garage opener", "door opener", "frost protection", "boiler"}

func isHeating(kind string) bool { return names(kind, heating) }
func isVital(kind string) bool   { return names(kind, vital) }

func names(kind string, words []string) bool {
	kind = strings.ToLower(kind)
	for _, w := range words {
		if strings.Contains(kind, w) {
			return true
		}
	}
	return false
}
