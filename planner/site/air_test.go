package site

import (
	"math"
	"strings"
	"testing"
)

// near fails when got is further from want than a relative or an absolute tolerance allows.
func near(t *testing.T, what string, got, want, rel, abs float64) {
	t.Helper()
	record(t, what, got, want)
	if math.IsNaN(got) || math.Abs(got-want) > math.Max(rel*math.Abs(want), abs) {
		t.Errorf("%s: %.9g, want %.9g (off by %.3g)", what, got, want, got-want)
	}
}

func TestSaturation(t *testing.T) {
	for _, r := range table(t, "psychro_saturation.csv") {
		got, err := Saturation(number(t, r["t_c"]))
		if err != nil {
			t.Fatal(err)
		}
		if r["pws_pa"] != "" {
			near(t, "saturation at "+r["t_c"], got, number(t, r["pws_pa"]), 1e-9, 0)
		}
		if table := r["ashrae_table_pa"]; table != "" {
			rel, abs := 0.0, 0.0
			if tol, ok := strings.CutSuffix(r["tol_published"], "abs"); ok {
				abs = number(t, strings.TrimSpace(tol))
			} else {
				rel = number(t, tol)
			}
			near(t, "table saturation at "+r["t_c"], got, number(t, table), rel, abs)
		}
	}
}

func TestPressure(t *testing.T) {
	for _, r := range table(t, "psychro_std_pressure.csv") {
		got, err := Pressure(number(t, r["altitude_m"]))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "pressure at "+r["altitude_m"], got, number(t, r["p_pa"]), 1e-9, 0)
		if r["ashrae_table_pa"] != "" {
			near(t, "table pressure at "+r["altitude_m"], got, number(t, r["ashrae_table_pa"]), 0, 1)
		}
	}
}

func TestMoistAir(t *testing.T) {
	for _, r := range table(t, "psychro_states.csv") {
		at := r["altitude_m"] + " m, " + r["t_c"] + " °C, " + r["rh"]
		m, err := MoistAir(number(t, r["t_c"]), number(t, r["rh"]), number(t, r["p_pa"]))
		if err != nil {
			t.Fatal(err)
		}
		near(t, at+": pv", m.Vapour, number(t, r["pv_pa"]), 1e-6, 0)
		near(t, at+": w", m.Ratio, number(t, r["w_kgkg"]), 1e-6, 0)
		near(t, at+": dew", m.DewPoint, number(t, r["tdp_c"]), 0, 0.005)
		near(t, at+": wet bulb", m.WetBulb, number(t, r["twb_c"]), 0, 0.02)
		near(t, at+": volume", m.Volume, number(t, r["v_m3kgda"]), 1e-6, 0)
		near(t, at+": density", m.Density, number(t, r["rho_kgm3"]), 1e-6, 0)
		near(t, at+": absolute", m.Absolute, number(t, r["abs_hum_gm3"]), 1e-6, 5e-6)
		near(t, at+": enthalpy", m.Enthalpy, number(t, r["h_kjkg"]), 0, 1e-3)
	}
}

func TestPublishedAir(t *testing.T) {
	for _, r := range table(t, "psychro_published.csv") {
		kind, _, _ := strings.Cut(r["tolerance"], " ")
		tol := number(t, strings.TrimPrefix(strings.TrimPrefix(r["tolerance"], "rel "), "abs "))
		var got float64
		t0, p := 0.0, SeaLevel
		if r["t_c"] != "" {
			t0 = number(t, r["t_c"])
		}
		if r["p_pa"] != "" {
			p = number(t, r["p_pa"])
		}
		switch r["quantity"] {
		case "sat_hum_ratio":
			got = ratioOf(math.Exp(logSaturation(t0)), p)
		case "hum_ratio_from_pv":
			got = ratioOf(number(t, r["arg"]), p)
		case "moist_volume_W0.02":
			got = specificVolume(t0, 0.02, p)
		case "moist_density_W0.02":
			got = 1.02 / specificVolume(t0, 0.02, p)
		case "dry_volume":
			got = specificVolume(t0, 0, p)
		case "moist_enthalpy_J_W0.02":
			got = 1000 * (1.006*t0 + 0.02*(2501+1.86*t0))
		case "wetbulb_from_rh0.61":
			m, err := MoistAir(t0, 0.61, p)
			if err != nil {
				t.Fatal(err)
			}
			got = m.WetBulb
		case "std_atm_p_z1000":
			got, _ = Pressure(1000)
		default:
			t.Errorf("nothing checks %s", r["quantity"])
			continue
		}
		want := number(t, r["expected"])
		if kind == "rel" {
			near(t, r["quantity"], got, want, tol, 0)
		} else {
			near(t, r["quantity"], got, want, 0, tol)
		}
	}
}

func TestSurface(t *testing.T) {
	for _, r := range table(t, "surface_condensation.csv") {
		room, err := MoistAir(number(t, r["ti_c"]), number(t, r["rh_room"]), SeaLevel)
		if err != nil {
			t.Fatal(err)
		}
		s, err := AtSurface(room, number(t, r["te_c"]), number(t, r["frsi"]))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "tsi", s.Temperature, number(t, r["tsi_c"]), 0, 1e-6)
		near(t, "surface rh", s.Humidity, number(t, r["surface_rh"]), 0, 1e-5)
		near(t, "dew", room.DewPoint, number(t, r["tdp_c"]), 0, 0.01)
		near(t, "least dry", s.LeastDry, number(t, r["frsi_min_no_condensation"]), 0, 5e-4)
		near(t, "least clean", s.LeastClean, number(t, r["frsi_min_rh80"]), 0, 5e-4)
		if s.Condenses != (r["condenses"] == "yes") || s.Mould != (r["mould_risk_80"] == "yes") {
			t.Errorf("%v: %v %v", r, s.Condenses, s.Mould)
		}
	}
}

