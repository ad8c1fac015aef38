package quantity

// The factors are exact by definition of the unit (NIST SP 811, Appendix B) unless said otherwise.
const (
	metresPerFoot = 0.3048
	metresPerInch = 0.0254
	kilosPerPound = 0.45359237
	luxPerFc      = 10.763910416709722 // lumen per square foot: 1 / 0.3048²
	litresPerCfm  = 0.47194744320      // 0.3048³ m³ in a minute, in litres a second
	kelvinPerF    = 5.0 / 9
)

var lengths = measure{
	what: "length", accepts: "a length such as 2.4 m, 35 mm or 7 ft 10 in",
	units: []unit{
		{names: []string{"m", "metre", "metres", "meter", "meters"}, factor: 1},
		{names: []string{"cm"}, factor: 0.01},
		{names: []string{"mm"}, factor: 0.001},
		{names: []string{"ft", "'", "′", "foot", "feet"}, factor: metresPerFoot},
		{names: []string{"in", `"`, "″", "inch", "inches"}, factor: metresPerInch},
	},
	pairs: [][2]string{{"ft", "in"}}, low: -1000, high: 10000,
}

var airflows = measure{
	what: "airflow", accepts: "an airflow such as 21 l/s, 75 m3/h or 45 cfm",
	units: []unit{
		{names: []string{"l/s", "L/s"}, factor: 1},
		{names: []string{"m3/h", "m³/h"}, factor: 1 / 3.6},
		{names: []string{"cfm", "CFM"}, factor: litresPerCfm},
	},
	high: 10000,
}

var powers = measure{
	what: "power", accepts: "a power such as 18 W or 2.4 kW",
	units: []unit{{names: []string{"W"}, factor: 1}, {names: []string{"kW"}, factor: 1000}},
	high:  1e6,
}

var voltages = measure{
	what: "voltage", accepts: "a voltage such as 230 V",
	units: []unit{{names: []string{"V"}, factor: 1}}, high: 1000,
}

var currents = measure{
	what: "current", accepts: "a current such as 13 A",
	units: []unit{{names: []string{"A"}, factor: 1}, {names: []string{"mA"}, factor: 0.001}}, high: 1000,
}

var temperatures = measure{
	what: "temperature", accepts: "a temperature such as 19 C or 66 F",
	units: []unit{
		{names: []string{"C", "°C"}, factor: 1},
		{names: []string{"F", "°F"}, factor: kelvinPerF, shift: -32 * kelvinPerF},
	},
	low: -100, high: 200,
}

var percents = measure{
	what: "percentage", accepts: "a percentage such as 90 %",
	units: []unit{{names: []string{"%"}, factor: 1}}, high: 1000,
}

var fluxes = measure{
	what: "luminous flux", accepts: "a luminous flux such as 470 lm",
	units: []unit{{names: []string{"lm"}, factor: 1}}, high: 1e6,
}

var colourTemps = measure{
	what: "colour temperature", accepts: "a colour temperature such as 2700 K, from 1000 K to 20000 K",
	units: []unit{{names: []string{"K"}, factor: 1}}, low: 1000, high: 20000,
}

var illuminances = measure{
	what: "light level", accepts: "a light level such as 150 lx or 15 fc",
	units: []unit{
		{names: []string{"lx", "lux"}, factor: 1},
		{names: []string{"fc"}, factor: luxPerFc},
	},
	high: 200000,
}

var masses = measure{
	what: "weight", accepts: "a weight such as 4 kg, 9 lb or 350 g",
	units: []unit{
		{names: []string{"kg"}, factor: 1},
		{names: []string{"g"}, factor: 0.001},
		{names: []string{"lb", "lbs"}, factor: kilosPerPound},
		{names: []string{"oz"}, factor: kilosPerPound / 16},
	},
	pairs: [][2]string{{"lb", "oz"}}, high: 10000,
}

var areas = measure{
	what: "area", accepts: "an area such as 1.2 m2 or 13 ft2",
	units: []unit{
		{names: []string{"m2", "m²"}, factor: 1},
		{names: []string{"ft2", "ft²", "sq ft"}, factor: metresPerFoot * metresPerFoot},
	},
	high: 1e6,
}

var angles = measure{
	what: "number of degrees", accepts: "plain degrees such as 53.96 or -1.08",
	units: []unit{{names: []string{"", "°"}, factor: 1}}, low: -360, high: 360, optional: true,
}

// UnmarshalText reads metres, centimetres, millimetres, feet and inches.
func (v *Length) UnmarshalText(b []byte) error { return read(v, &lengths, b) }

// UnmarshalText reads l/s, m3/h or cfm.
func (v *Airflow) UnmarshalText(b []byte) error { return read(v, &airflows, b) }

// UnmarshalText reads W or kW.
func (v *Power) UnmarshalText(b []byte) error { return read(v, &powers, b) }

