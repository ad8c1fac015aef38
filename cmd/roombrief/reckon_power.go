package main

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/site"

	"github.com/spf13/cobra"
)

func cellNames() []string {
	var out []string
	for n := range physics.Cells {
		out = append(out, n)
	}
	sort.Strings(out)
	return out
}

func batteryCalculator() calculator {
	var cell, radio, partID string
	var count int
	var reports, usable, self float64
	var sleep, charge, holds *amount
	return calculator{
		name: "battery", short: "How long cells last, from what a device reports",
		long: `What a device draws at rest, what each report takes, and what the cell loses by itself. With
--part the catalogue's own life of a part at usual use, and what reports do to it.
Cells: ` + strings.Join(cellNames(), ", ") + `.`,
		example: `  roombrief reckon battery --cell CR2032 --reports 200
  roombrief reckon battery --cell AA --cells 2 --reports 288 --radio wifi --sleep '20 uA'
  roombrief reckon battery --part door-zigbee --reports 400`,
		flags: func(c *cobra.Command) {
			c.Flags().StringVar(&cell, "cell", "CR2032", "size of the cell")
			c.Flags().IntVar(&count, "cells", 1, "how many, one after the other")
			c.Flags().StringVar(&partID, "part", "", "a part of the catalogue, in place of the others")
			words(c, "cell", cellNames()...)
			_ = c.RegisterFlagCompletionFunc("part", partIDs)
			c.Flags().Float64Var(&reports, "reports", 100, "reports a day")
			c.Flags().StringVar(&radio, "radio", "zigbee", "zigbee, thread, ble or wifi: what a report takes")
			words(c, "radio", "zigbee", "thread", "ble", "wifi")
			charge = amountFlag(c, "charge", "charge", charges, "", "what a report takes; by the radio when absent")
			sleep = amountFlag(c, "sleep", "current", currents, "3 uA", "current at rest")
			holds = amountFlag(c, "holds", "charge of a cell", capacity, "", "what a cell holds; by its size when absent")
			c.Flags().Float64Var(&usable, "usable", physics.Usable, "part of it that can be used")
			c.Flags().Float64Var(&self, "self-discharge", 0, "part that it loses a year by itself; by its size when absent")
		},
		reckon: func(c *cobra.Command, u q.System) (reckoned, error) {
			if partID != "" {
				for _, f := range []string{"cell", "cells", "radio", "charge", "sleep", "holds", "usable", "self-discharge"} {
					if c.Flags().Changed(f) {
						return reckoned{}, fmt.Errorf("--part brings its own figures: leave --%s out", f)
					}
				}
				return partLife(c, partID, reports)
			}
			r := reckoned{}
			kept, ok := physics.Cells[cell]
			if !ok {
				return r, oneOf("cell", cell, cellNames())
			}
			each, ok := physics.Charge[radio]
			if !ok {
				return r, oneOf("radio", radio, []string{"ble", "thread", "wifi", "zigbee"})
			}
			if c.Flags().Changed("charge") {
				each = charge.v
			}
			if c.Flags().Changed("holds") {
				kept.Capacity = holds.v
			}
			if c.Flags().Changed("self-discharge") {
				kept.SelfLoss = self
			}
			if count < 1 || count > 12 {
				return r, fmt.Errorf("cells of %d is outside 1 to 12", count)
			}
			r.unless(c, "cell", "a %s", cell)
			r.unless(c, "reports", "100 reports a day")
			r.unless(c, "charge", "%g µC for each", each)
			r.unless(c, "sleep", "3 µA at rest")
			r.unless(c, "holds", "%g mAh", kept.Capacity)
			r.unless(c, "usable", "%g of it usable, %g in the cold", usable, physics.UsableLeast)
			drain := site.Drain{Capacity: kept.Capacity, Usable: usable, SelfLoss: kept.SelfLoss, Sleep: sleep.v, Events: []site.Event{{Charge: each, Daily: reports}}}
			return batteryAnswer(r, drain, cell, count)
		},
	}
}

