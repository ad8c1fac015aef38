package main

import (
	"fmt"
	"math"
	"strings"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/site"

	"github.com/spf13/cobra"
)

func lightCalculator() calculator {
	var room *given[sides, *sides]
	var flux *given[q.Flux, *q.Flux]
	var power, replaces *given[q.Power, *q.Power]
	var level *given[q.Percent, *q.Percent]
	var target *given[q.Illuminance, *q.Illuminance]
	var plane *given[q.Length, *q.Length]
	var lamps int
	var uf, mf float64
	var task string
	return calculator{
		name: "light", short: "Lux from lamps, against what a task needs, and how many lamps are short",
		long: `The lumen method: the average on a plane, after dust, of lamps spread over a rectangular
room. Tasks: ` + strings.Join(taskNames(), ", ") + `.`,
		example: `  roombrief reckon light --room '2.1 m x 2.4 m x 2.35 m' --lamps 3 --flux '470 lm' --task 'bathroom'
  roombrief reckon light --room '12 ft x 14 ft x 8 ft' --lamps 6 --flux '470 lm' --target '30 fc'
  roombrief reckon light --room '1 m x 7 m x 2.4 m' --replaces '60 W' --level '5 %' --plane '0 m' --task night`,
		flags: func(c *cobra.Command) {
			room = quantity[sides](c, "room", "", "width x depth x height")
			c.Flags().IntVar(&lamps, "lamps", 1, "how many")
			flux = quantity[q.Flux](c, "flux", "", "light of one lamp")
			power = quantity[q.Power](c, "power", "", "power of one LED lamp, where its flux isn't printed")
			replaces = quantity[q.Power](c, "replaces", "", "power of the incandescent lamp that one lamp replaces")
			level = quantity[q.Percent](c, "level", "100 %", "how far it is dimmed, as a part of the light measured")
			target = quantity[q.Illuminance](c, "target", "", "light that is wanted")
			c.Flags().StringVar(&task, "task", "", "light that is usual for a room or a task in it")
			words(c, "task", taskNames()...)
			plane = quantity[q.Length](c, "plane", "0.85 m", "height of the plane over the floor")
			c.Flags().Float64Var(&uf, "utilisation", 0, "part of the light that reaches the plane, of the luminaire's own table; 0 by the room")
			c.Flags().Float64Var(&mf, "maintenance", physics.CleanLamps, "what dust leaves: 0.9 very clean, 0.8 clean, 0.7 average, 0.6 dirty")
		},
		reckon: func(c *cobra.Command, u q.System) (reckoned, error) {
			r := reckoned{caution: ""}
			if err := need(c, "room"); err != nil {
				return r, err
			}
			if err := only(c, "flux", "power", "replaces"); err != nil {
				return r, err
			}
			if err := only(c, "target", "task"); err != nil {
				return r, err
			}
			lm, err := fluxOf(c, flux.v, power.v, replaces.v, &r)
			if err != nil {
				return r, err
			}
			least, most, name, err := wantedLight(c, task, target.v)
			if err != nil {
				return r, err
			}
			if lamps < 1 || lamps > 500 {
				return r, fmt.Errorf("lamps of %d is outside 1 to 500", lamps)
			}
			hm := room.v.height - float64(plane.v)
			k := room.v.width * room.v.depth / (hm * (room.v.width + room.v.depth))
			if uf == 0 {
				uf = physics.Utilisation(k)
				r.taken = append(r.taken, fmt.Sprintf("a utilisation of %.2f, for plain fittings and pale walls", uf))
			}
			r.unless(c, "maintenance", "a maintenance factor of %g", mf)
			r.unless(c, "plane", "a plane at %s", plane.v.Show(u))
			goal := least
			if goal == 0 {
				goal = 1
			}
			lit, err := site.Lumen{Length: room.v.width, Width: room.v.depth, Height: room.v.height, Workplane: float64(plane.v), Flux: lm, Lamps: 1,
				Utilisation: uf, Maintenance: mf}.Luminaires(goal)
			if err != nil {
				return r, err
			}
			return lightAnswer(r, lit, lamps, float64(level.v), least, most, name, u)
		},
	}
}

func taskNames() []string {
	var out []string
	for _, t := range site.Targets {
		switch t.Task {
		case "general":
			out = append(out, t.Room)
		case "floor":
			out = append(out, t.Room)
		default:
			out = append(out, t.Room+" "+t.Task)
		}
	}
	return out
}

