package interview

import (
	"fmt"
	"regexp"
	"strings"

	q "example.org/roombrief/model/quantity"
)

// town is a place near which a home may stand, with what is usual there. Coordinates are of the town's
// middle, to the hundredth of a degree: sun times are right to a minute for some 15 km around.
type town struct {
	Key, Name string
	Lat, Lon  float64
	Zone      string
	US        bool
	Currency  string
	Volts     int
	Outlet    int // A
	Walls     string
}

var towns = []town{
	{Key: "l", Name: "London", Lat: 51.51, Lon: -0.13, Zone: "Europe/London", Currency: "GBP", Volts: 230, Outlet: 13, Walls: "brick"},
	{Key: "y", Name: "York", Lat: 53.96, Lon: -1.08, Zone: "Europe/London", Currency: "GBP", Volts: 230, Outlet: 13, Walls: "brick"},
	{Key: "g", Name: "Glasgow", Lat: 55.86, Lon: -4.25, Zone: "Europe/London", Currency: "GBP", Volts: 230, Outlet: 13, Walls: "brick"},
	{Key: "d", Name: "Dublin", Lat: 53.35, Lon: -6.26, Zone: "Europe/Dublin", Currency: "EUR", Volts: 230, Outlet: 13, Walls: "brick"},
	{Key: "p", Name: "Paris", Lat: 48.86, Lon: 2.35, Zone: "Europe/Paris", Currency: "EUR", Volts: 230, Outlet: 16, Walls: "brick"},
	{Key: "b", Name: "Berlin", Lat: 52.52, Lon: 13.4, Zone: "Europe/Berlin", Currency: "EUR", Volts: 230, Outlet: 16, Walls: "brick"},
	{Key: "a", Name: "Amsterdam", Lat: 52.37, Lon: 4.9, Zone: "Europe/Amsterdam", Currency: "EUR", Volts: 230, Outlet: 16, Walls: "brick"},
	{Key: "m", Name: "Madrid", Lat: 40.42, Lon: -3.7, Zone: "Europe/Madrid", Currency: "EUR", Volts: 230, Outlet: 16, Walls: "brick"},
	{Key: "r", Name: "Rome", Lat: 41.9, Lon: 12.5, Zone: "Europe/Rome", Currency: "EUR", Volts: 230, Outlet: 16, Walls: "brick"},
	{Key: "n", Name: "New York", Lat: 40.71, Lon: -74.01, Zone: "America/New_York", US: true, Currency: "USD", Volts: 120, Outlet: 15, Walls: "plasterboard"},
	{Key: "t", Name: "Toronto", Lat: 43.65, Lon: -79.38, Zone: "America/Toronto", US: true, Currency: "USD", Volts: 120, Outlet: 15, Walls: "plasterboard"},
	{Key: "c", Name: "Chicago", Lat: 41.88, Lon: -87.63, Zone: "America/Chicago", US: true, Currency: "USD", Volts: 120, Outlet: 15, Walls: "plasterboard"},
	{Key: "v", Name: "Denver", Lat: 39.74, Lon: -104.99, Zone: "America/Denver", US: true, Currency: "USD", Volts: 120, Outlet: 15, Walls: "plasterboard"},
	{Key: "s", Name: "San Francisco", Lat: 37.77, Lon: -122.42, Zone: "America/Los_Angeles", US: true, Currency: "USD", Volts: 120, Outlet: 15, Walls: "plasterboard"},
}

// townOf finds the town whose clock a home keeps; the first of the table stands in for every other.
func townOf(zone string) town {
	for _, t := range towns {
		if t.Zone == zone {
			return t
		}
	}
	if strings.HasPrefix(zone, "America/") || strings.HasPrefix(zone, "US/") {
		for _, t := range towns {
			if t.US {
				return t
			}
		}
	}
	return towns[0]
}

func (t town) units() string {
	if t.US {
		return "us"
	}
	return "metric"
}

var (
	zoneForm   = regexp.MustCompile(`^[A-Z][A-Za-z]+(/[A-Za-z0-9_+-]+){1,2}$`)
	numberForm = regexp.MustCompile(`[-+]?[0-9]+(\.[0-9]+)?`)
)

// zone reads the name of a time zone; whether such a zone exists is for the project file to say.
func zone(text string) (string, error) {
	text = strings.TrimSpace(text)
	if text == "UTC" || zoneForm.MatchString(text) {
		return text, nil
	}
	return "", fmt.Errorf("%q is not the name of a time zone; write it as in Europe/London", text)
}

// coordinates reads a latitude and a longitude in degrees: "53.96 -1.08", "53.96 N, 1.08 W".
func coordinates(text string) (lat, lon q.Degrees, err error) {
	bad := fmt.Errorf("%q is not a latitude and a longitude; write degrees north, then east, as in 53.96, -1.08", text)
	at := numberForm.FindAllStringIndex(text, -1)
	if len(at) != 2 {
		return 0, 0, bad
	}
	values := [2]q.Degrees{}
	for i, span := range at {
		if values[i].UnmarshalText([]byte(strings.TrimPrefix(text[span[0]:span[1]], "+"))) != nil {
			return 0, 0, bad
		}
		end := len(text)
		if i == 0 {
			end = at[1][0]
		}
		switch strings.ToLower(strings.Trim(text[span[1]:end], " ,;°")) {
		case "":
		case "n", "north", "e", "east":
		case "s", "south", "w", "west":
			values[i] = -values[i]
		default:
			return 0, 0, bad
		}
	}
	lat, lon = values[0], values[1]
	if lat < -90 || lat > 90 || lon < -180 || lon > 180 {
		return 0, 0, fmt.Errorf("%q is not a place on the globe; accepted: latitude -90 to 90, longitude -180 to 180", text)
	}
	return lat, lon, nil
}
