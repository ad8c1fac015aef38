package draw

import (
	"io"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

func course(t testing.TB, flow float64) site.Course {
	t.Helper()
	d := site.Damp{Volume: 12, Temperature: 20, Pressure: site.SeaLevel, Start: 0.45, SupplyTemp: 20, SupplyRH: 0.45,
		Airflow: flow, Source: site.ShowerVapour, Minutes: 8}
	c, err := d.Course(0.65)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func plain(ascii bool) theme.Theme {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.Ascii)
	return theme.New(r, theme.Options{ASCII: ascii})
}

// The rule at the ceiling is filled for as long as the air is surely over it, and a stronger fan shortens that.
func TestHumidityRuleTellsHowLong(t *testing.T) {
	over := func(flow float64) (full, dots int) {
		lines := Humidity(plain(false), course(t, flow), 0.65, q.Span(45*time.Minute), 66, 6)
		for _, l := range lines {
			if strings.HasPrefix(l, " 65 % ") {
				return strings.Count(l, "█"), strings.Count(l, "•")
			}
		}
		t.Fatalf("no rule at the ceiling:\n%s", strings.Join(lines, "\n"))
		return 0, 0
	}
	weak, weakDots := over(12)
	strong, _ := over(30)
	if weak <= strong || strong == 0 || weakDots == 0 {
		t.Errorf("%d and %d cells over the ceiling, %d dots", weak, strong, weakDots)
	}
}

func TestHumidityKeepsToItsCells(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		for w := range 80 {
			for _, flow := range []float64{0.5, 12, 300} {
				lines := Humidity(plain(ascii), course(t, flow), 0.65, q.Span(20*time.Minute), w, 5)
				if (w < curveTag+leastCol) != (lines == nil) {
					t.Errorf("%d lines in %d cells", len(lines), w)
				}
				for _, l := range lines {
					if layout.Width(l) > w {
						t.Errorf("%d cells in %d: %q", layout.Width(l), w, l)
					}
					if i := strings.IndexFunc(l, func(r rune) bool { return r > 0x7f }); ascii && i >= 0 {
						t.Errorf("a curve in ASCII has %q", l[i:])
					}
				}
			}
		}
	}
}
