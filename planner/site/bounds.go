package site

import "math"

// Figures of mould on the inside of outer walls.
const (
	MouldAt     = 0.8  // relative humidity of the air at a surface from which mould can grow (EN ISO 13788, monthly means)
	LeastFactor = 0.75 // temperature factor that guidance asks of the coldest surface of a dwelling at least
)

// CeilingAtSurface is the relative humidity of a room's air (0 to 1) at which the air at a surface of a temperature factor
// (0 to 1) comes to a limit (0 to 1), and the temperature of that surface in °C:
//
//	Tsi = Te + fRsi (Ti - Te)      ceiling = limit psat(Tsi)/psat(Ti)
//
// Where it is no colder outside (-60 to 60 °C) than inside (0 to 40 °C), the surface is as warm as the room. The method is that
// of EN ISO 13788, which judges mould by monthly means.
func CeilingAtSurface(inside, outside, factor, limit float64) (ceiling, surface float64, err error) {
	if err := first(within("room temperature", inside, 0, 40, "°C"), within("outside temperature", outside, -60, 60, "°C"),
		within("temperature factor", factor, 0, 1, ""), within("limit", limit, 0, 1, "")); err != nil {
		return 0, 0, err
	}
	surface = inside
	if outside < inside {
		surface = outside + factor*(inside-outside)
	}
	return limit * math.Exp(logSaturation(surface)-logSaturation(inside)), surface, nil
}

// FactorOf is the temperature factor of a surface that was measured, all in °C: (Tsi - Te)/(Ti - Te), for a room that is at
// least 5 K warmer than outside; nearer than that a thermometer's own error decides.
func FactorOf(inside, outside, surface float64) (float64, error) {
	if err := first(within("room temperature", inside, 0, 40, "°C"), within("outside temperature", outside, -60, inside-5, "°C"),
		within("surface temperature", surface, outside, inside, "°C")); err != nil {
		return 0, err
	}
	return (surface - outside) / (inside - outside), nil
}

// Warmed is the relative humidity that air (relative humidity 0 to 1) has once it is as warm as a room of 0 to 40 °C, no more
// than 1: without drying, no air of a house has less vapour than that outside (-60 to 60 °C).
func Warmed(outside, rh, inside float64) (float64, error) {
	if err := first(within("outside temperature", outside, -60, 60, "°C"), within("relative humidity", rh, 0, 1, ""),
		within("room temperature", inside, 0, 40, "°C")); err != nil {
		return 0, err
	}
	return math.Min(1, rh*math.Exp(logSaturation(outside)-logSaturation(inside))), nil
}

// Lowest is the lowest ceiling of relative humidity (0.2 to 1) that the room is surely back under so many minutes after the
// source stops, also when all that condensed dries into the air first: the balance solved for the air at that time,
//
//	W = Ws + (Wend - Ws) exp(-(t - tfilm)/tau)
//
// It is 1 where what condensed isn't even dry by then.
func (d Damp) Lowest(minutes float64) (float64, error) {
	if err := within("target", minutes, 0, 1440, "min"); err != nil {
		return 0, err
	}
	dry, err := d.Dry(1)
	if err != nil {
		return 0, err
	}
	f := d.flow()
	left := minutes
	if dry.Condensed > 0 {
		left -= 60 * dry.Condensed / (f.q * f.rho * (f.wsat - f.ws))
	}
	if left < 0 {
		return 1, nil
	}
	w := f.ws + (math.Min(dry.EndRatio, f.wsat)-f.ws)*math.Exp(-left/f.tau)
	return math.Max(0.2, math.Min(1, humidityOf(w, d.Temperature, d.Pressure))), nil
}
