package main

import (
	"fmt"
	"math"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/theme"

	"github.com/spf13/cobra"
)

// vapourSource is something that air can be reckoned for.
type vapourSource struct {
	flag, words string
	vapour      float64 // kg/h
}

var vapourSources = []vapourSource{
	{"shower", "a shower of %s", site.ShowerVapour}, {"bath", "a bath of %s", site.BathVapour}, {"cooking", "%s of cooking", site.CookingVapour},
	{"drying", "%s of drying laundry", site.DryingVapour}, {"sleeping", "%s of somebody asleep", site.SleeperVapour},
}

func airCalculator() calculator {
	var room *given[sides, *sides]
	var fan *given[q.Airflow, *q.Airflow]
	var ceiling, humidity *given[q.Percent, *q.Percent]
	var temperature *given[q.Temperature, *q.Temperature]
	var altitude *given[q.Length, *q.Length]
	var within, during *given[q.Span, *q.Span]
	var vapour *amount
	var hold float64
	cold := &coldSide{}
	spans := map[string]*given[q.Span, *q.Span]{}
	return calculator{
		name: "air", short: "How soon a fan brings a damp room back under a ceiling of humidity",
		long: `A well-mixed room, a source of vapour, a fan, and the house's air that comes in instead. The
answer is a span: from the best case, in which what condenses is gone, to the worst, in which
all of it dries into the air again.`,
		example: `  roombrief reckon air --room '2.1 m x 2.4 m x 2.35 m' --fan '15 l/s' --shower 8m
  roombrief reckon air --room '8 ft x 6 ft x 8 ft' --fan '50 cfm' --shower 12m --ceiling '60 %' --within 40m
  roombrief reckon air --room '4 m x 4 m x 2.5 m' --fan '60 l/s' --vapour '1.2 kg/h' --for 1h --picture
  roombrief reckon air --room '2.1 m x 2.4 m x 2.35 m' --fan '21 l/s' --shower 8m --outside '2 C' --coldest '14 C'`,
		flags: func(c *cobra.Command) {
			room = quantity[sides](c, "room", "", "width x depth x height")
			fan = quantity[q.Airflow](c, "fan", "", "airflow of the fan, installed")
			for _, s := range vapourSources {
				spans[s.flag] = quantity[q.Span](c, s.flag, "", fmt.Sprintf("how long, at %g kg/h", s.vapour))
			}
			vapour = amountFlag(c, "vapour", "rate of vapour", vapours, "", "another source, with --for")
			during = quantity[q.Span](c, "for", "", "how long --vapour goes on")
			ceiling = quantity[q.Percent](c, "ceiling", "65 %", "relative humidity to come back under")
			within = quantity[q.Span](c, "within", "45m", "how soon after the source stops")
			temperature = quantity[q.Temperature](c, "temperature", "20 C", "of the house and the room")
			humidity = quantity[q.Percent](c, "humidity", "50 %", "relative humidity of the house")
			altitude = quantity[q.Length](c, "altitude", "0 m", "over the sea")
			cold.flags(c)
			c.Flags().Float64Var(&hold, "hold", 1, "what walls and towels take up, as a multiple of the air's own: 1 tiled, more with cloth")
		},
		reckon: func(c *cobra.Command, u q.System) (reckoned, error) {
			r := reckoned{caution: "ventilation"}
			if err := need(c, "room", "fan"); err != nil {
				return r, err
			}
			s, minutes, err := vapourOf(c, spans, vapour, during, &r)
			if err != nil {
				return r, err
			}
			pa, err := site.Pressure(float64(altitude.v))
			if err != nil {
				return r, err
			}
			d := site.Damp{Volume: room.v.volume(), Temperature: float64(temperature.v), Pressure: pa, Start: float64(humidity.v) / 100,
				SupplyTemp: float64(temperature.v), SupplyRH: float64(humidity.v) / 100, Airflow: float64(fan.v), Source: s.vapour, Minutes: minutes, Capacity: hold}
			r.unless(c, "ceiling", "a ceiling of 65 %%")
			r.unless(c, "within", "45 min asked for")
			r.unless(c, "temperature", "a house at %s", temperature.v.Show(u))
			r.unless(c, "humidity", "its air at 50 %%")
			if r, err = airAnswer(r, d, s.words, ceiling.v, within.v, u); err != nil {
				return r, err
			}
			return cold.answer(c, r, d, ceiling.v, within.v, u)
		},
	}
}

