package floorplan

import (
	"context"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/site"
)

func planned(t testing.TB, src []byte) (*model.Project, *planner.Plan) {
	t.Helper()
	d := projectfile.Parse(src)
	if !d.OK() {
		t.Fatal(d.Problems())
	}
	plan, err := planner.Make(context.Background(), d.Project(), fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	return d.Project(), &plan
}

// Every device of a bill stands in one room of the plan, every radio has its link, and what the figures of a link say is its state.
func TestFloorsHoldTheBill(t *testing.T) {
	for _, h := range fixtures.Homes() {
		p, plan := planned(t, h.Source)
		drawn, rooms, links := 0, 0, 0
		for _, n := range Numbers(p) {
			f := Of(p, fixtures.Catalogue(), plan, n)
			for _, r := range f.All() {
				rooms++
				drawn += len(r.Controllers)
				for _, d := range r.Devices {
					drawn += d.Count
				}
				for _, l := range r.Links {
					links += l.Devices
					enough := l.Spare >= site.UsualMargin
					if l.State == Taken {
						continue
					}
					if l.State <= Passed && !enough || l.State == Good != (len(l.Via) == 0 && l.Straight >= l.Least) || l.State == Dead != (l.Spare < 0) {
						t.Errorf("%s, %s by %s: state %d with %.1f dB by %v", h.File, r.ID, l.Radio, l.State, l.Spare, l.Via)
					}
				}
			}
		}
		radios, all := 0, 0
		for _, d := range plan.Bill.Devices {
			if part, _ := fixtures.Catalogue().Part(d.Part); part.Radio != "" && part.Radio != "wired" && !part.Can(catalogue.Host) && d.Room != "" {
				radios++
			}
			if d.Room != "" {
				all++ // what is shared stands in no room
			}
		}
		if rooms != len(p.Rooms) || drawn != all || links != radios {
			t.Errorf("%s: %d of %d rooms, %d of %d devices, %d of %d on the air", h.File, rooms, len(p.Rooms), drawn, all, links, radios)
		}
	}
}

func room(id string, x, y, w, d float64, doors ...string) model.Room {
	r := model.Room{ID: id, Name: id, Outline: model.Outline{X: q.Length(x), Y: q.Length(y), Width: q.Length(w), Depth: q.Length(d), Ceiling: 2.4}}
	for _, to := range doors {
		r.Doors = append(r.Doors, model.Door{ID: to, To: to})
	}
	return r
}

// A door stands in the middle of the wall that is shared, one to the outside in the longest that is free, one upstairs nowhere.
func TestDoorsStandInTheirWalls(t *testing.T) {
	a, b, c := room("a", 0, 0, 4, 3, "b", "c", "outside", "up", "far"), room("b", 4.1, 1, 2, 4, "a"), room("c", 0, 3.1, 3, 2, "a")
	up, far := room("up", 0, 0, 4, 3), room("far", 20, 0, 1, 1)
	up.Floor = 1
	p := &model.Project{Rooms: []model.Room{a, b, c, up, far}}
	f := Of(p, nil, nil, 0)
	for i, want := range []Door{
		{Spot: Spot{4.05, 2}, Placed: true, Upright: true}, {Spot: Spot{1.5, 3.05}, Placed: true}, {Spot: Spot{2, 0}, Placed: true}, {Storeys: 1}, {},
	} {
		got := f.Rooms[0].Doors[i]
		if math.Hypot(got.X-want.X, got.Y-want.Y) > 1e-9 || got.Placed != want.Placed || got.Upright != want.Upright || got.Storeys != want.Storeys {
			t.Errorf("the door to %s: %+v, want %+v", got.To, got, want)
		}
	}
	if back := f.Rooms[1].Doors[0]; back.Spot != f.Rooms[0].Doors[0].Spot {
		t.Errorf("a door has two places: %v and %v", back.Spot, f.Rooms[0].Doors[0].Spot)
	}
	if want := (Rect{0, 0, 21, 5.1}); math.Abs(f.Bounds.W-want.W)+math.Abs(f.Bounds.D-want.D) > 1e-9 {
		t.Errorf("bounds %v", f.Bounds)
	}
}

func furnished(r model.Room, parts ...string) Room {
	p, plan := &model.Project{Rooms: []model.Room{r}}, &planner.Plan{}
	for _, id := range parts {
		plan.Bill.Devices = append(plan.Bill.Devices, bill.Device{ID: r.ID + "/" + id, Part: id, Room: r.ID})
	}
	return Of(p, fixtures.Catalogue(), plan, 0).Rooms[0]
}

// A wall sensor in the corner of a room inside its reach sees all of it; of a long hall it sees the near part; the narrow one sees
// along a passage and no wide room.
func TestSensorsSeeWhatTheirViewTakesIn(t *testing.T) {
	for _, c := range []struct {
		part       string
		w, d       float64
		low, high  float64
		more       int
		ceilingRad float64
	}{
		{"motion-wall-zigbee", 4, 4, 1, 1, 0, 0},
		{"motion-wall-zigbee", 20, 2, 0.33, 0.36, 2, 0},
		{"motion-stairs-zigbee", 1, 10, 0.9, 1, 0, 0},
		{"motion-stairs-zigbee", 6, 6, 0.2, 0.45, -1, 0},
		{"motion-ceiling-zigbee", 10, 10, 0.34, 0.39, -1, 2.4 * math.Tan(55*math.Pi/180)}, // 3.43 m: 36.9 of 100 m²
	} {
		r := furnished(room("r", 0, 0, c.w, c.d), c.part)
		if r.Seen < c.low || r.Seen > c.high {
			t.Errorf("%s in %g by %g m sees %.2f, want %.2f to %.2f", c.part, c.w, c.d, r.Seen, c.low, c.high)
		}
		if n, ok := r.More(); c.more >= 0 && (n != c.more || !ok) {
			t.Errorf("%s in %g by %g m: %d more, %v", c.part, c.w, c.d, n, ok)
		}
		if v := r.Cover[0]; c.ceilingRad > 0 && (math.Abs(v.Reach-c.ceilingRad) > 1e-9 || !v.Round) {
			t.Errorf("%s reaches %v", c.part, v.Reach)
		}
	}
}

// Two sensors see no less than one, and none sees farther than its reach.
func TestMoreSensorsSeeMore(t *testing.T) {
	var sensors []string
	for _, p := range fixtures.Catalogue().Parts {
		if p.Can(catalogue.SenseMotion) {
			sensors = append(sensors, p.ID)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		r := room("r", 0, 0, rapid.Float64Range(1, 25).Draw(t, "w"), rapid.Float64Range(1, 25).Draw(t, "d"))
		a, b := rapid.SampledFrom(sensors).Draw(t, "a"), rapid.SampledFrom(sensors).Draw(t, "b")
		one, two := furnished(r, a), furnished(r, a, b)
		if two.Seen < one.Seen-1e-9 || one.Seen < 0 || two.Seen > 1 {
			t.Fatalf("one sees %v, two see %v", one.Seen, two.Seen)
		}
		at := Spot{rapid.Float64Range(0, 25).Draw(t, "x"), rapid.Float64Range(0, 25).Draw(t, "y")}
		for _, v := range two.Cover {
			if v.Sees(at) && math.Hypot(at.X-v.X, at.Y-v.Y) > v.Reach+1e-9 {
				t.Fatalf("%s sees %v from %v", v.Part, at, v.Spot)
			}
		}
	})
}

// row is three concrete rooms in a row, 14 m each; the controller stands at the near end.
func row(t testing.TB, devices ...bill.Device) []Room {
	t.Helper()
	p := &model.Project{Home: model.Home{Walls: model.Know("concrete")}, Controllers: []model.Controller{{ID: "c", Room: "a", Position: model.Know(model.Point{X: 0.5, Y: 0.5})}},
		Rooms: []model.Room{room("a", 0, 0, 14, 4), room("b", 14.1, 0, 14, 4), room("c", 28.2, 0, 14, 4)}}
	i := slices.IndexFunc(fixtures.Catalogue().Parts, func(p catalogue.Part) bool { return p.Can(catalogue.Host) })
	plan := &planner.Plan{Bill: bill.Bill{Devices: append(devices, bill.Device{ID: "c", Part: fixtures.Catalogue().Parts[i].ID, Room: "a"})}}
	return Of(p, fixtures.Catalogue(), plan, 0).Rooms
}

// A device too far away is weak; one on the mains between them passes its messages on, a battery part and another radio don't.
func TestLinksAreMadeByWayOfOthers(t *testing.T) {
	const far, mains, battery, other = "motion-wall-zigbee", "presence-ceiling-zigbee", "door-zigbee", "presence-ceiling-splash-thread"
	at := func(part, room string) bill.Device { return bill.Device{ID: room + "/" + part, Part: part, Room: room} }
	for _, c := range []struct {
		name    string
		devices []bill.Device
		state   State
		via     string
	}{
		{"alone", []bill.Device{at(far, "c")}, Weak, ""},
		{"a battery part between", []bill.Device{at(far, "c"), at(battery, "b")}, Weak, ""},
		{"another radio between", []bill.Device{at(far, "c"), at(other, "b")}, Weak, ""},
		{"a mains part between", []bill.Device{at(far, "c"), at(mains, "b")}, Passed, "b"},
		{"near", []bill.Device{at(far, "a")}, Good, ""},
	} {
		for _, r := range row(t, c.devices...) {
			for _, l := range r.Links {
				if r.ID != c.devices[0].Room || l.Radio != "zigbee" {
					continue
				}
				if l.State != c.state || strings.Join(l.Via, ",") != c.via {
					t.Errorf("%s: state %d with %.1f dB by %v, want %d by %q", c.name, l.State, l.Spare, l.Via, c.state, c.via)
				}
			}
		}
	}
}

// A device whose place is noted stands there, is heard from there, and sees from there; its room's link starts at the worst place.
func TestDevicesStandWhereTheyAreNoted(t *testing.T) {
	for _, h := range fixtures.Homes() {
		if h.File != "alder-row.yaml" {
			continue
		}
		p, plan := planned(t, h.Source)
		f := Of(p, fixtures.Catalogue(), plan, 1)
		r := f.Room("shower-room")
		seen := 0
		for _, d := range r.Devices {
			for _, at := range d.At {
				seen++
				if at.X != r.X+float64(at.Point.X) || at.Y != r.Y+float64(at.Point.Y) {
					t.Errorf("%s at %+v is drawn at %+v", d.Part.ID, at.Point, at.Spot)
				}
				if !at.Heard {
					continue
				}
				for _, l := range r.Links {
					if l.Radio != d.Part.Radio {
						continue
					}
					link, err := physics.Link(p, physics.Spot{Room: r.ID, At: model.Know(at.Point)}, physics.Spot{Room: "hall", At: p.Controllers[0].Position}, l.Radio, l.Alarm)
					if err != nil || math.Abs(link.Margin.Spare-at.Spare) > 1e-9 || at.Spare < l.Straight-1e-9 {
						t.Errorf("%s: %.2f dB, reckoned %.2f, the room's worst %.2f, %v", d.Part.ID, at.Spare, link.Margin.Spare, l.Straight, err)
					}
				}
			}
			if d.Mark == 'm' && !strings.Contains(d.Where(q.Metric), "0.2 m, 2.3 m (") {
				t.Errorf("%q", d.Where(q.Metric))
			}
		}
		if seen < 3 || len(r.Cover) == 0 || r.Cover[0].Spot != (Spot{r.X + 0.2, r.Y + 2.3}) {
			t.Errorf("%d places, %+v", seen, r.Cover)
		}
		return
	}
	t.Fatal("no such home")
}

// A link is weak exactly where the bill says that its device is out of reach, in homes that bring concrete, distance, few controllers and
// none with a place, with the bill's repeaters and without.
func TestFloorsCallWeakWhatTheBillCallsOutOfReach(t *testing.T) {
	for _, h := range fixtures.Homes() {
		p, plan := planned(t, h.Source)
		agree(t, p, fixtures.Catalogue(), plan)
	}
	weak := 0
	rapid.Check(t, func(t *rapid.T) {
		p, c := stretched(t)
		plan, err := planner.Make(context.Background(), p, c)
		if err != nil {
			t.Fatal(err)
		}
		weak += agree(t, p, c, &plan)
	})
	if weak == 0 {
		t.Error("no home had a link that is weak")
	}
}

// agree compares the floors of a home with its bill, and counts what is out of reach.
func agree(t interface{ Errorf(string, ...any) }, p *model.Project, c *catalogue.Catalogue, plan *planner.Plan) (weak int) {
	lost := map[string]bool{} // rooms with needs out of reach
	for _, u := range plan.Bill.Unmet {
		if u.Got != "is out of reach" {
			continue
		}
		for _, d := range plan.Bill.Devices {
			if slices.Contains(d.Covers, u.Need) {
				lost[d.Room] = true
			}
		}
	}
	for _, n := range Numbers(p) {
		f := Of(p, c, plan, n)
		for _, r := range f.All() {
			bad := slices.ContainsFunc(r.Links, func(l Link) bool { return l.State >= Weak })
			if bad {
				weak++
			}
			if bad != lost[r.ID] {
				t.Errorf("%s: the bill has it out of reach: %v, its links are %+v", r.ID, lost[r.ID], r.Links)
			}
		}
	}
	return weak
}

// stretched is one of the homes with its rooms pulled apart, other walls, controllers elsewhere, and no repeaters at times.
func stretched(t *rapid.T) (*model.Project, *catalogue.Catalogue) {
	homes := fixtures.Homes()
	p := projectfile.Parse(homes[rapid.IntRange(0, len(homes)-1).Draw(t, "home")].Source).Project()
	by := q.Length(rapid.SampledFrom([]float64{1, 2, 4, 8}).Draw(t, "apart"))
	p.Home.Walls = model.Know(rapid.SampledFrom([]string{"timber", "brick", "concrete"}).Draw(t, "walls"))
	for i := range p.Rooms {
		o := &p.Rooms[i].Outline
		o.X, o.Y = o.X*by, o.Y*by
		if rapid.IntRange(0, 9).Draw(t, "bare") == 0 {
			*o = model.Outline{}
		}
	}
	for i := range p.Controllers {
		p.Controllers[i].Room, p.Controllers[i].Position = p.Rooms[rapid.IntRange(0, len(p.Rooms)-1).Draw(t, "at")].ID, model.Fact[model.Point]{}
	}
	for i, r := range p.Rooms {
		if rapid.IntRange(0, 3).Draw(t, "noted") == 0 {
			if p.Choices.Places == nil {
				p.Choices.Places = map[string]model.Point{}
			}
			p.Choices.Places[r.ID+"/motion"] = model.Point{X: p.Rooms[i].Outline.Width, Y: 0.2}
		}
	}
	if rapid.Bool().Draw(t, "one controller") && len(p.Controllers) > 1 {
		p.Controllers = p.Controllers[:1]
	}
	c := *fixtures.Catalogue()
	if rapid.Bool().Draw(t, "no repeaters") {
		c.Parts = slices.DeleteFunc(slices.Clone(c.Parts), func(x catalogue.Part) bool { return x.Can(catalogue.Repeat) })
		for i := range c.Parts {
			c.Parts[i].Repeats = false
		}
	}
	return p, &c
}

func BenchmarkFloor(b *testing.B) {
	for _, rooms := range []int{40, 300} {
		b.Run(strconv.Itoa(rooms), func(b *testing.B) {
			p, plan := planned(b, fixtures.Building(rooms))
			for b.Loop() {
				Of(p, fixtures.Catalogue(), plan, 0)
			}
		})
	}
}

// A link is drawn from its room to its controller, by way of the rooms of this floor; one that is only taken to reach isn't drawn, as the
// controller of a room without an outline could be anywhere.
func TestLinksAreDrawnBetweenKnownPlaces(t *testing.T) {
	const home = `roombrief: 1
home: {name: A test, currency: GBP}
controllers: [{id: shelf, room: loft, limits: modest}]
rooms:
  - {id: loft, kind: store}
  - id: den
    kind: study
    outline: {x: 3 m, y: 4 m, width: 3 m, depth: 3 m, ceiling: 2.4 m}
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief: {lighting: {start: on entry, stop: {after: 20m}, periods: [{from: "06:00", level: 60 %}]}}
`
	for _, c := range []struct {
		loft  string
		state State
		ends  int
	}{{"{id: loft, kind: store}", Taken, 0}, {"{id: loft, kind: store, outline: {x: 0 m, y: 4 m, width: 2.9 m, depth: 3 m, ceiling: 2.4 m}}", Good, 2}} {
		p, plan := planned(t, []byte(strings.Replace(home, "{id: loft, kind: store}", c.loft, 1)))
		f := Of(p, fixtures.Catalogue(), plan, 0)
		links := f.Room("den").Links
		if len(links) == 0 {
			t.Fatal("nothing is on the air")
		}
		for _, l := range links {
			if path := f.Path(l); l.State != c.state || len(path) != c.ends {
				t.Errorf("state %d, drawn by %v, want state %d and %d ends", l.State, path, c.state, c.ends)
			}
		}
	}
}
