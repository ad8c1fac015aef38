package main

import (
	"fmt"
	"strconv"
	"strings"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"

	"github.com/spf13/cobra"
)

// boxVolumes of switch boxes.
var boxVolumes = map[string]float64{"in3": 1, "in³": 1, "cm3": 1 / perInch, "cm³": 1 / perInch}

// boxFlags say what is in a switch box.
type boxFlags struct {
	volume                       *amount
	conductors, devices, grounds string
	clamps                       bool
	supports, edition            int
}

func (b *boxFlags) add(c *cobra.Command) {
	b.volume = amountFlag(c, "box", "volume of a box", boxVolumes, "", "volume of a switch box, for what fits into it")
	c.Flags().StringVar(&b.conductors, "conductors", "", "with --box: how many of which AWG size, as in '4x14, 2x12'")
	c.Flags().StringVar(&b.devices, "devices", "", "with --box: gangs of devices by the largest AWG size on them, as in 1x14")
	c.Flags().StringVar(&b.grounds, "grounds", "", "with --box: equipment grounds, as in 3x14")
	c.Flags().BoolVar(&b.clamps, "clamps", false, "with --box: it has clamps inside")
	c.Flags().IntVar(&b.supports, "supports", 0, "with --box: sorts of support fitting")
	c.Flags().IntVar(&b.edition, "nec", 2023, "with --box: edition of the NEC")
}

// counted reads "4x14, 2x12" as pairs of a number and an AWG size.
func counted(flag, s string) ([][2]int, error) {
	var out [][2]int
	for _, f := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ' ' }) {
		a, b, ok := strings.Cut(f, "x")
		n, err1 := strconv.Atoi(a)
		awg, err2 := strconv.Atoi(b)
		if !ok || err1 != nil || err2 != nil || n < 0 || n > 100 {
			return nil, fmt.Errorf("--%s %q can't be read; write it as 4x14 for four of 14 AWG, with commas between", flag, f)
		}
		out = append(out, [2]int{n, awg})
	}
	return out, nil
}

// perInch is the cm³ of a cubic inch.
const perInch = 16.387064

func (b *boxFlags) reckon(r reckoned, u q.System) (reckoned, error) {
	r.by = "box"
	const least3, most3 = 1.0, 500.0 // in³ of what is called a switch box
	show := func(in3 float64) string { return fmt.Sprintf("%.4g in³", in3) }
	if u == q.Metric {
		show = func(in3 float64) string { return fmt.Sprintf("%.3g cm³", in3*perInch) }
	}
	switch {
	case b.volume.v < least3 || b.volume.v > most3:
		return r, fmt.Errorf("box of %s is outside %s to %s", show(b.volume.v), show(least3), show(most3))
	case b.supports < 0 || b.supports > 10:
		return r, fmt.Errorf("supports of %d is outside 0 to 10", b.supports)
	case b.edition < 1999 || b.edition > 2026:
		return r, fmt.Errorf("edition of %d is outside 1999 to 2026", b.edition)
	}
	f := site.BoxFill{Conductors: map[int]int{}, Clamps: b.clamps, Supports: b.supports, Edition: b.edition}
	wires, err := counted("conductors", b.conductors)
	if err != nil {
		return r, err
	}
	for _, w := range wires {
		f.Conductors[w[1]] += w[0]
	}
	devices, err := counted("devices", b.devices)
	if err != nil {
		return r, err
	}
	for _, d := range devices {
		if d[0] > 0 {
			f.Devices = append(f.Devices, site.Yoke{AWG: d[1], Gangs: d[0]})
		}
	}
	grounds, err := counted("grounds", b.grounds)
	if err != nil {
		return r, err
	}
	for _, g := range grounds {
		for range g[0] {
			f.Grounds = append(f.Grounds, g[1])
		}
	}
	least, err := f.CubicInches()
	if err != nil {
		return r, err
	}
	r.ok = least <= b.volume.v+1e-9
	r.line = fmt.Sprintf("They need %s, and the box has %s: they fit.", show(least), show(b.volume.v))
	if !r.ok {
		r.line = fmt.Sprintf("They need %s, and the box has %s: take a deeper box, or leave something out of it.", show(least), show(b.volume.v))
	}
	r.figures = []figure{{"needed_in3", least}, {"box_in3", b.volume.v}}
	return r, nil
}
