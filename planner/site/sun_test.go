package site

import (
	"bufio"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"pgregory.net/rapid"

	q "example.org/roombrief/model/quantity"
)

// table reads a reference file: comment lines, a header, rows.
func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "fixtures", "vectors", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var lines []string
	for s := bufio.NewScanner(f); s.Scan(); {
		if !strings.HasPrefix(s.Text(), "#") {
			lines = append(lines, s.Text())
		}
	}
	rows, err := csv.NewReader(strings.NewReader(strings.Join(lines, "\n"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	if len(out) == 0 {
		t.Fatalf("%s has no rows", name)
	}
	return out
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	loc, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return loc
}

func date(t testing.TB, s string) Date {
	t.Helper()
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		t.Fatal(err)
	}
	return DateOf(d)
}

var skies = map[string]Sky{"always_above": AlwaysAbove, "always_below": AlwaysBelow}

func TestSunTimes(t *testing.T) {
	for _, r := range table(t, "solar_times.csv") {
		t.Run(r["place"]+" "+r["local_date"], func(t *testing.T) {
			loc := zone(t, r["tz"])
			d, err := SunDay(number(t, r["lat"]), number(t, r["lon"]), date(t, r["local_date"]), loc)
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range []struct {
				column string
				at     time.Time
				sky    Sky
			}{
				{"civil_dawn", d.Dawn, d.Polar.Dawn},
				{"sunrise", d.Sunrise, d.Polar.Sunrise},
				{"solar_noon", d.Noon, Crosses},
				{"sunset", d.Sunset, d.Polar.Sunset},
				{"civil_dusk", d.Dusk, d.Polar.Dusk},
			} {
				checkEvent(t, e.column, r[e.column+"_utc"], r[e.column+"_local"], e.at, e.sky)
			}
			top := elevation(float64(d.Noon.Unix()), number(t, r["lat"]), number(t, r["lon"]))
			if want := number(t, r["max_elev_deg"]); math.Abs(top-want) > 0.001 {
				t.Errorf("noon elevation %.4f, want %.3f", top, want)
			}
		})
	}
}

func checkEvent(t *testing.T, name, utc, local string, at time.Time, sky Sky) {
	t.Helper()
	if want, never := skies[utc]; never {
		if sky != want || !at.IsZero() {
			t.Errorf("%s: %v at %v, want %s", name, sky, at, utc)
		}
		return
	}
	want, err := time.Parse(time.RFC3339, utc)
	if err != nil {
		t.Fatal(err)
	}
	record(t, name+", s", float64(at.Unix()), float64(want.Unix()))
	if off := at.Sub(want).Abs(); sky != Crosses || off > 5*time.Second {
		t.Errorf("%s: %v, want %v, off by %v", name, at.UTC(), want, off)
	}
	// The wall clock may differ from the reference by those seconds, but never in its offset or hour.
	wall, err := time.Parse("2006-01-02T15:04:05-0700", local)
	if err != nil {
		t.Fatal(err)
	}
	_, got := at.Zone()
	if _, offset := wall.Zone(); got != offset {
		t.Errorf("%s: %v is %d s from UTC, want %d", name, at, got, offset)
	}
}

func TestSunPosition(t *testing.T) {
	for _, r := range table(t, "solar_position.csv") {
		at, err := time.Parse(time.RFC3339, r["utc"])
		if err != nil {
			t.Fatal(err)
		}
		p, err := SunPosition(number(t, r["lat"]), number(t, r["lon"]), at)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			column    string
			got, near float64
		}{
			{"dec_deg", p.Declination, 1e-4},
			{"eot_min", p.EquationOfTime, 1e-4},
			{"elev_geo_deg", p.Elevation, 1e-4},
			{"az_deg", p.Azimuth, 1e-4},
			{"ephem_alt_deg", p.Elevation, 0.01},
			{"ephem_az_deg", p.Azimuth, 0.04},
		} {
			record(t, c.column, c.got, number(t, r[c.column]))
			if want := number(t, r[c.column]); math.Abs(c.got-want) > c.near {
				t.Errorf("%s %s: %s %.5f, want %.5f", r["place"], r["utc"], c.column, c.got, want)
			}
		}
	}
}

func TestPublishedSolarValues(t *testing.T) {
	meeus := solarAt(float64(time.Date(1992, 10, 13, 0, 0, 0, 0, time.UTC).Unix()))
	spa := time.Date(2003, 10, 17, 19, 30, 30, 0, time.UTC)
	const lat, lon = 39.742476, -105.1786
	p, err := SunPosition(lat, lon, spa)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]float64{
		"julian_century": meeus.century, "mean_longitude_deg": meeus.meanLongitude, "mean_anomaly_deg": meeus.meanAnomaly,
		"equation_of_centre_deg": meeus.centre, "mean_obliquity_deg": meeus.meanObliquity,
		"corrected_obliquity_deg": meeus.obliquity, "apparent_longitude_deg": meeus.apparentLongitude,
		"right_ascension_deg": meeus.rightAscension, "declination_deg": meeus.declination,
		"equation_of_time_min": meeus.equationOfTime, "spa_zenith_deg_refracted": 90 - p.Elevation, "spa_azimuth_deg": p.Azimuth,
	}
	mountain := time.FixedZone("-07", -7*3600)
	seen := 0
	for _, r := range table(t, "solar_published.csv") {
		name := r["quantity"]
		if g, ok := got[name]; ok {
			seen++
			record(t, name, g, number(t, r["expected"]))
			if want := number(t, r["expected"]); math.Abs(g-want) > number(t, r["tolerance"]) {
				t.Errorf("%s: %.8f, published %v", name, g, want)
			}
			continue
		}
		seen++
		on, _, _ := strings.Cut(r["utc_time_and_place"], " ")
		d, err := SunDay(lat, lon, date(t, on), mountain)
		if err != nil {
			t.Fatal(err)
		}
		at := d.Sunset
		if strings.Contains(name, "sunrise") {
			at = d.Sunrise
		}
		want, err := time.ParseInLocation("2006-01-02 15:04:05", on+" "+r["expected"], mountain)
		if err != nil {
			t.Fatal(err)
		}
		record(t, "sunrise and sunset, s", float64(at.Unix()), float64(want.Unix()))
		if at.Sub(want).Abs() > 5*time.Second {
			t.Errorf("%s: %v, published %v", name, at, want)
		}
	}
	if seen < len(got)+2 {
		t.Errorf("only %d published values compared", seen)
	}
}