// UnmarshalText reads V.
func (v *Voltage) UnmarshalText(b []byte) error { return read(v, &voltages, b) }

// UnmarshalText reads A or mA.
func (v *Current) UnmarshalText(b []byte) error { return read(v, &currents, b) }

// UnmarshalText reads C or F, with or without the degree sign.
func (v *Temperature) UnmarshalText(b []byte) error { return read(v, &temperatures, b) }

// UnmarshalText reads a number with %.
func (v *Percent) UnmarshalText(b []byte) error { return read(v, &percents, b) }

// UnmarshalText reads lm.
func (v *Flux) UnmarshalText(b []byte) error { return read(v, &fluxes, b) }

// UnmarshalText reads K.
func (v *ColourTemp) UnmarshalText(b []byte) error { return read(v, &colourTemps, b) }

// UnmarshalText reads lx or fc.
func (v *Illuminance) UnmarshalText(b []byte) error { return read(v, &illuminances, b) }

// UnmarshalText reads kg, g, lb and oz.
func (v *Mass) UnmarshalText(b []byte) error { return read(v, &masses, b) }

// UnmarshalText reads m2 or ft2.
func (v *Area) UnmarshalText(b []byte) error { return read(v, &areas, b) }

// UnmarshalText reads a plain number.
func (v *Degrees) UnmarshalText(b []byte) error { return read(v, &angles, b) }

func read[T ~float64](into *T, m *measure, b []byte) error {
	f, err := m.parse(b)
	if err != nil {
		return err
	}
	*into = T(f)
	return nil
}

// String is canonical: metres, and it reads back as the same length. So it is with every quantity.
func (v Length) String() string      { return lengths.format(float64(v)) }
func (v Airflow) String() string     { return airflows.format(float64(v)) }
func (v Power) String() string       { return powers.format(float64(v)) }
func (v Voltage) String() string     { return voltages.format(float64(v)) }
func (v Current) String() string     { return currents.format(float64(v)) }
func (v Temperature) String() string { return temperatures.format(float64(v)) }
func (v Percent) String() string     { return percents.format(float64(v)) }
func (v Flux) String() string        { return fluxes.format(float64(v)) }
func (v ColourTemp) String() string  { return colourTemps.format(float64(v)) }
func (v Illuminance) String() string { return illuminances.format(float64(v)) }
func (v Mass) String() string        { return masses.format(float64(v)) }
func (v Area) String() string        { return areas.format(float64(v)) }
func (v Degrees) String() string     { return angles.format(float64(v)) }

// InUnitOf formats the length in the unit or units that written uses, metres when it has none.
// So it is with every quantity.
func (v Length) InUnitOf(written string) string  { return lengths.inUnitOf(written, float64(v)) }
func (v Airflow) InUnitOf(written string) string { return airflows.inUnitOf(written, float64(v)) }
func (v Power) InUnitOf(written string) string   { return powers.inUnitOf(written, float64(v)) }
func (v Voltage) InUnitOf(written string) string { return voltages.inUnitOf(written, float64(v)) }
func (v Current) InUnitOf(written string) string { return currents.inUnitOf(written, float64(v)) }
func (v Temperature) InUnitOf(written string) string {
	return temperatures.inUnitOf(written, float64(v))
}

func (v Percent) InUnitOf(written string) string    { return percents.inUnitOf(written, float64(v)) }
func (v Flux) InUnitOf(written string) string       { return fluxes.inUnitOf(written, float64(v)) }
func (v ColourTemp) InUnitOf(written string) string { return colourTemps.inUnitOf(written, float64(v)) }

func (v Illuminance) InUnitOf(written string) string {
	return illuminances.inUnitOf(written, float64(v))
}
func (v Mass) InUnitOf(written string) string    { return masses.inUnitOf(written, float64(v)) }
func (v Area) InUnitOf(written string) string    { return areas.inUnitOf(written, float64(v)) }
func (v Degrees) InUnitOf(written string) string { return angles.inUnitOf(written, float64(v)) }

// Accepts says what may be written, for hints. So it is with every quantity.
func (Length) Accepts() string      { return lengths.accepts }
func (Airflow) Accepts() string     { return airflows.accepts }
func (Power) Accepts() string       { return powers.accepts }
func (Voltage) Accepts() string     { return voltages.accepts }
func (Current) Accepts() string     { return currents.accepts }
func (Temperature) Accepts() string { return temperatures.accepts }
func (Percent) Accepts() string     { return percents.accepts }
func (Flux) Accepts() string        { return fluxes.accepts }
func (ColourTemp) Accepts() string  { return colourTemps.accepts }
func (Illuminance) Accepts() string { return illuminances.accepts }
func (Mass) Accepts() string        { return masses.accepts }
func (Area) Accepts() string        { return areas.accepts }
func (Degrees) Accepts() string     { return angles.accepts }
