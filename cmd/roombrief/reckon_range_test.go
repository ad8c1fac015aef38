package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// reckon runs one of the calculators.
func reckon(t *testing.T, line string) (code int, out, fault string) {
	t.Helper()
	var o, f bytes.Buffer
	code = run(context.Background(), process{args: append([]string{"reckon"}, shellWords(line)...), in: strings.NewReader(""), out: &o, err: &f,
		env: func(k string) string { return map[string]string{"SOURCE_DATE_EPOCH": "1774958400"}[k] }})
	return code, o.String(), f.String()
}

// What is out of the range of a formula is refused with status 2, and the range is named; nothing is answered.
func TestReckonNamesItsRanges(t *testing.T) {
	const room, lamps, wires = "--room '2 m x 2 m x 2.4 m' ", "--lamps 3 --flux '470 lm' ", "--box '18 in3' --conductors 4x14 "
	for _, c := range []struct{ line, names string }{
		{"air " + room + "--fan '5000 l/s'", "airflow of 5000 l/s is outside 0.1 to 1000 l/s"},
		{"air " + room + "--fan '5000 cfm'", "is outside 0.1 to 1000 l/s"},
		{"air --room '400 m x 4 m x 2 m' --fan '60 l/s'", "room volume of 3200 m³ is outside 1 to 2000 m³"},
		{"air " + room + "--fan '21 l/s' --ceiling '5 %'", "ceiling of 0.05 is outside 0.2 to 1"},
		{"air " + room + "--fan '21 l/s' --within 40h", "within of 40 h is outside 0 min to 24 h"},
		{"air " + room + "--fan '21 l/s' --temperature '140 F'", "room temperature of 60 °C is outside 0 to 40 °C"},
		{"air " + room + "--fan '21 l/s' --humidity '140 %'", "relative humidity of 1.4 is outside 0 to 1"},
		{"air " + room + "--fan '21 l/s' --vapour '30 kg/h' --for 1h", "source of 30 kg/h is outside 0 to 20 kg/h"},
		{"air " + room + "--fan '21 l/s' --shower 30h", "source time of 1800 min is outside 0 to 1440 min"},
		{"air " + room + "--fan '21 l/s' --hold 60", "capacity of 60 is outside 0 to 30"},
		{"air " + room + "--fan '21 l/s' --outside '-90 C'", "outside temperature of -90 °C is outside -60 to 60 °C"},
		{"air " + room + "--fan '21 l/s' --outside '2 C' --outside-humidity '120 %'", "relative humidity of 1.2 is outside 0 to 1"},
		{"light " + room + lamps + "--level '130 %'", "fraction of full light of 1.3 is outside 0 to 1"},
		{"light " + room + "--lamps 0 --flux '470 lm'", "lamps of 0 is outside 1 to 500"},
		{"light " + room + lamps + "--utilisation 2", "utilisation of 2 is outside 0.1 to 1"},
		{"light " + room + lamps + "--maintenance 0.1", "maintenance of 0.1 is outside 0.5 to 1"},
		{"light --room '300 ft x 6 ft x 8 ft' " + lamps, "length of 91.44 m is outside 0.5 to 50 m"},
		{"light " + room + lamps + "--plane '3 m'", "height of the lamps over the plane of -0.6 m is outside 0.3 to 10 m"},
		{"light " + room + "--power '9000 W'", "flux of 810000 lm is outside 1 to 100000 lm"},
		{"sun --place '91, 0'", "between -90 and 90"},
		{"sun --place '53, 200'", "between -180 and 180"},
		{"sun --place '53, 0' --date 2300-01-01", "years 1901 to 2099"},
		{"radio --distance '1200 m'", "distance of 1200 m is outside 0 to 200 m"},
		{"radio --distance '2000 ft'", "is outside 0 to 200 m"},
		{"radio --distance '9 m' --floors 30", "floors of 30 is outside 0 to 10"},
		{"radio --distance '9 m' --floors 1 --floor-loss 300", "floor loss of 300 dB is outside 0 to 100 dB"},
		{"radio --distance '9 m' --keep 400", "fade margin of 400 dB is outside 0 to 60 dB"},
		{"radio --distance '9 m' --transmit '90 dBm'", "transmit power of 90 dBm is outside -40 to 40 dBm"},
		{"radio --distance '9 m' --sensitivity '20 dBm'", "sensitivity of 20 dBm is outside -150 to -20 dBm"},
		{"battery --cells 400", "cells of 400 is outside 1 to 12"},
		{"battery --reports 1e9", "events of 1000000000 a day is outside 0 to 1000000 a day"},
		{"battery --sleep '900 mA'", "sleep current of 900000 µA is outside 0 to 100000 µA"},
		{"battery --holds '1 mAh'", "capacity of 1 mAh is outside 10 to 50000 mAh"},
		{"battery --self-discharge 3", "self-discharge of 3 a year is outside 0 to 0.3 a year"},
		{"battery --self-discharge -0.5", "self-discharge of -0.5 a year is outside 0 to 0.3 a year"},
		{"battery --charge '-1 uC'", "charge of -1 µC is outside 0 to 10000000 µC"},
		{"battery --usable 3", "usable part of 3 is outside 0.3 to 1"},
		{"load --load '2 W' --rating '500 A'", "rating of 500 A is outside 0.1 to 125 A"},
		{"load --load '2 W' --rating '10 A' --mains '12 V'", "voltage of 12 V is outside 90 to 260 V"},
		{"load --load '2 W' --rating '10 A' --power-factor 3", "power factor of 3 is outside 0.3 to 1"},
		{"load --box '-3 in3' --conductors 4x14", "box of -3 in³ is outside 1 in³ to 500 in³"},
		{"load --box '99999 cm3' --conductors 4x14", "is outside 16.4 cm³ to"},
		{"load " + wires + "--nec 1900", "edition of 1900 is outside 1999 to 2026"},
		{"load " + wires + "--supports -3", "supports of -3 is outside 0 to 10"},
		{"water --flow '9000 l/min'", "flow of 9000 l/min is outside 0.0001 to 500 l/min"},
		{"water --flow '900 gpm'", "is outside 0.0001 to 500 l/min"},
		{"water --flow '12 l/min' --told 900h", "report of 3240000 s is outside 0 to 1000000 s"},
		{"water --hole '300 mm'", "outside 0.0001 to 0.1 m"},
		{"water --hole '3 mm' --pressure '90 bar'", "pressure of 9000000 Pa is outside 1000 to 2000000 Pa"},
		{"water --flow '10 l/min' --pipe '9000 m'", "length of 9000 m is outside 0.5 to 500 m"},
		{"water --flow '10 l/min' --probe '300 m'", "distance of 300 m is outside 0.01 to 20 m"},
	} {
		code, out, fault := reckon(t, c.line)
		if code != badCall || !strings.Contains(fault, c.names) || out != "" {
			t.Errorf("%s: status %d, %q %q, want %q", c.line, code, out, fault, c.names)
		}
	}
}