func batteryAnswer(r reckoned, d site.Drain, cell string, count int) (reckoned, error) {
	best, err := d.Life()
	if err != nil {
		return r, err
	}
	d.Usable = math.Min(d.Usable, physics.UsableLeast)
	least, err := d.Life()
	if err != nil {
		return r, err
	}
	r.ok = least.Claim >= 0.5
	r.line = fmt.Sprintf("%d × %s lasts %s: %s µA on average, of which reports take %s.", count, cell, lasting(least.Claim, best.Claim), short(best.Current), short(best.EventCurrent))
	if !r.ok {
		r.line = strings.TrimSuffix(r.line, ".") + "; take mains power there."
	}
	r.figures = []figure{{"life_years", best.Claim}, {"life_least_years", least.Claim}, {"life_hours", best.Hours}, {"current_ua", best.Current}, {"reports_ua", best.EventCurrent},
		{"self_discharge_ua", best.SelfCurrent}, {"cells_a_year", float64(count) / best.Claim}}
	return r, nil
}

// short is a figure of two digits, or all of its whole ones.
func short(v float64) string {
	if v >= 100 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.2g", v)
}

func lasting(a, b float64) string {
	if a < 0.95 {
		return fmt.Sprintf("%.1f to %.1f months", 12*a, 12*b)
	}
	if a >= 10 {
		return "10 years, which is as long as it keeps on the shelf"
	}
	return fmt.Sprintf("%.1f to %.1f years", a, b)
}

func partOf(id string) (catalogue.Part, error) {
	part, ok := fixtures.Catalogue().Part(id)
	if ok {
		return part, nil
	}
	if near := nearestPart(fixtures.Catalogue(), id); near != "" {
		return part, fmt.Errorf("no part %q; did you mean %q?", id, near)
	}
	return part, fmt.Errorf("no part %q; roombrief parts lists them", id)
}

func partLife(c *cobra.Command, id string, reports float64) (reckoned, error) {
	r := reckoned{}
	part, err := partOf(id)
	if err != nil {
		return r, err
	}
	r.unless(c, "reports", "100 reports a day")
	b, ok, err := physics.BatteryOf(part, reports)
	if err != nil {
		return r, err
	}
	if !ok {
		return r, fmt.Errorf("%s has no cells that are known", id)
	}
	r.ok, r.line, r.taken = b.OK, b.Say, append(r.taken, b.Assumed...)
	r.figures = []figure{{"life_years", b.Years}, {"life_least_years", b.Least}, {"life_most_years", b.Most}, {"cells_a_year", b.CellsAYear}}
	return r, nil
}

func loadCalculator() calculator {
	var load *given[q.Power, *q.Power]
	var rating *given[q.Current, *q.Current]
	var mains *given[q.Voltage, *q.Voltage]
	var pf float64
	var kind, rule, partID string
	var box boxFlags
	return calculator{
		name: "load", short: "Whether an outlet, a relay or a part of the catalogue may carry a load",
		long: `Against a rating by one of the rules: ` + strings.Join(ruleNames(), ", ") + `; or, with --kind
alone, against a relay whose rating is for resistive loads; or against a part of the catalogue.
With --box, whether conductors and devices fit into a box by the NEC.`,
		example: `  roombrief reckon load --load '1800 W' --rating '15 A' --mains '120 V' --rule continuous
  roombrief reckon load --load '150 W' --rating '10 A' --kind motor
  roombrief reckon load --load '15 W' --kind led --part dimmer-1-neutral-zigbee
  roombrief reckon load --box '18 in3' --conductors '4x14' --devices '1x14' --grounds 2x14 --clamps`,
		flags: func(c *cobra.Command) {
			load = quantity[q.Power](c, "load", "", "power of it all")
			rating = quantity[q.Current](c, "rating", "", "of the outlet, the circuit or the relay")
			mains = quantity[q.Voltage](c, "mains", "230 V", "of the supply")
			c.Flags().Float64Var(&pf, "power-factor", 1, "1 for heat, about 0.6 for small motors and many LED drivers")
			c.Flags().StringVar(&rule, "rule", "", "how much of the rating may be used")
			c.Flags().StringVar(&kind, "kind", "", "led, incandescent, motor or resistive")
			c.Flags().StringVar(&partID, "part", "", "a part of the catalogue")
			box.add(c)
			words(c, "rule", "continuous", "cord", "fastened", "short", "fuse", "plug16")
			words(c, "kind", "led", "incandescent", "motor", "resistive")
			_ = c.RegisterFlagCompletionFunc("part", partIDs)
		},
		reckon: func(c *cobra.Command, u q.System) (reckoned, error) {
			r := reckoned{caution: "mains"}
			if c.Flags().Changed("box") {
				return box.reckon(r, u)
			}
			if err := need(c, "load"); err != nil {
				return r, err
			}
			r.unless(c, "mains", "mains of 230 V")
			if partID != "" {
				return partLoad(r, partID, load.v, mains.v, kind)
			}
			if err := need(c, "rating"); err != nil {
				return r, err
			}
			r.unless(c, "power-factor", "a power factor of 1")
			if kind != "" && rule != "" {
				return r, fmt.Errorf("--kind is for relays and --rule for outlets: give one of them")
			}
			if kind != "" {
				return relayAnswer(r, rating.v, kind, mains.v, load.v, pf)
			}
			r.unless(c, "rule", "all of the rating usable")
			return outletAnswer(r, rating.v, rule, mains.v, load.v, pf)
		},
	}
}

