package main

import (
	"fmt"
	"math"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"

	"github.com/spf13/cobra"
)

// coldSide is the air outside and the coldest surface of a room: what the ceiling of humidity should be.
type coldSide struct {
	outside, coldest *given[q.Temperature, *q.Temperature]
	humidity         *given[q.Percent, *q.Percent]
	factor           float64
}

func (s *coldSide) flags(c *cobra.Command) {
	s.outside = quantity[q.Temperature](c, "outside", "", "temperature outside: adds what ceiling the room's coldest surface bears")
	s.humidity = quantity[q.Percent](c, "outside-humidity", "85 %", "relative humidity outside")
	s.coldest = quantity[q.Temperature](c, "coldest", "", "the coldest surface that a thermometer finds, with --outside")
	c.Flags().Float64Var(&s.factor, "factor", site.LeastFactor, "temperature factor of the coldest surface, where it isn't measured: 0.75 is the least that guidance asks")
}

// answer adds what the coldest surface bears, what the fan reaches and what outdoor air allows.
func (s *coldSide) answer(c *cobra.Command, r reckoned, d site.Damp, ceiling q.Percent, within q.Span, u q.System) (reckoned, error) {
	if !c.Flags().Changed("outside") {
		for _, f := range []string{"outside-humidity", "coldest", "factor"} {
			if c.Flags().Changed(f) {
				return r, fmt.Errorf("--%s needs --outside", f)
			}
		}
		return r, nil
	}
	if err := only(c, "coldest", "factor"); err != nil {
		return r, err
	}
	factor := s.factor
	if c.Flags().Changed("coldest") {
		f, err := site.FactorOf(d.Temperature, float64(s.outside.v), float64(s.coldest.v))
		if err != nil {
			return r, err
		}
		factor = f
	} else {
		r.unless(c, "factor", "a temperature factor of %g, the least that guidance asks; an old outside wall is colder", factor)
	}
	r.unless(c, "outside-humidity", "air of 85 %% outside")
	bears, surface, err := site.CeilingAtSurface(d.Temperature, float64(s.outside.v), factor, site.MouldAt)
	if err != nil {
		return r, err
	}
	reach, err := d.Lowest(math.Min(1440, within.Duration().Minutes()))
	if err != nil {
		return r, err
	}
	carried, err := site.Warmed(float64(s.outside.v), float64(s.humidity.v)/100, d.Temperature)
	if err != nil {
		return r, err
	}
	most := q.Percent(math.Floor(100*bears + 1e-9))
	r.line += fmt.Sprintf(" The coldest surface, at %s, bears %s before mould can grow", q.Temperature(surface).Show(u), most.Show(u))
	switch {
	case ceiling > most:
		r.ok = false
		r.line += fmt.Sprintf(": lower the ceiling to %s.", most.Show(u))
	default:
		r.line += fmt.Sprintf(", so %s will do.", ceiling.Show(u))
	}
	if out := q.Percent(math.Ceil(100*carried - 1e-9)); out > min(ceiling, most) {
		r.line += fmt.Sprintf(" But air from outside alone has %s in this room: on such a day only a dryer gets under that, so let the fan rest 5 points over the house's own air.", out.Show(u))
	}
	r.figures = append(r.figures, figure{"ceiling_borne_percent", 100 * bears}, figure{"coldest_surface_c", surface}, figure{"temperature_factor", factor},
		figure{"ceiling_reached_percent", 100 * reach}, figure{"outdoor_air_percent", 100 * carried})
	r.also = "threshold"
	return r, nil
}
