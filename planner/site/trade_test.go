package site

import (
	"strconv"
	"strings"
	"testing"
)

// n reads the named columns of a row as figures; an empty one is 0.
func n(t *testing.T, r map[string]string, names ...string) []float64 {
	t.Helper()
	out := make([]float64, len(names))
	for i, name := range names {
		s, ok := r[name]
		if !ok {
			t.Fatalf("no column %s in %v", name, r)
		}
		if s != "" {
			out[i] = number(t, s)
		}
	}
	return out
}

func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func TestLumenMethod(t *testing.T) {
	for _, r := range table(t, "lumen_method.csv") {
		v := n(t, r, "L_m", "W_m", "H_m", "workplane_m", "suspension_m", "F_lm", "lamps_per_luminaire", "UF", "MF", "E_lx")
		got := must[Lit](t)(Lumen{v[0], v[1], v[2], v[3], v[4], v[5], int(v[6]), v[7], v[8]}.Luminaires(v[9]))
		w := n(t, r, "hm_m", "K", "RCR", "N_exact", "N_int", "E_achieved_lx")
		near(t, r["room"]+": hm", got.Mounting, w[0], 1e-6, 0)
		near(t, r["room"]+": K", got.RoomIndex, w[1], 1e-6, 0)
		near(t, r["room"]+": RCR", got.Cavity, w[2], 1e-6, 0)
		near(t, r["room"]+": N", got.Exact, w[3], 1e-6, 0)
		near(t, r["room"]+": whole N", float64(got.Luminaires), w[4], 0, 0)
		near(t, r["room"]+": E", got.Achieved, w[5], 1e-6, 0)
	}
}

func TestPointAndPerception(t *testing.T) {
	for _, r := range table(t, "point_illuminance.csv") {
		v := n(t, r, "flux_lm", "height_m", "offset_m", "E_iso_lx", "E_lambert_lx")
		iso, lambert, err := Point(v[0], v[1], v[2])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "iso", iso, v[3], 1e-5, 0)
		near(t, "lambert", lambert, v[4], 1e-5, 0)
	}
	for _, r := range table(t, "dimming_perception.csv") {
		v := n(t, r, "measured_fraction", "perceived_fraction")
		near(t, "perceived", must[float64](t)(Perceived(v[0])), v[1], 0, 1e-6)
	}
	for _, r := range table(t, "cct_mired.csv") {
		v := n(t, r, "cct_k", "mired")
		near(t, "mired", must[float64](t)(Mired(v[0])), v[1], 0, 5e-5)
	}
}

func TestRadio(t *testing.T) {
	for _, r := range table(t, "radio_p1238_legacy.csv") {
		v := n(t, r, "f_mhz", "N", "d_m", "Lf_db", "L_db")
		near(t, "path loss", must[float64](t)(PathLoss(v[0], v[1], v[2], v[3])), v[4], 0, 1e-5)
	}
	for _, r := range table(t, "radio_p1238_11.csv") {
		v := n(t, r, "f_ghz", "d_m", "alpha", "beta", "gamma", "L_db")
		near(t, "general", must[float64](t)(PathLossGeneral(v[0], v[1], v[2], v[3], v[4])), v[5], 0, 1e-5)
	}
	for _, r := range table(t, "radio_fspl.csv") {
		v := n(t, r, "f_mhz", "d_m", "fspl_db")
		near(t, "free space", must[float64](t)(FreeSpace(v[0], v[1])), v[2], 0, 1e-5)
	}
	for _, r := range table(t, "radio_link_margin.csv") {
		v := n(t, r, "f_mhz", "d_m", "floors", "per_floor_db", "walls_sum_db", "ptx_dbm", "gt_dbi", "gr_dbi", "sens_dbm", "fade_margin_db")
		m := must[Margin](t)(Link{v[0], v[1], int(v[2]), v[3], v[4], v[5], v[6], v[7], v[8], v[9], 28}.Reckon())
		w := n(t, r, "L_db", "prx_dbm", "margin_db", "margin_after_fade_db")
		near(t, r["id"]+": L", m.PathLoss, w[0], 0, 1e-3)
		near(t, r["id"]+": prx", m.Received, w[1], 0, 1e-3)
		near(t, r["id"]+": margin", m.Spare, w[2], 0, 1e-3)
		near(t, r["id"]+": after fade", m.AfterFade, w[3], 0, 1e-3)
	}
	for _, r := range table(t, "radio_coverage_probability.csv") {
		v := n(t, r, "margin_db", "sigma_db", "probability")
		near(t, "coverage", Coverage(v[0], v[1]), v[2], 0, 1e-5)
	}
	for _, r := range table(t, "radio_154_airtime.csv") {
		v := n(t, r, "mpdu_bytes", "frame_us", "frame_plus_ack_us", "mean_transaction_us")
		frame, acked, all, err := Airtime(int(v[0]))
		if err != nil || frame != v[1] || acked != v[2] || all != v[3] {
			t.Errorf("%v: %v %v %v %v", r, frame, acked, all, err)
		}
	}
}

