package site

import (
	"errors"
	"fmt"
	"math"
)

// Damp is a well-mixed room with a source of vapour, a fan, and air that replaces what the fan takes out:
//
//	C·m·dW/dt = G + Q·rho·(Ws - W)      m = V·rho,  tau = C·V/Q,  Wss = Ws + G/(Q·rho)
//
// on a dry-air basis at constant room temperature, rho = 1/v(T, W0, p). C multiplies the air's own capacity for
// what walls and towels take up; a tiled room is near 1.
type Damp struct {
	Volume      float64 // m³, 1 to 2000
	Temperature float64 // °C of the room, 0 to 40
	Pressure    float64 // Pa
	Start       float64 // relative humidity at the start, 0 to 1
	SupplyTemp  float64 // °C of the air that comes in
	SupplyRH    float64 // its relative humidity, 0 to 1
	Airflow     float64 // l/s, what the fan moves, or leakage
	Source      float64 // kg/h of vapour while the source runs
	Minutes     float64 // how long it runs
	Capacity    float64 // C; 0 is taken as 1
}

// Drying is how a damp room gets on. The three clear times bracket what happens: Uncapped lets the air hold
// more than saturation; Clamped lets what condenses vanish (the best case); Film lets all of it evaporate again
// before the air clears (the worst).
type Drying struct {
	Density   float64 // kg of dry air per m³
	Time      float64 // tau in minutes
	Ratio0    float64 // humidity ratio at the start
	Supply    float64 // of the air that comes in
	Steady    float64 // that the room would settle at with the source on
	EndRatio  float64 // when the source stops, uncapped
	EndRH     float64 // relative humidity then, uncapped: may exceed 1
	Clamped   float64 // relative humidity then, clamped at saturation
	Saturated float64 // minutes until saturation; +Inf when it isn't reached
	Condensed float64 // kg that condense
	UncappedM float64 // minutes after the source stops until the air is under the ceiling; +Inf is never
	ClampedM  float64
	FilmM     float64
}

// ErrNeverDries is why a room doesn't come back under its ceiling: the air that replaces its own is no drier.
var ErrNeverDries = errors.New("the air that comes in is as damp as the ceiling: no fan brings the room under it")

func (d Damp) check() error {
	return first(within("room volume", d.Volume, 1, 2000, "m³"), within("room temperature", d.Temperature, 0, 40, "°C"),
		within("pressure", d.Pressure, 50e3, 110e3, "Pa"), within("relative humidity", d.Start, 0, 1, ""),
		within("supply temperature", d.SupplyTemp, -40, 45, "°C"), within("supply humidity", d.SupplyRH, 0, 1, ""),
		within("airflow", d.Airflow, 0.1, 1000, "l/s"), within("source", d.Source, 0, 20, "kg/h"),
		within("source time", d.Minutes, 0, 1440, "min"), within("capacity", d.Capacity, 0, 30, ""))
}

// flow gives the constants of the balance.
type flow struct{ rho, w0, ws, wsat, wss, tau, q float64 } // tau in min, q in m³/h

func (d Damp) flow() flow {
	sat := func(t float64) float64 { return math.Exp(logSaturation(t)) }
	c := d.Capacity
	if c == 0 {
		c = 1
	}
	f := flow{q: d.Airflow * 3.6}
	f.w0 = ratioOf(d.Start*sat(d.Temperature), d.Pressure)
	f.ws = ratioOf(d.SupplyRH*sat(d.SupplyTemp), d.Pressure)
	f.wsat = ratioOf(sat(d.Temperature), d.Pressure)
	f.rho = 1 / specificVolume(d.Temperature, f.w0, d.Pressure)
	f.wss = f.ws + d.Source/(f.q*f.rho)
	f.tau = 60 * c * d.Volume / f.q
	return f
}

