package model

import "math"

// climates are usual days outside by latitude, for a home that noted none: coarse figures, told whenever they are used.
var climates = []struct {
	below float64 // degrees from the equator
	air   Indoor
}{
	{25, Indoor{Winter: Air{Temperature: 20, Humidity: 75}, Summer: Air{Temperature: 30, Humidity: 75}}},
	{40, Indoor{Winter: Air{Temperature: 8, Humidity: 70}, Summer: Air{Temperature: 28, Humidity: 65}}},
	{58, Indoor{Winter: Air{Temperature: 2, Humidity: 85}, Summer: Air{Temperature: 19, Humidity: 70}}},
	{91, Indoor{Winter: Air{Temperature: -8, Humidity: 85}, Summer: Air{Temperature: 16, Humidity: 70}}},
}

// UsualOutdoor is the air outside on usual days where a home stands; one that hasn't said where stands at 40 to 58 degrees.
func UsualOutdoor(p Place) Indoor {
	if p != (Place{}) {
		for _, c := range climates {
			if math.Abs(float64(p.Latitude)) < c.below {
				return c.air
			}
		}
	}
	return climates[2].air
}

// UsualClimates are those between which homes lie, from the equator on.
func UsualClimates() []Indoor {
	out := make([]Indoor, len(climates))
	for i, c := range climates {
		out[i] = c.air
	}
	return out
}
