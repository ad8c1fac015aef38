package site

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

func TestBulbs(t *testing.T) {
	rows := table(t, "lamp_lumens.csv")
	if len(rows) != len(Bulbs) {
		t.Fatalf("%d bulbs, want %d", len(Bulbs), len(rows))
	}
	for i, r := range rows {
		v := n(t, r, "incandescent_w", "lumens", "typical_led_w")
		if Bulbs[i] != (Bulb{v[0], v[1], v[2]}) {
			t.Errorf("%v, want %v", Bulbs[i], v)
		}
	}
}

// span reads "38-57", "189" and their like.
func span(t *testing.T, s string) (low, high float64) {
	t.Helper()
	a, b, two := strings.Cut(s, "-")
	low = number(t, a)
	if !two {
		return low, low
	}
	return low, number(t, b)
}

func TestEscapes(t *testing.T) {
	rows := table(t, "leak_flow_rates.csv")
	if len(rows) != len(Escapes) {
		t.Fatalf("%d escapes, want %d", len(Escapes), len(rows))
	}
	for i, r := range rows {
		e := Escapes[i]
		low, high := span(t, r["range_lpm"])
		if typical := number(t, strings.TrimSuffix(r["typical"], " L/min")); e.Typical != typical || e.Least != low || e.Most != high {
			t.Errorf("%s: %+v, want %s, %s", r["leak"], e, r["typical"], r["range_lpm"])
		}
		if found, ok := EscapeOf(e.Name); !ok || found != e {
			t.Errorf("%s is not found", e.Name)
		}
	}
}

func TestWalls(t *testing.T) {
	rows := table(t, "radio_wall_losses.csv")
	known := map[float64]bool{}
	for _, r := range rows {
		want, err := strconv.ParseFloat(r["loss_db"], 64)
		if err != nil {
			if r["loss_db"] != "opaque" {
				t.Errorf("%s has no figure", r["wall"])
			}
			continue
		}
		seen := false
		for _, w := range Walls {
			seen = seen || w.Loss == want
		}
		if !seen {
			t.Errorf("no wall takes %v dB as %s does", want, r["wall"])
		}
		known[want] = true
	}
	for _, w := range Walls {
		if !known[w.Loss] {
			t.Errorf("no reference for the %v dB of %s", w.Loss, w.Name)
		}
	}
	if v, ok := WallLoss("brick"); !ok || v != 8 {
		t.Errorf("brick takes %v", v)
	}
}

// Every target that the program uses stands in the reference table, and every room of the table that a home has is
// served.
func TestTargets(t *testing.T) {
	reference := map[string][]float64{}
	for _, r := range table(t, "illuminance_targets.csv") {
		if r["unit"] == "lx" {
			reference[r["room"]+"/"+r["task"]] = append(reference[r["room"]+"/"+r["task"]], number(t, r["default"]))
		}
	}
	rows := map[string]string{
		"living room/general": "living/general", "living room/reading": "living/reading", "bedroom/general": "bedroom/general",
		"kitchen/general": "kitchen/general", "kitchen/worktop": "kitchen/worktop/prep", "bathroom/general": "bathroom/general",
		"bathroom/mirror": "bathroom/grooming/mirror", "toilet/general": "toilet/general", "hall/general": "hall/corridor/general",
		"stairs/general": "stairs/general", "entrance/general": "entrance inside/general", "study/general": "study/child/general",
		"study/desk": "study/desk/reading/writing", "dining room/table": "dining/table", "utility/general": "laundry/utility/general",
		"garage/general": "garage/general", "night/floor": "night path/floor/cornea",
	}
	if len(rows) != len(Targets) {
		t.Errorf("%d targets are compared, of %d", len(rows), len(Targets))
	}
	for _, x := range Targets {
		want := reference[rows[x.Room+"/"+x.Task]]
		if len(want) == 0 {
			t.Errorf("no reference for %s, %s", x.Room, x.Task)
		}
		for _, w := range want {
			if w < x.Least || w > x.Most {
				t.Errorf("%s, %s: %v to %v lx does not hold %v lx", x.Room, x.Task, x.Least, x.Most, w)
			}
		}
		if got, ok := TargetFor(x.Room, x.Task); !ok || got != x {
			t.Errorf("%s, %s is not found", x.Room, x.Task)
		}
	}
	near(t, "stairs", StairLeast, reference["stairs/code minimum (treads)"][0], 0.03, 0)
}

