package ideal

import (
	"strings"
	"time"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
)

// kind is what the kind of a room says about its rules, beside how long people keep still in it.
type kind struct {
	stop q.Span // usual time to light an empty room for, where the brief gives none
	wet  bool   // has a bath or shower: zones apply
	way  bool   // people pass through it
}

const minute = q.Span(time.Minute)

var kinds = map[string]kind{
	"shower room":  {stop: 10 * minute, wet: true},
	"bathroom":     {stop: 20 * minute, wet: true},
	"wc":           {stop: 10 * minute},
	"utility":      {stop: 10 * minute},
	"utility room": {stop: 10 * minute},
	"laundry":      {stop: 10 * minute},
	"kitchen":      {stop: 20 * minute},
	"hall":         {stop: 4 * minute, way: true},
	"landing":      {stop: 4 * minute, way: true},
	"stairs":       {stop: 4 * minute, way: true},
	"living room":  {stop: 60 * minute},
	"dining room":  {stop: 30 * minute},
	"cellar":       {stop: 10 * minute},
	"pantry":       {stop: 4 * minute},
	"bedroom":      {stop: 30 * minute},
	"nursery":      {stop: 30 * minute},
	"study":        {stop: 20 * minute},
	"garage":       {stop: 15 * minute},
	"workshop":     {stop: 15 * minute},
}

// LongestStill is how long people in a kind of room may keep still.
func LongestStill(room string) q.Span { return model.LongestStill(room) }

func kindOf(name string) kind {
	if k, ok := kinds[strings.ToLower(strings.TrimSpace(name))]; ok {
		return k
	}
	return kind{stop: 15 * minute}
}
