package site

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The vectors give a surface's humidity for a room's; the ceiling is that of the room at which the surface has the limit.
func TestCeilingAtSurface(t *testing.T) {
	for _, r := range table(t, "surface_condensation.csv") {
		at := r["ti_c"] + " °C, " + r["te_c"] + " °C outside, " + r["frsi"]
		room := number(t, r["rh_room"])
		for _, limit := range []float64{MouldAt, 1} {
			got, surface, err := CeilingAtSurface(number(t, r["ti_c"]), number(t, r["te_c"]), number(t, r["frsi"]), limit)
			if err != nil {
				t.Fatal(err)
			}
			near(t, at+": ceiling at surface", got, limit*room/number(t, r["surface_rh"]), 2e-5, 0)
			near(t, at+": surface", surface, number(t, r["tsi_c"]), 0, 1e-6)
			if f, err := FactorOf(number(t, r["ti_c"]), number(t, r["te_c"]), surface); err != nil || math.Abs(f-number(t, r["frsi"])) > 1e-9 {
				t.Errorf("%s: factor %v, %v", at, f, err)
			}
		}
	}
	if got, surface, err := CeilingAtSurface(24, 30, 0.75, MouldAt); err != nil || surface != 24 || math.Abs(got-0.8) > 1e-12 {
		t.Errorf("warmer outside: %v at %v, %v", got, surface, err)
	}
}

// Air of the vectors keeps its vapour when it is warmed.
func TestWarmed(t *testing.T) {
	for _, r := range table(t, "moisture_balance.csv") {
		room, supply := number(t, r["t_c"]), number(t, r["ts_c"])
		got, err := Warmed(supply, number(t, r["rh_s"]), room)
		if err != nil {
			t.Fatal(err)
		}
		near(t, r["id"]+": warmed", got, math.Min(1, humidityOf(number(t, r["Ws"]), room, number(t, r["p_pa"]))), 1e-5, 0)
	}
}

// The lowest ceiling is the one that is reached in just the time that was given.
func TestLowestIsReachedJustInTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, least, most float64) float64 { return rapid.Float64Range(least, most).Draw(t, name) }
		d := Damp{Volume: f("volume", 4, 60), Temperature: f("temperature", 15, 28), Pressure: SeaLevel, Start: f("start", 0.3, 0.7),
			Airflow: f("airflow", 3, 80), Source: f("source", 0.1, 3), Minutes: f("minutes", 3, 60)}
		d.SupplyTemp, d.SupplyRH = d.Temperature, d.Start
		minutes := f("within", 1, 180)
		low, err := d.Lowest(minutes)
		if err != nil {
			t.Fatal(err)
		}
		dry, err := d.Dry(math.Min(1, low+1e-6))   // a millionth higher is reached,
		under, _ := d.Dry(math.Max(0.2, low-1e-6)) // and a millionth lower isn't yet
		switch {
		case err != nil:
			t.Fatal(err)
		case low == 1:
			if dry.FilmM < minutes-1e-3 {
				t.Fatalf("dry at %v already, not %v", dry.FilmM, minutes)
			}
		case dry.FilmM > minutes || under.FilmM < minutes && under.FilmM > 0:
			t.Fatalf("%v is reached after %v, not %v", low, dry.FilmM, minutes)
		}
	})
}

func TestBoundsNameTheirRanges(t *testing.T) {
	for _, c := range []struct {
		err   error
		names string
	}{
		{third(CeilingAtSurface(50, 0, 0.7, 0.8)), "room temperature of 50 °C is outside 0 to 40 °C"},
		{third(CeilingAtSurface(20, -80, 0.7, 0.8)), "outside temperature of -80 °C is outside -60 to 60 °C"},
		{third(CeilingAtSurface(20, 0, 1.2, 0.8)), "temperature factor of 1.2 is outside 0 to 1"},
		{errOf(FactorOf(20, 18, 19)), "outside temperature of 18 °C is outside -60 to 15 °C"},
		{errOf(FactorOf(20, 0, 21)), "surface temperature of 21 °C is outside 0 to 20 °C"},
		{errOf(Warmed(0, 1.4, 20)), "relative humidity of 1.4 is outside 0 to 1"},
		{errOf(Damp{}.Lowest(2000)), "target of 2000 min is outside 0 to 1440 min"},
	} {
		if c.err == nil || !strings.Contains(c.err.Error(), c.names) {
			t.Errorf("%v, want %q", c.err, c.names)
		}
	}
}

func third(_, _ float64, err error) error { return err }
func errOf(_ float64, err error) error    { return err }
