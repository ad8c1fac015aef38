package site

import "math"

// Course is how the air of a damp room goes on, no damper than saturated: in the best case, in which what condenses is gone,
// and in the worst, in which the air stays as it is until all of that has dried into it.
type Course struct {
	Damp   Damp
	Drying Drying
}

// Course works a room's course out against a ceiling of relative humidity (0.2 to 1).
func (d Damp) Course(ceiling float64) (Course, error) {
	dry, err := d.Dry(ceiling)
	return Course{d, dry}, err
}

// At is the relative humidity so many minutes after the source starts, in the best case and in the worst.
func (c Course) At(minute float64) (best, worst float64) {
	film := 0.0
	if c.Drying.FilmM > c.Drying.ClampedM && !math.IsInf(c.Drying.FilmM, 1) {
		film = c.Drying.FilmM - c.Drying.ClampedM
	}
	return c.at(minute, 0), c.at(minute, film)
}

// at is the humidity when the air starts to dry so many minutes late.
func (c Course) at(minute, late float64) float64 {
	d := c.Damp
	f := d.flow()
	w := math.Min(f.wss+(f.w0-f.wss)*math.Exp(-math.Min(minute, d.Minutes)/f.tau), math.Max(f.wsat, f.w0))
	if since := minute - d.Minutes - late; since > 0 {
		w = f.ws + (w-f.ws)*math.Exp(-since/f.tau)
	}
	return humidityOf(w, d.Temperature, d.Pressure)
}

// AirflowSurely is the smallest airflow, in l/s, with which the room is back under the ceiling so many minutes after the
// source stops even when all that condensed dries into the air first, by bisection between 0.1 and 1000 l/s.
func (d Damp) AirflowSurely(ceiling, minutes float64) (float64, error) {
	return d.leastAirflow(ceiling, minutes, func(x Drying) float64 { return x.FilmM })
}