func TestLoads(t *testing.T) {
	for _, r := range table(t, "load_vs_rating.csv") {
		v := n(t, r, "V", "pf", "load_w", "rating_a", "I_a", "limit_a", "limit_w")
		l := must[Loaded](t)(Load(v[0], v[1], v[2], v[3], LoadRule(r["rule"])))
		near(t, r["id"]+": I", l.Current, v[4], 0, 1e-6)
		near(t, r["id"]+": limit", l.Limit, v[5], 1e-12, 0)
		near(t, r["id"]+": limit W", l.LimitW, v[6], 0, 5e-4)
		if l.OK != (r["result"] == "ok") {
			t.Errorf("%s: %v, want %s", r["id"], l.OK, r["result"])
		}
	}
	for _, r := range table(t, "relay_derating.csv") {
		v := n(t, r, "relay_resistive_a", "V", "W", "pf", "I_steady_a", "I_inrush_a")
		steady, inrush, ok, err := Relay(v[0], r["load_type"], v[1], v[2], v[3])
		if err != nil {
			t.Fatal(err)
		}
		near(t, r["id"]+": steady", steady, v[4], 0, 1e-6)
		near(t, r["id"]+": inrush", inrush, v[5], 0, 1e-6)
		if ok != (r["result"] == "ok") {
			t.Errorf("%s: %v, want %s", r["id"], ok, r["result"])
		}
	}
}

func TestBoxFill(t *testing.T) {
	for _, r := range table(t, "box_fill_table.csv") {
		v := n(t, r, "awg", "in3")
		near(t, r["awg"]+": conductor", must[float64](t)(Conductor(int(v[0]))), v[1], 0, 0)
	}
	for _, r := range table(t, "box_fill.csv") {
		v := n(t, r, "n14", "n12", "n10", "internal_clamps", "support_types", "edition", "expected_in3", "box_in3")
		f := BoxFill{Conductors: map[int]int{14: int(v[0]), 12: int(v[1]), 10: int(v[2])}, Clamps: v[3] > 0, Supports: int(v[4]), Edition: int(v[5])}
		for _, d := range strings.FieldsFunc(r["devices"], func(c rune) bool { return c == '+' }) {
			awg, gangs, _ := strings.Cut(d, "x")
			a, _ := strconv.Atoi(awg)
			g, _ := strconv.Atoi(gangs)
			f.Devices = append(f.Devices, Yoke{a, g})
		}
		for _, g := range strings.Fields(r["egc_awg_list"]) {
			a, _ := strconv.Atoi(g)
			f.Grounds = append(f.Grounds, a)
		}
		got := must[float64](t)(f.CubicInches())
		near(t, r["id"]+": in all", got, v[6], 0, 1e-9)
		if (got <= v[7]) != (r["result"] == "ok") {
			t.Errorf("%s: %v in %v, want %s", r["id"], got, v[7], r["result"])
		}
	}
}

func TestWetZones(t *testing.T) {
	for _, r := range table(t, "bathroom_zones.csv") {
		v := n(t, r, "height_m", "dist_m", "highest_outlet_m", "basin")
		z := must[WetZone](t)(ZoneOf(r["position"] == "in", r["position"] == "over", v[3] == 1, v[0], v[1], v[2]))
		want := r["min_ip"]
		if want == "general rules" {
			want = ""
		}
		if z.Zone != r["zone"] || z.Ingress != want {
			t.Errorf("%s: %+v, want zone %s %s", r["id"], z, r["zone"], r["min_ip"])
		}
	}
}

func TestBatteryLife(t *testing.T) {
	for _, r := range table(t, "battery_life.csv") {
		v := n(t, r, "capacity_mAh", "usable_fraction", "self_discharge_per_year", "sleep_uA")
		d := Drain{Capacity: v[0], Usable: v[1], SelfLoss: v[2], Sleep: v[3]}
		for _, e := range strings.FieldsFunc(r["events_uC_x_per_day"], func(c rune) bool { return c == ';' }) {
			q, times, _ := strings.Cut(e, "x")
			d.Events = append(d.Events, Event{number(t, q), number(t, times)})
		}
		l := must[Life](t)(d.Life())
		w := n(t, r, "I_events_uA", "I_selfdis_uA", "I_total_uA", "life_h", "life_years")
		near(t, r["id"]+": events", l.EventCurrent, w[0], 1e-5, 5e-7)
		near(t, r["id"]+": self", l.SelfCurrent, w[1], 1e-5, 5e-7)
		near(t, r["id"]+": total", l.Current, w[2], 1e-5, 0)
		near(t, r["id"]+": hours", l.Hours, w[3], 1e-5, 0)
		near(t, r["id"]+": years", l.Years, w[4], 1e-5, 5e-6)
		if l.Claim > 10 {
			t.Errorf("%s claims %v years", r["id"], l.Claim)
		}
	}
}