// Each calculator takes both systems, shows the one that it is asked in or for, and gives the same figures in JSON whichever it is.
func TestReckonTakesBothSystems(t *testing.T) {
	for _, c := range []struct{ metric, us, showsMetric, showsUS string }{
		{"air --room '3.048 m x 2.1336 m x 2.4384 m' --fan '23.5973725 l/s' --temperature '20 C' --shower 8m", "air --room '10 ft x 7 ft x 8 ft' --fan '50 cfm' --temperature '68 F' --shower 8m", "l/s", "50 cfm"},
		{"light --room '3.6576 m x 3.048 m x 2.4384 m' --lamps 6 --flux '470 lm' --plane '0.9144 m' --target '107.639 lx'", "light --room '12 ft x 10 ft x 8 ft' --lamps 6 --flux '470 lm' --plane '3 ft' --target '10 fc'", " lx", " fc"},
		{"sun --place '53.96, -1.08' --units metric", "sun --place '53.96, -1.08' --units us", "sun rises", "sun rises"},
		{"radio --distance '9.144 m'", "radio --distance '30 ft'", " m it has", "30 ft"},
		{"battery --units metric", "battery --units us", "years", "years"},
		{"load --load '1800 W' --rating '15 A' --mains '120 V' --units metric", "load --load '1.8 kW' --rating '15 A' --mains '120 V' --units us", "15 A", "15 A"},
		{"load --box '294.967152 cm3' --conductors 4x14", "load --box '18 in3' --conductors 4x14", "cm³", "18 in³"},
		{"water --flow '9.46353 l/min' --told 20s --probe '0.3048 m'", "water --flow '2.5 gpm' --told 20s --probe '1 ft'", " l ", " gal"},
	} {
		figures := map[bool]map[string]*float64{}
		for us, line := range map[bool]string{false: c.metric, true: c.us} {
			want := c.showsMetric
			if us {
				want = c.showsUS
			}
			code, out, fault := reckon(t, line)
			if code == badCall || !strings.Contains(out, want) {
				t.Errorf("%s: status %d, lacks %q: %s%s", line, code, want, out, fault)
			}
			again, raw, _ := reckon(t, line+" --json --explain")
			var got reckonedJSON
			if err := json.Unmarshal([]byte(raw), &got); err != nil || again != code {
				t.Fatalf("%s: status %d and %d, %v", line, code, again, err)
			}
			if name, _, _ := strings.Cut(line, " "); got.Reckoned != name || got.Answer == "" || got.OK != (code == 0) || len(got.Figures) == 0 || len(got.Formulas) == 0 || got.Taken == nil {
				t.Errorf("%s: %+v", line, got)
			}
			for _, f := range got.Formulas {
				if f.Source == "" || f.Range == "" || len(f.Formula) == 0 {
					t.Errorf("%s: %q lacks its source, range or formula", line, f.Name)
				}
			}
			figures[us] = got.Figures
		}
		for name, v := range figures[false] {
			w := figures[true][name]
			if (v == nil) != (w == nil) || v != nil && math.Abs(*v-*w) > 2e-4*(1+math.Abs(*v)) {
				t.Errorf("%s of %s differs from that of %s", name, c.metric, c.us)
			}
		}
	}
}
