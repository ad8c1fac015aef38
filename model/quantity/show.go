package quantity

import "math"

// Show gives a length for people: whole millimetres under 10 cm, else metres to the centimetre;
// in US units inches under a foot, feet and whole inches, and whole feet from 100 ft.
func (v Length) Show(s System) string {
	f := float64(v)
	if s == Metric {
		if math.Abs(f) < 0.1 && f != 0 {
			return lengths.in("mm", f, 0)
		}
		return lengths.in("m", f, 2)
	}
	if math.Abs(f) < metresPerFoot-metresPerInch/20 {
		return lengths.in("in", f, 1)
	}
	if math.Abs(f) >= 100*metresPerFoot {
		return lengths.in("ft", f, 0)
	}
	feet, inches := split(math.Round(math.Abs(f)/metresPerInch), 12)
	sign := ""
	if f < 0 {
		sign = "-"
	}
	if inches == 0 {
		return sign + plain(feet) + " ft"
	}
	return sign + plain(feet) + " ft " + plain(inches) + " in"
}

// Show gives an airflow to the whole unit, or to a tenth under ten litres a second.
func (v Airflow) Show(s System) string {
	if s == US {
		return airflows.in("cfm", float64(v), 0)
	}
	if v < 10 {
		return airflows.in("l/s", float64(v), 1)
	}
	return airflows.in("l/s", float64(v), 0)
}

// Show gives watts: tenths under 10 W, whole ones up to 10 kW, kilowatts beyond.
func (v Power) Show(System) string {
	switch {
	case v < 10:
		return powers.in("W", float64(v), 1)
	case v < 10000:
		return powers.in("W", float64(v), 0)
	}
	return powers.in("kW", float64(v), 1)
}

// Show gives whole volts, or tenths under 20 V.
func (v Voltage) Show(System) string {
	if v < 20 {
		return voltages.in("V", float64(v), 1)
	}
	return voltages.in("V", float64(v), 0)
}

// Show gives amperes to a tenth, milliamperes under a tenth.
func (v Current) Show(System) string {
	if v > 0 && v < 0.1 {
		return currents.in("mA", float64(v), 0)
	}
	return currents.in("A", float64(v), 1)
}

// Show gives degrees Celsius to a tenth, or whole degrees Fahrenheit.
func (v Temperature) Show(s System) string {
	if s == US {
		return temperatures.in("°F", float64(v), 0)
	}
	return temperatures.in("°C", float64(v), 1)
}

// Show gives a percentage to a tenth.
func (v Percent) Show(System) string { return percents.in("%", float64(v), 1) }

// Show gives whole lumens.
func (v Flux) Show(System) string { return fluxes.in("lm", float64(v), 0) }

// Show gives whole kelvins.
func (v ColourTemp) Show(System) string { return colourTemps.in("K", float64(v), 0) }

// Show gives whole lux, or foot-candles to a tenth.
func (v Illuminance) Show(s System) string {
	if s == US {
		return illuminances.in("fc", float64(v), 1)
	}
	return illuminances.in("lx", float64(v), 0)
}

// Show gives kilograms or pounds to a tenth.
func (v Mass) Show(s System) string {
	if s == US {
		return masses.in("lb", float64(v), 1)
	}
	return masses.in("kg", float64(v), 1)
}

// Show gives square metres to a tenth, or whole square feet.
func (v Area) Show(s System) string {
	if s == US {
		return areas.in("ft²", float64(v), 0)
	}
	return areas.in("m²", float64(v), 1)
}

// Show gives degrees to the fourth decimal, about ten metres on the ground.
func (v Degrees) Show(System) string { return round(float64(v), 4) + "°" }
