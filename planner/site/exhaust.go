package site

import (
	"fmt"
	"math"
)

// Extract is a minimum local extract rate by a named standard. Rates are an aid for checking a design: local
// code and the authority having jurisdiction decide.
type Extract struct {
	Standard string
	Room     string
	Mode     string
	Rate     float64 // l/s
	Verified bool    // found in agreeing sources; false is recalled and must be checked before use
}

// Extracts are the rates for the wet rooms of a home.
var Extracts = []Extract{
	{"ASHRAE 62.2", "bathroom", "on demand", 50 * CFM, true},
	{"ASHRAE 62.2", "bathroom", "continuous", 20 * CFM, true},
	{"ASHRAE 62.2", "kitchen", "on demand, vented hood", 100 * CFM, true},
	{"ASHRAE 62.2", "kitchen", "on demand, other", 300 * CFM, true},
	{"UK Approved Document F 2021", "kitchen", "on demand, hood to outside", 30, true},
	{"UK Approved Document F 2021", "kitchen", "on demand, other", 60, true},
	{"UK Approved Document F 2021", "utility", "on demand", 30, true},
	{"UK Approved Document F 2021", "bathroom", "on demand", 15, true},
	{"UK Approved Document F 2021", "toilet", "on demand", 6, true},
	{"UK Approved Document F 2021", "kitchen", "continuous, high rate", 13, true},
	{"UK Approved Document F 2021", "utility", "continuous, high rate", 8, true},
	{"UK Approved Document F 2021", "bathroom", "continuous, high rate", 8, true},
	{"UK Approved Document F 2021", "toilet", "continuous, high rate", 6, true},
	{"Australia NCC 2022", "bathroom", "on demand", 25, true},
	{"Australia NCC 2022", "toilet", "on demand", 25, true},
	{"Australia NCC 2022", "kitchen", "on demand", 40, true},
	{"Australia NCC 2022", "utility", "on demand", 40, true},
	{"DIN 18017-3", "bathroom", "on demand", 60 / 3.6, true},
	{"DIN 18017-3", "toilet", "on demand", 30 / 3.6, true},
	{"IRC M1505.4.4", "bathroom", "on demand", 50 * CFM, false},
	{"IRC M1505.4.4", "kitchen", "on demand", 100 * CFM, false},
}

// CFM is one cubic foot per minute in l/s.
const CFM = 0.47194745

// BathFan is the airflow in cfm that the Home Ventilating Institute's guideline gives a bathroom: 1 cfm per
// square foot up to 100 ft², not under 50; above that 50 for each toilet, shower and tub and 100 for a jetted tub.
func BathFan(areaFt2 float64, toilets, showers, tubs, jetted int) (float64, error) {
	if err := within("floor area", areaFt2, 5, 2000, "ft²"); err != nil {
		return 0, err
	}
	for _, n := range []int{toilets, showers, tubs, jetted} {
		if n < 0 || n > 20 {
			return 0, fmt.Errorf("%d fixtures are outside 0 to 20", n)
		}
	}
	if areaFt2 <= 100 {
		return math.Max(50, areaFt2), nil
	}
	return float64(50*(toilets+showers+tubs) + 100*jetted), nil
}

// WholeDwelling is the airflow in l/s that a dwelling as a whole needs by ASHRAE 62.2-2013 and later: 0.15 l/s
// per m² and 3.5 l/s for each bedroom and one more.
func WholeDwelling(areaM2 float64, bedrooms int) (float64, error) {
	if err := checkDwelling(areaM2, bedrooms); err != nil {
		return 0, err
	}
	return 0.15*areaM2 + 3.5*float64(bedrooms+1), nil
}

// WholeDwellingCFM is the same rule in its inch-pound form, which rounds its own constants: 0.03 cfm per ft² and
// 7.5 cfm for each bedroom and one more.
func WholeDwellingCFM(areaFt2 float64, bedrooms int) (float64, error) {
	if err := checkDwelling(areaFt2*0.09290304, bedrooms); err != nil {
		return 0, err
	}
	return 0.03*areaFt2 + 7.5*float64(bedrooms+1), nil
}

// WholeDwellingUK is the airflow in l/s by Approved Document F 2021, table 1.3: by bedrooms, and not under
// 0.3 l/s per m². No bedroom means one habitable room.
func WholeDwellingUK(areaM2 float64, bedrooms int) (float64, error) {
	if err := checkDwelling(areaM2, bedrooms); err != nil {
		return 0, err
	}
	rate := 13.0
	if bedrooms > 0 {
		rate = 19 + 6*float64(bedrooms-1)
	}
	return math.Max(rate, 0.3*areaM2), nil
}

func checkDwelling(areaM2 float64, bedrooms int) error {
	return first(within("floor area", areaM2, 10, 2000, "m²"), within("bedrooms", float64(bedrooms), 0, 20, ""))
}