func fluxOf(c *cobra.Command, flux q.Flux, power, replaces q.Power, r *reckoned) (float64, error) {
	switch {
	case c.Flags().Changed("power"):
		r.taken = append(r.taken, fmt.Sprintf("%g lm for each watt", site.LumensPerWatt))
		return float64(power) * site.LumensPerWatt, nil
	case c.Flags().Changed("replaces"):
		var known []string
		for _, b := range site.Bulbs {
			if b.Incandescent == float64(replaces) {
				return b.Lumens, nil
			}
			known = append(known, fmt.Sprintf("%g W", b.Incandescent))
		}
		return 0, fmt.Errorf("no light is known of an incandescent lamp of %s; there are %s", replaces, strings.Join(known, ", "))
	case c.Flags().Changed("flux"):
		return float64(flux), nil
	}
	r.taken = append(r.taken, "lamps of 806 lm, which replace 60 W")
	return 806, nil
}

// wantedLight is what was asked for: a figure, or what is usual for a task. 0 is nothing.
func wantedLight(c *cobra.Command, task string, target q.Illuminance) (least, most float64, name string, err error) {
	if c.Flags().Changed("target") {
		return float64(target), math.Inf(1), "", nil
	}
	if task == "" {
		return 0, math.Inf(1), "", nil
	}
	for i, n := range taskNames() {
		if n == strings.ToLower(strings.TrimSpace(task)) {
			return site.Targets[i].Least, site.Targets[i].Most, n, nil
		}
	}
	return 0, 0, "", oneOf("task", task, taskNames())
}

func lightAnswer(r reckoned, lit site.Lit, lamps int, level, least, most float64, name string, u q.System) (reckoned, error) {
	seen, err := site.Perceived(level / 100)
	if err != nil {
		return r, err
	}
	lux := lit.Each * float64(lamps) * level / 100
	r.ok = lux >= least*0.95
	what := fmt.Sprintf("%d lamps give", lamps)
	if lamps == 1 {
		what = "1 lamp gives"
	}
	r.line = fmt.Sprintf("%s about %s", what, lux1(lux, u))
	if level < 100 {
		r.line += fmt.Sprintf(" at %s, which looks like %.0f %% of full", q.Percent(level).Show(u), 100*seen)
	}
	short := 0
	switch {
	case least == 0:
		r.line += "."
	case r.ok && lux > most*1.05:
		r.line += fmt.Sprintf(": more than the %s that are usual.", physics.FromTo(lux1(least, u), lux1(most, u)))
	case r.ok:
		r.line += fmt.Sprintf("%s.", wantedWords(least, most, name, u))
	default:
		short = int(math.Ceil((least/math.Max(level/100, 1e-6)-lit.Each*float64(lamps))/lit.Each - 1e-9))
		r.line += fmt.Sprintf("%s: %d more of them.", wantedWords(least, most, name, u), short)
		if level < 100 && lit.Each*float64(lamps) >= least {
			r.line = strings.TrimSuffix(r.line, fmt.Sprintf("%d more of them.", short)) + fmt.Sprintf("dim no further than %.0f %%.", math.Ceil(100*least/(lit.Each*float64(lamps))))
			short = 0
		}
	}
	r.figures = []figure{{"illuminance_lx", lux}, {"each_lamp_lx", lit.Each}, {"room_index", lit.RoomIndex}, {"room_cavity_ratio", lit.Cavity},
		{"seen_percent", 100 * seen}, {"lamps_short", float64(short)}}
	if least > 0 {
		r.figures = append(r.figures, figure{"wanted_lx", least})
	}
	return r, nil
}

// wantedWords say what was asked for, or what is usual.
func wantedWords(least, most float64, name string, u q.System) string {
	if name == "" {
		return fmt.Sprintf(", and %s are wanted", lux1(least, u))
	}
	return ", and " + physics.FromTo(lux1(least, u), lux1(most, u)) + " are usual"
}

// lux1 keeps a decimal where whole lux would be nothing.
func lux1(lx float64, u q.System) string {
	if u == q.Metric && lx < 10 {
		return fmt.Sprintf("%.1f lx", lx)
	}
	return q.Illuminance(lx).Show(u)
}
