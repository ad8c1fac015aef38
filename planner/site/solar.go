package site

import "math"

// solar is where the sun stands against the turning Earth at one instant. Angles are in degrees.
type solar struct {
	century           float64 // Julian centuries since 2000-01-01 12:00 UT
	meanLongitude     float64
	meanAnomaly       float64
	centre            float64 // equation of centre
	apparentLongitude float64
	meanObliquity     float64
	obliquity         float64 // corrected for nutation
	rightAscension    float64
	declination       float64
	equationOfTime    float64 // apparent less mean solar time, minutes
}

// solarAt evaluates the low-precision solar theory at a Unix time in seconds. UT stands for dynamical time:
// the minute between them moves the sun by less than a thousandth of a degree.
//
// Source: Meeus, Astronomical Algorithms, 2nd ed., chapters 22, 25 and 28 (Smart's equation of time), with
// the polynomials of the NOAA Solar Calculator. Range: 1901 to 2099, declination to about 0.01 degree.
func solarAt(unix float64) solar {
	t := (unix/86400 + 2440587.5 - 2451545) / 36525
	s := solar{century: t}
	s.meanLongitude = turn(280.46646 + t*(36000.76983+t*0.0003032))
	s.meanAnomaly = turn(357.52911 + t*(35999.05029-t*0.0001537))
	eccentricity := 0.016708634 - t*(0.000042037+t*0.0000001267)
	m := radians(s.meanAnomaly)
	s.centre = math.Sin(m)*(1.914602-t*(0.004817+t*0.000014)) +
		math.Sin(2*m)*(0.019993-t*0.000101) + math.Sin(3*m)*0.000289
	node := radians(125.04 - t*1934.136)
	s.apparentLongitude = s.meanLongitude + s.centre - 0.00569 - 0.00478*math.Sin(node)
	s.meanObliquity = 23 + (26+(21.448-t*(46.815+t*(0.00059-t*0.001813)))/60)/60
	s.obliquity = s.meanObliquity + 0.00256*math.Cos(node)
	e, l := radians(s.obliquity), radians(s.apparentLongitude)
	s.declination = degrees(math.Asin(math.Sin(e) * math.Sin(l)))
	s.rightAscension = turn(degrees(math.Atan2(math.Cos(e)*math.Sin(l), math.Cos(l))))
	s.equationOfTime = equationOfTime(e, radians(s.meanLongitude), eccentricity, m)
	return s
}

// equationOfTime is Smart's series, in minutes; every argument but the eccentricity is in radians.
func equationOfTime(obliquity, longitude, eccentricity, anomaly float64) float64 {
	y := math.Tan(obliquity / 2)
	y *= y
	return 4 * degrees(y*math.Sin(2*longitude)-2*eccentricity*math.Sin(anomaly)+
		4*eccentricity*y*math.Sin(anomaly)*math.Cos(2*longitude)-
		y*y*math.Sin(4*longitude)/2-1.25*eccentricity*eccentricity*math.Sin(2*anomaly))
}

// hourAngle is how far the sun has gone past the meridian of a longitude, -180 to 180 degrees.
func (s solar) hourAngle(unix, longitude float64) float64 {
	minutes := math.Mod(unix, 86400)/60 + s.equationOfTime + 4*longitude
	return turn(minutes/4) - 180
}

// elevation is the height of the sun's centre over a sea-level horizon, without refraction, in degrees.
func elevation(unix, latitude, longitude float64) float64 {
	s := solarAt(unix)
	h, phi, d := radians(s.hourAngle(unix, longitude)), radians(latitude), radians(s.declination)
	return degrees(math.Asin(clamp(math.Sin(phi)*math.Sin(d) + math.Cos(phi)*math.Cos(d)*math.Cos(h))))
}

func radians(deg float64) float64 { return deg * math.Pi / 180 }
func degrees(rad float64) float64 { return rad * 180 / math.Pi }
func clamp(x float64) float64     { return math.Max(-1, math.Min(1, x)) }

// turn brings an angle into 0 to 360 degrees.
func turn(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	return deg
}