// vapourOf is the one source that was given, or a shower of eight minutes.
func vapourOf(c *cobra.Command, spans map[string]*given[q.Span, *q.Span], vapour *amount, during *given[q.Span, *q.Span], r *reckoned) (vapourSource, float64, error) {
	names := []string{"vapour"}
	for _, s := range vapourSources {
		names = append(names, s.flag)
	}
	if err := only(c, names...); err != nil {
		return vapourSource{}, 0, err
	}
	if c.Flags().Changed("vapour") {
		words := fmt.Sprintf("%s at %s of vapour", during.v.Show(q.Metric), vapour.text)
		return vapourSource{"vapour", words, vapour.v}, during.v.Duration().Minutes(), need(c, "for")
	}
	for _, s := range vapourSources {
		if c.Flags().Changed(s.flag) {
			s.words = fmt.Sprintf(s.words, spans[s.flag].v.Show(q.Metric))
			return s, spans[s.flag].v.Duration().Minutes(), nil
		}
	}
	r.taken = append(r.taken, "a shower of 8 min")
	s := vapourSources[0]
	s.words = fmt.Sprintf(s.words, "8 min")
	return s, 8, nil
}

func airAnswer(r reckoned, d site.Damp, words string, ceiling q.Percent, within q.Span, u q.System) (reckoned, error) {
	part := float64(ceiling) / 100
	course, err := d.Course(part)
	if err != nil {
		return r, err
	}
	dry := course.Drying
	asked := within.Duration().Minutes()
	if asked > 1440 {
		return r, fmt.Errorf("within of %s is outside 0 min to 24 h", within.Show(u))
	}
	best, bestErr := d.AirflowFor(part, asked)
	sure, sureErr := d.AirflowSurely(part, asked)
	if sureErr != nil {
		sure = math.Inf(1)
	}
	r.ok = dry.FilmM <= asked
	fan := q.Airflow(d.Airflow).Show(u)
	switch {
	case math.IsInf(dry.ClampedM, 1):
		r.line = fmt.Sprintf("No fan brings this air under %s: the house's own air has %s; take a ceiling above that.", ceiling.Show(u), q.Percent(100*d.SupplyRH).Show(u))
	case r.ok:
		r.line = fmt.Sprintf("With %s the air is back under %s %s after %s; %s were asked for.", fan, ceiling.Show(u), clearing(dry), words, within.Show(u))
	case math.IsInf(sure, 1):
		r.line = fmt.Sprintf("With %s the air is back under %s %s after %s; %s were asked for, and no fan does that: ask for more time or a higher ceiling.", fan, ceiling.Show(u), clearing(dry), words, within.Show(u))
	default:
		r.line = fmt.Sprintf("With %s the air is back under %s %s after %s; %s were asked for: %s does it surely.", fan, ceiling.Show(u), clearing(dry), words,
			within.Show(u), q.Airflow(math.Ceil(sure)).Show(u))
	}
	if bestErr != nil {
		best = math.Inf(1)
	}
	r.figures = []figure{{"clear_soonest_min", dry.ClampedM}, {"clear_latest_min", dry.FilmM}, {"time_constant_min", dry.Time}, {"peak_humidity_percent", 100 * dry.Clamped},
		{"condensed_kg", dry.Condensed}, {"saturated_after_min", dry.Saturated}, {"airflow_soonest_l_s", best}, {"airflow_surely_l_s", sure}, {"volume_m3", d.Volume}}
	r.picture = func(th theme.Theme, width int) []string { return draw.Humidity(th, course, part, within, width-1, 10) }
	return r, nil
}

func clearing(d site.Drying) string {
	soon, late := math.Ceil(d.ClampedM), math.Ceil(d.FilmM)
	if soon == late {
		return fmt.Sprintf("%.0f min", soon)
	}
	return fmt.Sprintf("%.0f to %.0f min", soon, late)
}