// Dry works out how the room gets on, and when it is back under a ceiling of relative humidity (0.2 to 1).
func (d Damp) Dry(ceiling float64) (Drying, error) {
	if err := first(d.check(), within("ceiling", ceiling, 0.2, 1, "")); err != nil {
		return Drying{}, err
	}
	f := d.flow()
	out := Drying{Density: f.rho, Time: f.tau, Ratio0: f.w0, Supply: f.ws, Steady: f.wss, Saturated: math.Inf(1)}
	out.EndRatio = f.wss + (f.w0-f.wss)*math.Exp(-d.Minutes/f.tau)
	out.EndRH = humidityOf(out.EndRatio, d.Temperature, d.Pressure)
	out.Clamped = math.Min(out.EndRH, 1)
	if f.wss > f.wsat && f.w0 < f.wsat {
		if at := f.tau * math.Log((f.wss-f.w0)/(f.wss-f.wsat)); at <= d.Minutes {
			out.Saturated = at
			out.Condensed = (d.Source - f.q*f.rho*(f.wsat-f.ws)) * (d.Minutes - at) / 60
		}
	}
	threshold := ratioOf(ceiling*math.Exp(logSaturation(d.Temperature)), d.Pressure)
	out.UncappedM = f.clear(out.EndRatio, threshold)
	out.ClampedM = f.clear(math.Min(out.EndRatio, f.wsat), threshold)
	out.FilmM = out.ClampedM
	if out.Condensed > 0 {
		out.FilmM += 60 * out.Condensed / (f.q * f.rho * (f.wsat - f.ws))
	}
	return out, nil
}

// clear is the minutes from a ratio down to the threshold.
func (f flow) clear(from, threshold float64) float64 {
	switch {
	case from <= threshold:
		return 0
	case threshold <= f.ws:
		return math.Inf(1)
	}
	return f.tau * math.Log((from-f.ws)/(threshold-f.ws))
}

// At is the humidity ratio and the relative humidity (uncapped) so many minutes after the source starts.
func (d Damp) At(minute float64) (ratio, rh float64, err error) {
	if err := first(d.check(), within("time", minute, 0, 14400, "min")); err != nil {
		return 0, 0, err
	}
	f := d.flow()
	ratio = f.wss + (f.w0-f.wss)*math.Exp(-math.Min(minute, d.Minutes)/f.tau)
	if minute > d.Minutes {
		ratio = f.ws + (ratio-f.ws)*math.Exp(-(minute-d.Minutes)/f.tau)
	}
	return ratio, humidityOf(ratio, d.Temperature, d.Pressure), nil
}

func errTooSlow(minutes float64) error {
	return fmt.Errorf("even 1000 l/s takes %.1f min", minutes)
}

// AirflowFor is the smallest airflow, in l/s, with which the room is back under the ceiling so many minutes
// after the source stops (clamped model), by bisection between 0.1 and 1000 l/s.
func (d Damp) AirflowFor(ceiling, minutes float64) (float64, error) {
	return d.leastAirflow(ceiling, minutes, func(x Drying) float64 { return x.ClampedM })
}

// leastAirflow is the smallest airflow, in l/s, with which what took counts is at most so many minutes, by bisection between 0.1 and
// 1000 l/s. A room that never dries in the clamped model dries in none.
func (d Damp) leastAirflow(ceiling, minutes float64, took func(Drying) float64) (float64, error) {
	if err := within("target", minutes, 0, 1440, "min"); err != nil {
		return 0, err
	}
	d.Airflow = 1000
	most, err := d.Dry(ceiling)
	switch {
	case err != nil:
		return 0, err
	case math.IsInf(most.ClampedM, 1):
		return 0, ErrNeverDries
	case took(most) > minutes:
		return 0, errTooSlow(took(most))
	}
	low, high := 0.1, 1000.0
	for range 40 { // to a millionth of a litre a second
		d.Airflow = (low + high) / 2
		dry, err := d.Dry(ceiling)
		if err != nil {
			return 0, err
		}
		if took(dry) <= minutes {
			high = d.Airflow
		} else {
			low = d.Airflow
		}
	}
	return high, nil
}