func TestPlacesAndDaysOutOfRange(t *testing.T) {
	day := Date{2026, 3, 2}
	for _, c := range []struct {
		lat, lon float64
		date     Date
		loc      *time.Location
		says     string
	}{
		{90.1, 0, day, time.UTC, "between -90 and 90"},
		{math.NaN(), 0, day, time.UTC, "between -90 and 90"},
		{0, -180.5, day, time.UTC, "between -180 and 180"},
		{0, math.Inf(1), day, time.UTC, "between -180 and 180"},
		{0, 0, Date{1900, 1, 1}, time.UTC, "1901 to 2099"},
		{0, 0, Date{2100, 1, 1}, time.UTC, "1901 to 2099"},
		{0, 0, Date{2026, 2, 30}, time.UTC, "not a day of the calendar"},
		{0, 0, Date{}, time.UTC, "not a day of the calendar"},
		{0, 0, day, nil, "time zone"},
	} {
		if _, err := SunDay(c.lat, c.lon, c.date, c.loc); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%v %v %v: %v, want a sentence with %q", c.lat, c.lon, c.date, err, c.says)
		}
	}
	if _, err := SunPosition(91, 0, time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)); err == nil {
		t.Error("no error for latitude 91")
	}
	if _, err := SunPosition(0, 0, time.Time{}); err == nil || !strings.Contains(err.Error(), "1901 to 2099") {
		t.Errorf("year 1: %v", err)
	}
}

// Anywhere and on any day the events keep their order around a noon of the asked date, and each stands at its height.
func TestSunDayProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "latitude")
		lon := rapid.Float64Range(-180, 180).Draw(t, "longitude")
		loc := time.FixedZone("mean", int(math.Round(lon/15))*3600)
		on := DateOf(time.Date(2000, 1, 1+rapid.IntRange(0, 36000).Draw(t, "day"), 0, 0, 0, 0, time.UTC))
		d, err := SunDay(lat, lon, on, loc)
		if err != nil {
			t.Fatal(err)
		}
		if DateOf(d.Noon) != on {
			t.Fatalf("noon %v is not on %v", d.Noon, on)
		}
		last := time.Time{}
		for _, s := range []q.Sun{q.Dawn, q.Sunrise, q.Sunset, q.Dusk} {
			at, ok := d.At(s)
			if ok == at.IsZero() {
				t.Fatalf("event %v: %v, happens %v", s, at, ok)
			}
			if !ok {
				continue
			}
			if !at.After(last) || at.Before(d.Noon) != (s == q.Dawn || s == q.Sunrise) {
				t.Fatalf("event %v at %v, noon %v", s, at, d.Noon)
			}
			last = at
			height := sunriseHeight
			if s == q.Dawn || s == q.Dusk {
				height = civilHeight
			}
			if h := elevation(float64(at.Unix()), lat, lon); math.Abs(h-height) > 0.003 {
				t.Fatalf("event %v: sun at %.4f degrees, want %.3f", s, h, height)
			}
		}
	})
}

// Across the change of the clock the sun itself goes on smoothly.
func TestClockChangeMovesNoEvent(t *testing.T) {
	loc := zone(t, "Europe/London")
	before, err1 := SunDay(53.96, -1.08, Date{2026, 3, 28}, loc)
	after, err2 := SunDay(53.96, -1.08, Date{2026, 3, 29}, loc)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if gap := after.Sunset.Sub(before.Sunset); gap < 24*time.Hour || gap > 24*time.Hour+3*time.Minute {
		t.Errorf("sunsets are %v apart", gap)
	}
	if before.Sunset.Hour() != 18 || after.Sunset.Hour() != 19 {
		t.Errorf("sunset %v, then %v", before.Sunset, after.Sunset)
	}
}

func BenchmarkSunDay(b *testing.B) {
	loc := zone(b, "Europe/London")
	for b.Loop() {
		if _, err := SunDay(53.96, -1.08, Date{2026, 3, 2}, loc); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSunYear(b *testing.B) {
	loc := zone(b, "Europe/London")
	for b.Loop() {
		for day := range 365 {
			if _, err := SunDay(53.96, -1.08, DateOf(time.Date(2026, 1, 1+day, 0, 0, 0, 0, time.UTC)), loc); err != nil {
				b.Fatal(err)
			}
		}
	}
}