func damp(t *testing.T, r map[string]string) Damp {
	t.Helper()
	c := 1.0
	if r["C"] != "" {
		c = number(t, r["C"])
	}
	p := SeaLevel
	if r["p_pa"] != "" {
		p = number(t, r["p_pa"])
	}
	q := 100.0
	if r["id"] != "" {
		q = number(t, r["Q_m3h"])
	}
	return Damp{number(t, r["V_m3"]), number(t, r["t_c"]), p, number(t, r["rh0"]), number(t, r["ts_c"]), number(t, r["rh_s"]),
		q / 3.6, number(t, r["G_kgh"]), number(t, r["t_gen_min"]), c}
}

// minutes reads "never" and "" as no time at all.
func minutes(t *testing.T, s string) float64 {
	t.Helper()
	if s == "never" || s == "" {
		return math.Inf(1)
	}
	return number(t, s)
}

func TestMoistureBalance(t *testing.T) {
	for _, r := range table(t, "moisture_balance.csv") {
		id := r["id"]
		d, err := damp(t, r).Dry(number(t, r["rh_threshold"]))
		if err != nil {
			t.Fatal(id, err)
		}
		near(t, id+": rho", d.Density, number(t, r["rho_da"]), 1e-5, 0)
		near(t, id+": W0", d.Ratio0, number(t, r["W0"]), 1e-5, 0)
		near(t, id+": Ws", d.Supply, number(t, r["Ws"]), 1e-5, 0)
		near(t, id+": Wss", d.Steady, number(t, r["Wss"]), 1e-5, 0)
		near(t, id+": tau", d.Time, number(t, r["tau_min"]), 1e-6, 5e-5)
		near(t, id+": W end", d.EndRatio, number(t, r["w_end_uncapped"]), 1e-5, 0)
		near(t, id+": RH end", d.EndRH, number(t, r["rh_end_uncapped"]), 0, 2e-4)
		near(t, id+": RH clamped", d.Clamped, number(t, r["rh_end_clamped"]), 0, 2e-4)
		near(t, id+": condensed", d.Condensed, number(t, r["condensed_kg"]), 1e-3, 1e-5)
		for _, x := range []struct {
			name string
			got  float64
		}{{"t_sat_min", d.Saturated}, {"clear_uncapped_min", d.UncappedM}, {"clear_clamped_min", d.ClampedM}, {"clear_film_min", d.FilmM}} {
			want := minutes(t, r[x.name])
			if math.IsInf(want, 1) || math.IsInf(x.got, 1) {
				if want != x.got {
					t.Errorf("%s: %s is %v, want %v", id, x.name, x.got, want)
				}
				continue
			}
			near(t, id+": "+x.name, x.got, want, 0.005, 0.05)
		}
	}
}

func TestMoistureOverTime(t *testing.T) {
	for _, r := range table(t, "moisture_timeseries.csv") {
		w, rh, err := damp(t, r).At(number(t, r["t_min"]))
		if err != nil {
			t.Fatal(err)
		}
		near(t, r["id"]+": at "+r["t_min"]+": W", w, number(t, r["W"]), 1e-5, 0)
		near(t, r["id"]+": at "+r["t_min"]+": RH", rh, number(t, r["rh"]), 0, 2e-4)
	}
}

func TestAirflowFor(t *testing.T) {
	for _, r := range table(t, "moisture_required_airflow.csv") {
		got, err := damp(t, r).AirflowFor(number(t, r["rh_threshold"]), number(t, r["target_min"]))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "airflow", got, number(t, r["Q_ls"]), 0.002, 0)
	}
	summer := Damp{Volume: 12, Temperature: 24, Pressure: SeaLevel, Start: 0.6, SupplyTemp: 26, SupplyRH: 0.7, Source: 2.6, Minutes: 8, Airflow: 20}
	if _, err := summer.AirflowFor(0.6, 30); err != ErrNeverDries {
		t.Errorf("a summer that is damper than the ceiling: %v", err)
	}
}

func TestAirOutOfRange(t *testing.T) {
	for _, err := range []error{
		second(Pressure(20000)), second(Saturation(300)), second(MoistAir(20, 1.2, SeaLevel)), second(MoistAir(math.NaN(), 0.5, SeaLevel)),
		second(Damp{}.Dry(0.6)), second(AtSurface(Moist{Temperature: 20}, 25, 0.7)),
	} {
		if err == nil || !strings.Contains(err.Error(), "outside") {
			t.Errorf("no range named: %v", err)
		}
	}
}

func second[T any](_ T, err error) error { return err }

func BenchmarkMoistAir(b *testing.B) {
	for b.Loop() {
		_, _ = MoistAir(22, 0.55, SeaLevel)
	}
}

func BenchmarkDrying(b *testing.B) {
	d := Damp{Volume: 12, Temperature: 22, Pressure: SeaLevel, Start: 0.5, SupplyTemp: 20, SupplyRH: 0.5, Source: 2.6, Minutes: 8, Airflow: 15}
	for b.Loop() {
		_, _ = d.Dry(0.65)
	}
}
