package main

import (
	"fmt"
	"math"
	"strings"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"

	"github.com/spf13/cobra"
)

func escapeNames() []string {
	var out []string
	for _, e := range site.Escapes {
		out = append(out, e.Name)
	}
	return out
}

func waterCalculator() calculator {
	var from string
	var flow, pressure *amount
	var hole, reach, pipe *given[q.Length, *q.Length]
	var told, order, closing, hand *given[q.Span, *q.Span]
	return calculator{
		name: "water", short: "How much water is out until somebody is told, and until the valve has shut",
		long: `From what breaks, from a flow, or from a hole at a pressure.
What breaks: ` + strings.Join(escapeNames(), ", ") + `.`,
		example: `  roombrief reckon water --from 'washer hose' --told 30s
  roombrief reckon water --flow '2.5 gpm' --told 20s --by-hand 15m
  roombrief reckon water --hole '3 mm' --pressure '4 bar' --told 30s --shut 5s --pipe '20 m'`,
		flags: func(c *cobra.Command) {
			c.Flags().StringVar(&from, "from", "", "what breaks")
			words(c, "from", escapeNames()...)
			flow = amountFlag(c, "flow", "flow", waterFlow, "", "how fast it comes")
			hole = quantity[q.Length](c, "hole", "", "diameter of a hole")
			pressure = amountFlag(c, "pressure", "pressure", pressures, "3 bar", "of the supply")
			reach = quantity[q.Length](c, "probe", "0.3 m", "from the leak to the probe")
			told = quantity[q.Span](c, "told", "30s", "from the wet probe until somebody is told")
			order = quantity[q.Span](c, "order", "2s", "until the order reaches the valve")
			closing = quantity[q.Span](c, "shut", "10s", "how long a motor valve takes to shut")
			hand = quantity[q.Span](c, "by-hand", "", "no motor valve: how long until somebody shuts it by hand")
			pipe = quantity[q.Length](c, "pipe", "", "length of pipe to the valve: also tells how hard the water is stopped")
		},
		reckon: func(c *cobra.Command, u q.System) (reckoned, error) {
			r := reckoned{caution: "water"}
			if err := only(c, "from", "flow", "hole"); err != nil {
				return r, err
			}
			lpm, err := flowOf(c, from, flow.v, float64(hole.v), pressure.v, &r)
			if err != nil {
				return r, err
			}
			_, _, wet, err := site.Puddle(60, lpm, float64(reach.v))
			if err != nil {
				return r, err
			}
			r.unless(c, "told", "somebody told after 30 s")
			l := leak{lpm: lpm, wet: wet, told: told.v.Duration().Seconds(), command: order.v.Duration().Seconds(), closing: closing.v.Duration().Seconds()}
			if c.Flags().Changed("by-hand") {
				l.byHand, l.command, l.closing = true, hand.v.Duration().Seconds(), 5
			} else {
				r.unless(c, "shut", "a motor valve that shuts in 10 s")
			}
			if r, err = l.answer(r, u); err != nil {
				return r, err
			}
			if c.Flags().Changed("pipe") {
				return hammerAnswer(r, lpm, float64(pipe.v), l.closing)
			}
			return r, nil
		},
	}
}

func flowOf(c *cobra.Command, from string, flow, hole, bar float64, r *reckoned) (float64, error) {
	switch {
	case c.Flags().Changed("flow"):
		return flow, nil
	case c.Flags().Changed("hole"):
		r.unless(c, "pressure", "3 bar")
		return site.Orifice(hole, bar*1e5)
	case from == "":
		r.taken = append(r.taken, "a washer hose that bursts")
		from = "washer hose"
	}
	e, ok := site.EscapeOf(from)
	if !ok {
		return 0, oneOf("leak", from, escapeNames())
	}
	return e.Typical, nil
}

// leak is a flow with its times, in s.
type leak struct {
	lpm, wet, told, command, closing float64
	byHand                           bool
}

func (l leak) answer(r reckoned, u q.System) (reckoned, error) {
	told, err := site.LeakVolume(l.lpm, l.wet, l.told, 0, 0)
	if err != nil {
		return r, err
	}
	shut, err := site.LeakVolume(l.lpm, l.wet, l.told, l.command, l.closing)
	if err != nil {
		return r, err
	}
	how := "when the valve has shut"
	if l.byHand {
		how = "when it is shut by hand"
	}
	r.ok = true
	r.line = fmt.Sprintf("At %s the probe is wet after %s; %s are out when somebody is told, and %s %s.", flowShown(l.lpm, u), seconds(l.wet), volumeShown(told, u), volumeShown(shut, u), how)
	r.figures = []figure{{"flow_l_min", l.lpm}, {"probe_wet_s", l.wet}, {"told_l", told}, {"shut_l", shut}, {"hour_l", l.lpm * 60}}
	return r, nil
}

func seconds(s float64) string {
	switch {
	case s < 1:
		return "less than a second"
	case s < 90:
		return fmt.Sprintf("%.0f s", s)
	}
	return fmt.Sprintf("%.0f min", s/60)
}

// pipeBore in m of the pipes that feed a home: half-inch copper.
const pipeBore = 0.0136

// hammerAnswer adds how hard the water is stopped in half-inch copper.
func hammerAnswer(r reckoned, lpm, length, closing float64) (reckoned, error) {
	speed := math.Min(10, lpm/60000/(math.Pi/4*pipeBore*pipeBore))
	bar, rapid, err := site.Hammer(speed, length, 1300, closing)
	if err != nil {
		return r, err
	}
	r.taken = append(r.taken, "half-inch copper")
	r.figures = append(r.figures, figure{"hammer_bar", bar})
	mild := "gently enough"
	if bar > 3 {
		mild, r.ok = "too hard: take a slower valve", false
	}
	if rapid {
		mild += ", all at once"
	}
	r.line = strings.TrimSuffix(r.line, ".") + fmt.Sprintf("; shutting raises the pressure by %.1f bar, %s.", bar, mild)
	return r, nil
}

const gallon = 3.785412 // litres

func volumeShown(l float64, u q.System) string {
	if u == q.US {
		return fmt.Sprintf("%.3g gal", l/gallon)
	}
	return fmt.Sprintf("%.3g l", l)
}

func flowShown(lpm float64, u q.System) string {
	if u == q.US {
		return fmt.Sprintf("%.3g gal/min", lpm/gallon)
	}
	return fmt.Sprintf("%.3g l/min", lpm)
}
