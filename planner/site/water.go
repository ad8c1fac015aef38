package site

import "math"

const (
	waterDensity = 1000.0  // kg/m³
	psi          = 6894.76 // Pa
	inch         = 0.0254  // m
)

// LeakVolume is the litres that escape at a flow in l/min until the valve is shut: flow lasts until the leak is
// detected, reported and the order given, and falls away evenly while the valve closes (all in seconds). Water
// that drains from pipes above is not in it.
func LeakVolume(lpm, detect, report, command, closing float64) (float64, error) {
	if err := first(within("flow", lpm, 0, 500, "l/min"), within("detection", detect, 0, 1e6, "s"), within("report", report, 0, 1e6, "s"),
		within("command", command, 0, 1e6, "s"), within("closing", closing, 0, 600, "s")); err != nil {
		return 0, err
	}
	return lpm / 60 * (detect + report + command + closing/2), nil
}

// Orifice is the flow in l/min through a sharp hole of a diameter in m at a pressure in Pa: Cd A sqrt(2 p/rho),
// Cd 0.61.
func Orifice(diameter, pressure float64) (float64, error) {
	if err := first(within("hole", diameter, 1e-4, 0.1, "m"), within("pressure", pressure, 1e3, 2e6, "Pa")); err != nil {
		return 0, err
	}
	return 0.61 * math.Pi / 4 * diameter * diameter * math.Sqrt(2*pressure/waterDensity) * 60000, nil
}

// Drip is litres a day from drops of ml millilitres (0.2 to 0.4), so many a minute.
func Drip(ml, perMinute float64) (float64, error) {
	if err := first(within("drop", ml, 0.05, 1, "ml"), within("drops", perMinute, 0, 2000, "a minute")); err != nil {
		return 0, err
	}
	return ml * perMinute * 1.44, nil
}

// Puddle on a level floor that takes nothing up: its thickness in mm, 2 lc sin(theta/2) with the capillary
// length lc of water (de Gennes, Brochard, Quéré, Capillarity and Wetting Phenomena), and the litres and seconds
// until a round one reaches a sensor reach m away at a flow in l/min. Real floors slope: an order of magnitude.
func Puddle(contactDegrees, lpm, reach float64) (mm, litres, seconds float64, err error) {
	if err := first(within("contact angle", contactDegrees, 5, 120, "°"), within("flow", lpm, 1e-4, 500, "l/min"),
		within("distance", reach, 0.01, 20, "m")); err != nil {
		return 0, 0, 0, err
	}
	length := math.Sqrt(0.0728 / (998.2 * 9.80665))
	h := 2 * length * math.Sin(radians(contactDegrees)/2)
	volume := math.Pi * reach * reach * h
	return h * 1000, volume * 1000, volume * 1000 / (lpm / 60), nil
}

// Hammer is the pressure rise in bar as a valve shuts a pipe: Joukowsky's rho a dv where it shuts inside 2L/a,
// Michaud's 2 rho L v/t where it takes longer. Speed in m/s, length in m, wave speed in m/s (1300 copper, 450
// plastic, typical), closing in s. A ball valve's flow falls mainly in the last part of its travel.
func Hammer(speed, length, wave, closing float64) (bar float64, rapid bool, err error) {
	if err := first(within("speed", speed, 0, 10, "m/s"), within("length", length, 0.5, 500, "m"),
		within("wave speed", wave, 100, 1500, "m/s"), within("closing", closing, 0.001, 600, "s")); err != nil {
		return 0, false, err
	}
	if closing <= 2*length/wave {
		return waterDensity * wave * speed / 1e5, true, nil
	}
	return 2 * waterDensity * length * speed / closing / 1e5, false, nil
}

// CeilingSensor is the radius in m on the floor, and the area in m², that a ceiling sensor of an opening angle
// sees from a height.
func CeilingSensor(height, degreesWide float64) (radius, area float64, err error) {
	if err := first(within("height", height, 1.5, 6, "m"), within("opening", degreesWide, 10, 160, "°")); err != nil {
		return 0, 0, err
	}
	radius = height * math.Tan(radians(degreesWide)/2)
	return radius, math.Pi * radius * radius, nil
}

// WallSensor is the area in m² of the sector that a wall sensor of a reach and opening angle sees.
func WallSensor(reach, degreesWide float64) (float64, error) {
	if err := first(within("reach", reach, 1, 30, "m"), within("opening", degreesWide, 10, 360, "°")); err != nil {
		return 0, err
	}
	return radians(degreesWide) / 2 * reach * reach, nil
}
