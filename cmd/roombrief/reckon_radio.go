package main

import (
	"fmt"
	"math"
	"sort"
	"strings"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"

	"github.com/spf13/cobra"
)

func radioCalculator() calculator {
	var distance *given[q.Length, *q.Length]
	var walls []string
	var floors int
	var floorLoss, keep float64
	var radio string
	var alarm bool
	var transmit, sensitivity *amount
	return calculator{
		name: "radio", short: "Whether a radio carries through walls and floors, and with what to spare",
		long: `Ordinary partitions are in the figure for distance already: give --wall for what is heavier.
Walls: ` + strings.Join(wallNames(), ", ") + `. A thing of metal is no path at all.`,
		example: `  roombrief reckon radio --distance '9 m' --wall brick --wall brick --floors 1
  roombrief reckon radio --distance '45 ft' --radio thread --alarm --wall concrete
  roombrief reckon radio --distance '12 m' --radio wifi --transmit '17 dBm' --sensitivity '-88 dBm' --json`,
		flags: func(c *cobra.Command) {
			distance = quantity[q.Length](c, "distance", "", "straight from one to the other")
			c.Flags().StringArrayVar(&walls, "wall", nil, "a wall on the way that is no ordinary partition; may be repeated")
			words(c, "wall", wallNames()...)
			c.Flags().IntVar(&floors, "floors", 0, "floors between")
			c.Flags().Float64Var(&floorLoss, "floor-loss", 10, "what a floor takes, in dB: 5 joists and boards, 10 usual, 18 a slab")
			c.Flags().StringVar(&radio, "radio", "zigbee", "zigbee, thread, ble or wifi")
			words(c, "radio", "zigbee", "thread", "ble", "wifi")
			c.Flags().BoolVar(&alarm, "alarm", false, "an alarm that runs on a battery: keep 20 dB over and not 10")
			c.Flags().Float64Var(&keep, "keep", 0, "what to keep over, in dB; 0 by what it is")
			transmit = amountFlag(c, "transmit", "power", decibels, "", "transmit power; by the radio when absent")
			sensitivity = amountFlag(c, "sensitivity", "power", decibels, "", "weakest signal that is heard; by the radio when absent")
		},
		reckon: func(c *cobra.Command, u q.System) (reckoned, error) {
			r := reckoned{}
			if err := need(c, "distance"); err != nil {
				return r, err
			}
			spec, ok := site.Radios[radio]
			if !ok {
				return r, oneOf("radio", radio, []string{"ble", "thread", "wifi", "zigbee"})
			}
			link := site.Link{MHz: spec.MHz, Metres: float64(distance.v), Floors: floors, FloorLoss: floorLoss, Transmit: spec.Transmit, Sensitivity: spec.Sensitivity}
			for _, w := range walls {
				loss, ok := site.WallLoss(w)
				if !ok {
					return r, oneOf("wall", w, wallNames())
				}
				link.Walls += math.Max(0, loss-site.OrdinaryWall)
			}
			if c.Flags().Changed("transmit") {
				link.Transmit = transmit.v
			}
			if c.Flags().Changed("sensitivity") {
				link.Sensitivity = sensitivity.v
			}
			r.unless(c, "radio", "zigbee")
			r.unless(c, "transmit", "%g dBm sent", link.Transmit)
			r.unless(c, "sensitivity", "%g dBm heard", link.Sensitivity)
			if floors > 0 {
				r.unless(c, "floor-loss", "%g dB for each floor", floorLoss)
			}
			if keep == 0 {
				keep = site.UsualMargin
				if alarm {
					keep = site.AlarmMargin
				}
				r.taken = append(r.taken, fmt.Sprintf("%g dB to keep over", keep))
			}
			link.FadeMargin = keep
			return radioAnswer(r, link, u)
		},
	}
}

func wallNames() []string {
	var out []string
	for _, w := range site.Walls {
		out = append(out, w.Name)
	}
	sort.Strings(out)
	return out
}

func radioAnswer(r reckoned, link site.Link, u q.System) (reckoned, error) {
	m, err := link.Reckon()
	if err != nil {
		return r, err
	}
	r.ok = m.AfterFade >= 0
	over := q.Length(link.Metres).Show(u)
	works := fmt.Sprintf("%.0f of 100 such links work", math.Floor(100*m.Works))
	if m.Works > 0.995 {
		works = "as good as every such link works"
	}
	switch {
	case r.ok:
		r.line = fmt.Sprintf("Over %s it has %.0f dB to spare, and %.0f are wanted: %s.", over, m.Spare, link.FadeMargin, works)
	case m.Spare >= 0:
		r.line = fmt.Sprintf("Over %s it has only %.0f dB to spare, and %.0f are wanted: %s; put a part that repeats between them.", over, m.Spare, link.FadeMargin, works)
	default:
		r.line = fmt.Sprintf("Over %s it arrives %.0f dB too weak: %s; put a part that repeats between them.", over, -m.Spare, works)
	}
	r.figures = []figure{{"path_loss_db", m.PathLoss}, {"walls_db", link.Walls}, {"received_dbm", m.Received}, {"margin_db", m.Spare}, {"wanted_db", link.FadeMargin},
		{"works_probability", m.Works}}
	return r, nil
}
