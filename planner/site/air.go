package site

import "math"

// Constants of moist air (ASHRAE Handbook Fundamentals 2017, chapter 1).
const (
	zeroCelsius  = 273.15   // K
	triplePoint  = 0.01     // °C; the ice and water branches of saturation meet here, not at 0 °C
	massRatio    = 0.621945 // molar mass of water over that of dry air
	dryAirGas    = 287.042  // J/(kg K)
	SeaLevel     = 101325.0 // Pa
	airLowest    = -100.0   // °C
	airHighest   = 200.0    // °C
	leastVapour  = 1e-7     // kg/kg; below it a dew point means nothing
	dewTolerance = 0.001    // K
)

// Pressure of the standard atmosphere in Pa at an altitude of -500 to 11000 m (ASHRAE Fundamentals 2017,
// chapter 1, equation 3).
func Pressure(altitude float64) (float64, error) {
	if err := within("altitude", altitude, -500, 11000, "m"); err != nil {
		return 0, err
	}
	return SeaLevel * math.Pow(1-2.25577e-5*altitude, 5.2559), nil
}

// Saturation pressure of water vapour in Pa at -100 to 200 °C: over ice up to the triple point, over water
// above it (ASHRAE Fundamentals 2017, chapter 1, equations 5 and 6; within 300 ppm of its table).
func Saturation(t float64) (float64, error) {
	if err := within("temperature", t, airLowest, airHighest, "°C"); err != nil {
		return 0, err
	}
	return math.Exp(logSaturation(t)), nil
}

func logSaturation(t float64) float64 {
	k := t + zeroCelsius
	if t <= triplePoint {
		return -5.6745359e3/k + 6.3925247 + k*(-9.677843e-3+k*(6.2215701e-7+k*(2.0747825e-9-9.484024e-13*k))) + 4.1635019*math.Log(k)
	}
	return -5.8002206e3/k + 1.3914993 + k*(-4.8640239e-2+k*(4.1764768e-5-1.4452093e-8*k)) + 6.5459673*math.Log(k)
}

// logSlope is the derivative of logSaturation by temperature, per K.
func logSlope(t float64) float64 {
	k := t + zeroCelsius
	if t <= triplePoint {
		return 5.6745359e3/(k*k) - 9.677843e-3 + k*(2*6.2215701e-7+k*(3*2.0747825e-9-4*9.484024e-13*k)) + 4.1635019/k
	}
	return 5.8002206e3/(k*k) - 4.8640239e-2 + k*(2*4.1764768e-5-3*1.4452093e-8*k) + 6.5459673/k
}

// Moist is air of one state.
type Moist struct {
	Temperature float64 // °C, dry bulb
	Humidity    float64 // relative, 0 to 1
	Pressure    float64 // Pa
	Vapour      float64 // Pa, partial pressure of water vapour
	Ratio       float64 // kg of water per kg of dry air
	DewPoint    float64 // °C; frost point below 0.01 °C
	WetBulb     float64 // °C
	Volume      float64 // m³ per kg of dry air
	Density     float64 // kg/m³ of moist air
	Absolute    float64 // g of water per m³
	Enthalpy    float64 // kJ per kg of dry air, zero for dry air at 0 °C
}

// MoistAir works out the state of air from its temperature (-100 to 200 °C), relative humidity (0 to 1) and
// pressure (30 to 110 kPa) (ASHRAE Fundamentals 2017, chapter 1).
func MoistAir(t, rh, p float64) (Moist, error) {
	if err := first(within("temperature", t, airLowest, airHighest, "°C"), within("relative humidity", rh, 0, 1, ""),
		within("pressure", p, 30e3, 110e3, "Pa")); err != nil {
		return Moist{}, err
	}
	pv := rh * math.Exp(logSaturation(t))
	if pv >= p {
		return Moist{}, within("vapour pressure", pv, 0, p, "Pa")
	}
	m := Moist{Temperature: t, Humidity: rh, Pressure: p, Vapour: pv, Ratio: ratioOf(pv, p)}
	m.Volume = specificVolume(t, m.Ratio, p)
	m.Density = (1 + m.Ratio) / m.Volume
	m.Absolute = 1000 * m.Ratio / m.Volume
	m.Enthalpy = 1.006*t + m.Ratio*(2501+1.86*t)
	m.DewPoint = dewPoint(t, math.Max(pv, leastVapour*p/(massRatio+leastVapour)))
	m.WetBulb = wetBulb(t, m.DewPoint, m.Ratio, p)
	return m, nil
}

func ratioOf(pv, p float64) float64 { return massRatio * pv / (p - pv) }
func vapourOf(w, p float64) float64 { return p * w / (massRatio + w) }
func humidityOf(w, t, p float64) float64 {
	return vapourOf(w, p) / math.Exp(logSaturation(t))
}

// specificVolume is m³ per kg of dry air.
func specificVolume(t, w, p float64) float64 {
	return dryAirGas * (t + zeroCelsius) * (1 + 1.607858*w) / p
}

// dewPoint inverts the saturation pressure by Newton's method on its logarithm, from the dry bulb down.
func dewPoint(t, pv float64) float64 {
	want, at := math.Log(pv), t
	for i := 0; i < 100; i++ {
		next := at - (logSaturation(at)-want)/logSlope(at)
		next = math.Max(airLowest, math.Min(airHighest, next))
		if math.Abs(next-at) <= dewTolerance/10 {
			at = next
			break
		}
		at = next
	}
	return math.Min(at, t)
}

// wetBulb bisects between the dew point and the dry bulb (ASHRAE Fundamentals 2017, chapter 1, equations 33
// and 35).
func wetBulb(t, dew, w, p float64) float64 {
	low, high := dew, t
	for high-low > dewTolerance/10 {
		mid := (low + high) / 2
		ws := ratioOf(math.Exp(logSaturation(mid)), p)
		var at float64
		if mid >= 0 {
			at = ((2501-2.326*mid)*ws - 1.006*(t-mid)) / (2501 + 1.86*t - 4.186*mid)
		} else {
			at = ((2830-0.24*mid)*ws - 1.006*(t-mid)) / (2830 + 1.86*t - 2.1*mid)
		}
		if at > w {
			high = mid
		} else {
			low = mid
		}
	}
	return (low + high) / 2
}

// Surface is the inside of an outer wall or window.
type Surface struct {
	Temperature float64 // °C
	Humidity    float64 // relative, of the room's air cooled to the surface; may exceed 1
	Condenses   bool    // at 1 and more
	Mould       bool    // at 0.8 and more
	LeastDry    float64 // smallest temperature factor at which nothing condenses
	LeastClean  float64 // smallest temperature factor that keeps the surface under 0.8
}

// AtSurface works out a surface from its temperature factor fRsi (0 to 1), the room's air and the temperature
// outside. The method is that of EN ISO 13788, which judges mould by monthly means; this is one moment.
func AtSurface(room Moist, outside, factor float64) (Surface, error) {
	if err := first(within("temperature factor", factor, 0, 1, ""), within("outside temperature", outside, -60, room.Temperature-0.1, "°C")); err != nil {
		return Surface{}, err
	}
	s := Surface{Temperature: outside + factor*(room.Temperature-outside)}
	s.Humidity = room.Vapour / math.Exp(logSaturation(s.Temperature))
	s.Condenses, s.Mould = s.Humidity >= 1, s.Humidity >= 0.8
	span := room.Temperature - outside
	s.LeastDry = math.Max(0, (room.DewPoint-outside)/span)
	s.LeastClean = math.Max(0, (dewPoint(airHighest, room.Vapour/0.8)-outside)/span)
	return s, nil
}