// loadRules by their names here.
var loadRules = map[string]site.LoadRule{"continuous": site.Continuous, "cord": site.CordSingle, "fastened": site.FastenedShare, "short": site.Intermittent,
	"fuse": site.PlugFuse, "plug16": site.Plug16, "": site.Intermittent}

func ruleNames() []string {
	return []string{"continuous (three hours and more, 80 %)", "cord (on a cord, 80 %)", "fastened (fixed on a shared circuit, 50 %)", "short (all of it)", "fuse (plug with a fuse)", "plug16 (16 A plug)"}
}

func outletAnswer(r reckoned, rating q.Current, rule string, mains q.Voltage, load q.Power, pf float64) (reckoned, error) {
	what, ok := loadRules[rule]
	if !ok {
		return r, fmt.Errorf("no rule %q; there are continuous, cord, fastened, short, fuse and plug16", rule)
	}
	l, err := site.Load(float64(mains), pf, float64(load), float64(rating), what)
	if err != nil {
		return r, err
	}
	r.ok = l.OK
	most := q.Power(l.LimitW).Show(q.Metric)
	r.line = fmt.Sprintf("%s draws %.2f A, inside the %.4g A (%s) that may be used.", load.Show(q.Metric), l.Current, l.Limit, most)
	if !l.OK {
		r.line = fmt.Sprintf("%s draws %.2f A, more than the %.4g A (%s) that may be used: split the load, or have a circuit of its own put in.", load.Show(q.Metric), l.Current, l.Limit, most)
	}
	r.figures = []figure{{"current_a", l.Current}, {"limit_a", l.Limit}, {"limit_w", l.LimitW}}
	return r, nil
}

func relayAnswer(r reckoned, rating q.Current, kind string, mains q.Voltage, load q.Power, pf float64) (reckoned, error) {
	as := kind
	if kind == "led" {
		as = "incandescent"
		r.taken = append(r.taken, "LED lamps counted like incandescent ones, for their inrush")
	}
	steady, inrush, ok, err := site.Relay(float64(rating), as, float64(mains), float64(load), pf)
	if err != nil {
		return r, err
	}
	r.ok = ok
	r.line = fmt.Sprintf("%s of a %s load draws %.2f A and counts as %.2f A, inside the relay's resistive %s.", load.Show(q.Metric), kind, steady, inrush, rating.Show(q.Metric))
	if !ok {
		r.line = fmt.Sprintf("%s of a %s load draws %.2f A and counts as %.2f A, more than the relay's resistive %s: take one that is rated for such a load, or put a contactor between.",
			load.Show(q.Metric), kind, steady, inrush, rating.Show(q.Metric))
	}
	r.figures = []figure{{"current_a", steady}, {"inrush_a", inrush}, {"most_w", float64(rating) / site.Inrush[as] * float64(mains) * pf}}
	return r, nil
}

func partLoad(r reckoned, id string, load q.Power, mains q.Voltage, kind string) (reckoned, error) {
	part, err := partOf(id)
	if err != nil {
		return r, err
	}
	if kind == "" {
		kind = "led"
		r.taken = append(r.taken, "LED lamps")
	}
	if err := oneOf("kind of load", kind, []string{"led", "motor", "resistive"}); err != nil {
		return r, err
	}
	p := &model.Project{Home: model.Home{Mains: model.Mains{Voltage: mains}}}
	c, err := physics.Carries(p, part, load, catalogue.LoadKind(kind))
	if err != nil {
		return r, err
	}
	r.ok, r.line, r.taken = c.OK, c.Say, append(r.taken, c.Assumed...)
	r.figures = []figure{{"current_a", c.Current}, {"most_w", float64(c.Most)}}
	return r, nil
}
