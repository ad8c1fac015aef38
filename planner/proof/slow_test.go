package proof

import (
	"context"
	"os"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

func TestSlow(t *testing.T) {
	room := os.Getenv("ROOM")
	if room == "" {
		t.Skip()
	}
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		d := ideal.Draft(p)
		o := ideal.Usual()
		o.Year = ideal.YearOf(p)
		ix := promises.NewIndex(d.Sheet)
		if h.File[:3] != os.Getenv("HOME3") {
			continue
		}
		for _, x := range promises.OfRoom(p, ix, o, rules.Equinox, room) {
			t0 := time.Now()
			v, err := prove(context.Background(), ix, x, Usual, nil)
			println(x.ID, v.State, v.Why, v.Zones, v.Spots, v.Timers, time.Since(t0).String(), err)
		}
	}
}
