package quantity

import (
	"regexp"
	"strings"
)

// Form describes how a quantity is written, for the schema that editors complete from.
// Pattern is a regular expression of the common ground of RE2 and ECMA-262.
type Form struct {
	Pattern  string
	Examples []string
}

const numberForm = `[0-9]+(\.[0-9]+)?`

func (m *measure) form(examples ...string) Form {
	sign := "[-+]?"
	if m.low >= 0 {
		sign = `\+?`
	}
	all := func(u *unit) string {
		quoted := make([]string, len(u.names))
		for i, n := range u.names {
			quoted[i] = regexp.QuoteMeta(n)
		}
		return "(" + strings.Join(quoted, "|") + ")"
	}
	var ones, pairs []string
	for i := range m.units {
		ones = append(ones, all(&m.units[i]))
	}
	for _, p := range m.pairs {
		pairs = append(pairs, numberForm+" *"+all(m.unit(p[0]))+" *"+numberForm+" *"+all(m.unit(p[1])))
	}
	body := numberForm + " *(" + strings.Join(ones, "|") + ")"
	if m.optional {
		body += "?"
	}
	return Form{"^" + sign + "(" + strings.Join(append([]string{body}, pairs...), "|") + ")$", examples}
}

// Form of a length; so it is with every quantity.
func (Length) Form() Form      { return lengths.form("2.4 m", "35 mm", "7 ft 10 in") }
func (Airflow) Form() Form     { return airflows.form("21 l/s", "75 m3/h", "45 cfm") }
func (Power) Form() Form       { return powers.form("18 W", "2.4 kW") }
func (Voltage) Form() Form     { return voltages.form("230 V", "120 V") }
func (Current) Form() Form     { return currents.form("13 A", "15 A") }
func (Temperature) Form() Form { return temperatures.form("19 C", "66 F") }
func (Percent) Form() Form     { return percents.form("90 %", "35 %") }
func (Flux) Form() Form        { return fluxes.form("470 lm", "806 lm") }
func (ColourTemp) Form() Form  { return colourTemps.form("2700 K", "4000 K") }
func (Illuminance) Form() Form { return illuminances.form("150 lx", "15 fc") }
func (Mass) Form() Form        { return masses.form("4 kg", "9 lb") }
func (Area) Form() Form        { return areas.form("1.2 m2", "13 ft2") }
func (Degrees) Form() Form     { return angles.form("53.96", "-1.08") }

const spanForm = `([0-9]+(\.[0-9]+)? *(d|days?|h|hr|hours?|m|min|minutes?|s|sec|seconds?) *)+`

func (Span) Form() Form { return Form{"^" + spanForm + "$", []string{"45m", "1h10m", "30s"}} }

func (Allowance) Form() Form {
	return Form{"^" + spanForm + "( a day| per day| ?/ ?day|/d)$", []string{"2h a day"}}
}

func (DayTime) Form() Form {
	return Form{
		`^(([01]?[0-9]|2[0-3]):[0-5][0-9]|(0?[1-9]|1[0-2]):[0-5][0-9] *[aApP][mM]|(dawn|sunrise|sunset|dusk)( *[-+] *(0?[0-9]|1[01]):[0-5][0-9])?)$`,
		[]string{"06:20", "22:45", "sunset", "sunrise-00:30"},
	}
}

func (HourlyRate) Form() Form {
	return Form{`^\+?` + numberForm + ` *[A-Z]{3}(/h|/hour| an hour| per hour)$`, []string{"48 GBP/h", "85 USD/h"}}
}