func TestExtractsAreTheTable(t *testing.T) {
	rooms := map[string][]string{"bathroom": {"bathroom"}, "kitchen": {"kitchen"}, "utility": {"utility"}, "sanitary": {"toilet"},
		"bathroom/WC": {"bathroom", "toilet"}, "kitchen/laundry": {"kitchen", "utility"}}
	standards := map[string]string{"ASHRAE 62.2": "ASHRAE 62.2", "UK ADF 2021 T1.1": "UK Approved Document F 2021",
		"UK ADF 2021 T1.2": "UK Approved Document F 2021", "AU NCC 2022 HP 10.8.2": "Australia NCC 2022",
		"DE DIN 18017-3 demand": "DIN 18017-3", "US IRC M1505.4.4": "IRC M1505.4.4"}
	compared := 0
	for _, r := range table(t, "local_exhaust_rates.csv") {
		for _, room := range rooms[r["room"]] {
			want := r["value_si"]
			rate := 0.0
			if want == "" {
				ip, _, _ := strings.Cut(r["value_ip"], "/")
				rate = number(t, ip) * CFM
			} else {
				rate = number(t, want)
			}
			found := false
			for _, e := range Extracts {
				// The standards round their own figures, 25 l/s for 50 cfm, by 6 % at most.
				found = found || e.Standard == standards[r["standard"]] && e.Room == room && e.Rate > rate*0.94 && e.Rate < rate*1.06
			}
			if !found {
				t.Errorf("no extract of %v l/s for a %s by %s", rate, room, r["standard"])
			}
			compared++
		}
	}
	if compared < 19 {
		t.Errorf("%d rates compared", compared)
	}
}

func TestDraws(t *testing.T) {
	rows := table(t, "appliances.csv")
	if len(rows) != len(Draws) {
		t.Fatalf("%d appliances, want %d", len(Draws), len(rows))
	}
	for i, r := range rows {
		if never := strings.Contains(r["policy"], "never_off"); never != Draws[i].Never {
			t.Errorf("%s: %+v, want %s", r["appliance"], Draws[i], r["policy"])
		}
		low, high, _ := strings.Cut(leading(r["active_w"]), "-")
		if low == "n/a" {
			continue
		}
		if v := number(t, low); v != Draws[i].Least {
			t.Errorf("%s: from %v W, want %v", r["appliance"], Draws[i].Least, v)
		}
		if high != "" && number(t, high) > Draws[i].Most {
			t.Errorf("%s: up to %v W, want %v at least", r["appliance"], Draws[i].Most, high)
		}
	}
}

func TestInUse(t *testing.T) {
	series := map[string][]map[string]string{}
	var order []string
	for _, r := range table(t, "appliance_state.csv") {
		if series[r["sequence"]] == nil {
			order = append(order, r["sequence"])
		}
		series[r["sequence"]] = append(series[r["sequence"]], r)
	}
	for _, name := range order {
		rows := series[name]
		var watts []float64
		for _, r := range rows {
			watts = append(watts, number(t, r["power_w"]))
		}
		got, err := InUse(watts, number(t, rows[0]["threshold_w"]), int(number(t, rows[0]["window_min"])))
		if err != nil {
			t.Fatal(err)
		}
		for i, r := range rows {
			if got[i] != (r["state"] == "in_use") {
				t.Errorf("%s at %s min: in use is %v, want %s", name, r["t_min"], got[i], r["state"])
			}
		}
	}
	if _, err := InUse(nil, 0, 4); err == nil || !strings.Contains(err.Error(), "outside") {
		t.Errorf("a threshold of nothing: %v", err)
	}
}

// Every reference file is read by a test somewhere in the planner.
func TestEveryReferenceIsUsed(t *testing.T) {
	var sources strings.Builder
	for _, dir := range []string{".", "../physics"} {
		files, err := filepath.Glob(filepath.Join(dir, "*_test.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			b, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			sources.Write(b)
		}
	}
	vectors, err := filepath.Glob("../../fixtures/vectors/*.csv")
	if err != nil || len(vectors) == 0 {
		t.Fatal("no reference files", err)
	}
	for _, v := range vectors {
		if !strings.Contains(sources.String(), fmt.Sprintf("%q", filepath.Base(v))) {
			t.Errorf("no test reads %s", filepath.Base(v))
		}
	}
}

// leading is the figure or span at the start of a cell, "n/a" for none.
func leading(s string) string {
	end := strings.IndexFunc(s, func(c rune) bool { return !strings.ContainsRune("0123456789.-", c) })
	if end >= 0 {
		s = s[:end]
	}
	if s == "" {
		return "n/a"
	}
	return s
}
