package bill_test

import (
	"math"
	"strings"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/bill"
)

// A year by hand: a motion sensor on two cells, whose life the catalogue doesn't state, and a lamp of 10 W that is lit for an hour and
// a half a day.
func TestYearIsSaid(t *testing.T) {
	p := smallHome()
	p.Rooms[1].Kind = "bedroom"
	p.Rooms[1].Circuits = []model.Circuit{{ID: "ceiling", Lamps: 1, Power: 10}}
	b := cheapest(t, p, motion("hall"))
	if len(b.Year.Rooms) != 2 || b.Year.Rooms[0].Room != "hall" || b.Year.Rooms[1].Room != "" {
		t.Fatalf("%+v", b.Year)
	}
	hall := b.Year.Rooms[0]
	// 5 µA at rest, 49 reports of 400 µC a day and 3 % of 1100 mAh lost are 9.0 µA; 0.85 of 1100 mAh at that are 11.9 years, and no cell
	// keeps for more than 10: two cells in ten years.
	if math.Abs(hall.LampsKWh-5.475) > 1e-9 || math.Abs(hall.Cells-0.2) > 1e-9 || hall.DevicesKWh != 0 {
		t.Errorf("%+v", hall)
	}
	if b.Year.Cells != hall.Cells || math.Abs(b.Year.KWh-5.475) > 1e-9 {
		t.Errorf("%+v", b.Year)
	}
	if said := bill.Text(b, 100, nil); !strings.Contains(said, "Hall: 0.2 cells, 5 kWh") || !strings.Contains(said, "Together about 0.2 cells and 5 kWh") {
		t.Error(said)
	}
}

// The rooms of an example home add up to its year, and each room of the bill is in it once.
func TestYearAddsUp(t *testing.T) {
	p := smallHome()
	b := cheapest(t, p, motion("hall"), motion("shower-room"), fan())
	cells, kwh := 0.0, 0.0
	seen := map[string]bool{}
	for _, r := range b.Year.Rooms {
		if seen[r.Room] {
			t.Errorf("%s twice", r.Room)
		}
		seen[r.Room] = true
		cells += r.Cells
		kwh += r.KWh()
	}
	for _, d := range b.Devices {
		if !seen[d.Room] {
			t.Errorf("nothing of %s", d.Room)
		}
	}
	if math.Abs(cells-b.Year.Cells) > 1e-9 || math.Abs(kwh-b.Year.KWh) > 1e-9 || cells == 0 {
		t.Errorf("%g of %g cells, %g of %g kWh", cells, b.Year.Cells, kwh, b.Year.KWh)
	}
}
