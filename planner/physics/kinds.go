package physics

import (
	"strings"

	"example.org/roombrief/planner/site"
)

// Use is something that people do in a room and that puts vapour into its air.
type Use struct {
	Name    string  // "a shower of 8 min"
	Minutes float64 // how long it goes on
	Vapour  float64 // kg/h
}

// kind is what a kind of room says about what goes on in it. Hours and reports are engineering defaults; the usual
// shower, bath and cooking are rounded from published figures (see site.ShowerVapour).
type kind struct {
	uses    []Use
	extract string  // room of the extract standards
	target  string  // room of the illuminance targets
	plane   float64 // m over the floor where people look
	lit     float64 // hours a day that the light is on
	moves   float64 // motion reports a day for each person
	dirty   bool    // lamps get dusty or greasy
}

var (
	shower  = Use{"a shower of 8 min", 8, site.ShowerVapour}
	bath    = Use{"a bath of 30 min", 30, site.BathVapour}
	cooking = Use{"40 min of cooking", 40, site.CookingVapour}
	drying  = Use{"4 h of drying laundry", 240, site.DryingVapour}
)

var kinds = map[string]kind{
	"shower room":  {uses: []Use{shower}, extract: "bathroom", target: "bathroom", plane: 0.85, lit: 1.5, moves: 20},
	"bathroom":     {uses: []Use{shower, bath}, extract: "bathroom", target: "bathroom", plane: 0.85, lit: 2, moves: 20},
	"wc":           {extract: "toilet", target: "toilet", plane: 0, lit: 1, moves: 10},
	"utility room": {uses: []Use{drying}, extract: "utility", target: "utility", plane: 0.85, lit: 1.5, moves: 20},
	"kitchen":      {uses: []Use{cooking}, extract: "kitchen", target: "kitchen", plane: 0.85, lit: 4, moves: 60, dirty: true},
	"hall":         {target: "hall", lit: 3, moves: 40},
	"landing":      {target: "hall", lit: 3, moves: 30},
	"stairs":       {target: "stairs", lit: 3, moves: 30},
	"living room":  {target: "living room", plane: 0.75, lit: 5, moves: 80},
	"dining room":  {target: "dining room", plane: 0.75, lit: 2, moves: 30},
	"bedroom":      {target: "bedroom", lit: 1.5, moves: 25},
	"nursery":      {target: "bedroom", lit: 2, moves: 40},
	"study":        {target: "study", plane: 0.75, lit: 4, moves: 40},
	"garage":       {target: "garage", lit: 0.5, moves: 10, dirty: true},
	"workshop":     {target: "utility", plane: 0.85, lit: 2, moves: 30, dirty: true},
	"cellar":       {target: "garage", lit: 0.5, moves: 5, dirty: true},
	"pantry":       {target: "hall", lit: 0.5, moves: 10},
}

func kindOf(name string) kind {
	name = strings.ToLower(strings.TrimSpace(name))
	if name == "utility" || name == "laundry" {
		name = "utility room"
	}
	if k, ok := kinds[name]; ok {
		return k
	}
	return kind{target: "hall", lit: 2, moves: 20}
}
