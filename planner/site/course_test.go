package site

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestCourseMeetsItsTimes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rh := rapid.Float64Range(0.2, 0.6).Draw(t, "house")
		d := Damp{Volume: rapid.Float64Range(4, 60).Draw(t, "volume"), Temperature: 20, Pressure: SeaLevel, Start: rh, SupplyTemp: 20, SupplyRH: rh,
			Airflow: rapid.Float64Range(4, 60).Draw(t, "fan"), Source: rapid.Float64Range(0.1, 4).Draw(t, "source"), Minutes: rapid.Float64Range(1, 60).Draw(t, "minutes")}
		c, err := d.Course(0.7)
		if err != nil {
			t.Fatal(err)
		}
		last := 0.0
		for m := 0.0; m <= d.Minutes; m += d.Minutes / 8 {
			best, worst := c.At(m)
			if best != worst || best > 1+1e-9 || best < last-1e-9 {
				t.Fatalf("at %v: %v %v after %v", m, best, worst, last)
			}
			last = best
		}
		if c.Drying.ClampedM > 0 {
			best, _ := c.At(d.Minutes + c.Drying.ClampedM)
			_, worst := c.At(d.Minutes + c.Drying.FilmM)
			if math.Abs(best-0.7) > 1e-6 || math.Abs(worst-0.7) > 1e-6 {
				t.Fatalf("under the ceiling at %v and %v", best, worst)
			}
		}
	})
}

func TestAirflowSurely(t *testing.T) {
	d := Damp{Volume: 12, Temperature: 20, Pressure: SeaLevel, Start: 0.5, SupplyTemp: 20, SupplyRH: 0.5, Source: 2.6, Minutes: 8, Airflow: 1}
	flow, err := d.AirflowSurely(0.65, 45)
	if err != nil {
		t.Fatal(err)
	}
	d.Airflow = flow
	dry, err := d.Dry(0.65)
	if err != nil || math.Abs(dry.FilmM-45) > 0.001 {
		t.Errorf("%v l/s takes %v min, %v", flow, dry.FilmM, err)
	}
	least, err := d.AirflowFor(0.65, 45)
	if err != nil || least >= flow {
		t.Errorf("%v l/s in the best case, %v surely, %v", least, flow, err)
	}
	flood := d
	flood.Source = 20
	if _, err := flood.AirflowSurely(0.65, 0); err == nil || !strings.Contains(err.Error(), "even 1000 l/s takes") {
		t.Error(err)
	}
	if _, err := d.AirflowSurely(0.65, -1); err == nil || !strings.Contains(err.Error(), "outside") {
		t.Error(err)
	}
	d.SupplyRH = 0.7
	if _, err := d.AirflowSurely(0.65, 45); !errors.Is(err, ErrNeverDries) {
		t.Error(err)
	}
}