func TestWater(t *testing.T) {
	for _, r := range table(t, "leak_volume.csv") {
		v := n(t, r, "q_lpm", "t_detect_s", "t_report_s", "t_command_s", "t_close_s", "volume_l")
		near(t, r["id"]+": in all", must[float64](t)(LeakVolume(v[0], v[1], v[2], v[3], v[4])), v[5], 0, 1e-6)
	}
	for _, r := range table(t, "leak_orifice.csv") {
		v := n(t, r, "diameter_in", "pressure_psi", "Q_lpm", "published_gpd", "gal_per_day")
		got := must[float64](t)(Orifice(v[0]*inch, v[1]*psi))
		near(t, "orifice", got, v[2], 1e-5, 0)
		if v[3] > 0 {
			near(t, "published orifice", got*1440/3.785412, v[3], 0.05, 0)
		}
	}
	for _, r := range table(t, "leak_drip.csv") {
		v := n(t, r, "ml_per_drip", "drips_per_min", "litres_per_day")
		near(t, "drip", must[float64](t)(Drip(v[0], v[1])), v[2], 1e-6, 0)
	}
	for _, r := range table(t, "leak_puddle_time.csv") {
		v := n(t, r, "contact_angle_deg", "q_lpm", "r_m", "h_mm", "volume_l", "t_s")
		h, l, s, err := Puddle(v[0], v[1], v[2])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "thickness", h, v[3], 1e-4, 0)
		near(t, "volume", l, v[4], 1e-4, 0)
		near(t, "time", s, v[5], 1e-4, 0)
	}
	for _, r := range table(t, "water_hammer.csv") {
		v := n(t, r, "v_ms", "L_m", "a_ms", "t_close_s", "dp_bar")
		bar, rapid, err := Hammer(v[0], v[1], v[2], v[3])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "hammer", bar, v[4], 1e-5, 0)
		if rapid != (r["regime"] == "rapid") {
			t.Errorf("%v: rapid is %v", r, rapid)
		}
	}
}

func TestSensorCover(t *testing.T) {
	for _, r := range table(t, "pir_coverage.csv") {
		v := n(t, r, "h_or_range_m", "fov_deg", "radius_m", "area_m2")
		if r["kind"] == "wall_sector" {
			near(t, "sector", must[float64](t)(WallSensor(v[0], v[1])), v[3], 1e-6, 0)
			continue
		}
		radius, area, err := CeilingSensor(v[0], v[1])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "radius", radius, v[2], 1e-6, 0)
		near(t, "area", area, v[3], 1e-6, 0)
	}
}

func TestVentilationRates(t *testing.T) {
	for _, r := range table(t, "hvi_bath_fan.csv") {
		v := n(t, r, "area_ft2", "toilets", "showers", "tubs", "jetted_tubs", "expected_cfm")
		near(t, "bath fan", must[float64](t)(BathFan(v[0], int(v[1]), int(v[2]), int(v[3]), int(v[4]))), v[5], 0, 1e-9)
	}
	for _, r := range table(t, "whole_dwelling_ventilation.csv") {
		v := n(t, r, "area", "bedrooms", "expected_q")
		switch r["rule"] {
		case "62.2_whole_IP":
			near(t, "62.2 inch-pound", must[float64](t)(WholeDwellingCFM(v[0], int(v[1]))), v[2], 0, 1e-9)
		case "62.2_whole_SI":
			near(t, "62.2", must[float64](t)(WholeDwelling(v[0], int(v[1]))), v[2], 0, 1e-9)
		case "UK_ADF2021_whole":
			near(t, "UK", must[float64](t)(WholeDwellingUK(v[0], int(v[1]))), v[2], 0, 1e-9)
		default:
			t.Errorf("nothing checks %s", r["rule"])
		}
	}
}

func TestTradeFiguresOutOfRange(t *testing.T) {
	for i, err := range []error{
		second(Lumen{}.Luminaires(100)), second(Perceived(2)), second(Mired(10)), second(PathLoss(2450, 28, 0.1, 0)),
		second(FreeSpace(0, 1)), second(Link{}.Reckon()), second(Load(500, 1, 10, 10, Continuous)), second(Drain{}.Life()),
		second(LeakVolume(-1, 0, 0, 0, 0)), second(Orifice(1, 1e5)), second(Drip(0, 1)), second(WallSensor(0, 90)), second(BathFan(0, 0, 0, 0, 0)),
		second(WholeDwelling(1, 1)), second(ZoneOf(false, false, true, 9, 0, 0)),
	} {
		if err == nil || !strings.Contains(err.Error(), "outside") {
			t.Errorf("case %d: no range named: %v", i, err)
		}
	}
	for i, err := range []error{second(Conductor(13)), second(Load(120, 1, 1, 1, "none")), second(BoxFill{Grounds: []int{13}}.CubicInches())} {
		if err == nil || !strings.Contains(err.Error(), "no ") {
			t.Errorf("case %d: %v", i, err)
		}
	}
}
