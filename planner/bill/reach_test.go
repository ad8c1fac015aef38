package bill_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/rules"
	"pgregory.net/rapid"
)

// farHome is rooms of 4 m by 4 m in a row, so far from each other that not everything is heard everywhere, with controllers
// in some of them, and devices of which some pass messages on.
func farHome(t *rapid.T) (*model.Project, *catalogue.Catalogue, []needs.Need) {
	price := func(name string) map[string]float64 {
		return map[string]float64{"GBP": float64(rapid.IntRange(1, 40).Draw(t, name)) / 2}
	}
	p := &model.Project{}
	p.Home.Currency, p.Home.Mains.Voltage = "GBP", 230
	p.Home.Terms.Labour = q.HourlyRate{Amount: 60, Currency: "GBP"}
	p.Home.Walls = model.Know(rapid.SampledFrom([]string{"brick", "concrete", "concrete"}).Draw(t, "walls"))
	for i, at := range []float64{0, 12, 27, 41} {
		r := model.Room{ID: fmt.Sprint("r", i), Outline: model.Outline{X: q.Length(at), Width: 4, Depth: 4, Ceiling: 2.4}}
		if rapid.IntRange(0, 9).Draw(t, "bare") == 0 {
			r.Outline = model.Outline{}
		}
		p.Rooms = append(p.Rooms, r)
	}
	p.Choices.Places = map[string]model.Point{}
	for i := range rapid.IntRange(0, 2).Draw(t, "noted places") {
		p.Choices.Places[fmt.Sprintf("r%d/n%d", rapid.IntRange(0, 3).Draw(t, "noted in"), i)] = model.Point{X: q.Length(rapid.IntRange(1, 4).Draw(t, "x")), Y: q.Length(rapid.IntRange(0, 4).Draw(t, "y"))}
	}
	room := func(name string) string { return fmt.Sprint("r", rapid.IntRange(0, 3).Draw(t, name)) }
	for i := range rapid.IntRange(1, 2).Draw(t, "places") {
		p.Controllers = append(p.Controllers, model.Controller{ID: fmt.Sprint("place", i), Room: room("place")})
	}
	c := &catalogue.Catalogue{Version: 1, Dated: "2026-03", Limits: []catalogue.Limits{{ID: "any", Offline: true}}}
	add := func(part catalogue.Part) {
		part.ID = fmt.Sprintf("%s-%d", part.ID, len(c.Parts))
		part.Name, part.Kind, part.Price = part.ID, part.ID, price("price")
		c.Parts = append(c.Parts, part)
	}
	for range rapid.IntRange(1, 2).Draw(t, "hosts") {
		h := catalogue.HostSpec{Children: map[string]int{}, Limits: "any"}
		for _, r := range []string{"zigbee", "wifi", "thread"} {
			if rapid.IntRange(0, 2).Draw(t, r) > 0 {
				h.Radios = append(h.Radios, r)
				h.Children[r] = rapid.IntRange(2, 6).Draw(t, "children") // so that a few more do for any home
			}
		}
		add(catalogue.Part{ID: "host", Does: []catalogue.Ability{catalogue.Host}, Host: h})
	}
	for _, does := range []catalogue.Ability{catalogue.SenseMotion, catalogue.SenseWet, catalogue.SwitchFan} {
		for range rapid.IntRange(1, 3).Draw(t, string(does)) {
			part := catalogue.Part{ID: "part", Does: []catalogue.Ability{does}, Radio: rapid.SampledFrom([]string{"zigbee", "zigbee", "wifi", "thread"}).Draw(t, "radio"), Supply: "battery"}
			if rapid.Bool().Draw(t, "mains") {
				part.Supply, part.Repeats = "mains", rapid.Bool().Draw(t, "repeats")
			}
			if does == catalogue.SwitchFan {
				part.Place, part.Ratings = "box", map[catalogue.LoadKind]q.Power{catalogue.Motor: 100}
			}
			add(part)
		}
	}
	for _, radio := range []string{"zigbee", "thread"} {
		if rapid.IntRange(0, 2).Draw(t, "repeater") > 0 {
			add(catalogue.Part{ID: "repeater", Does: []catalogue.Ability{catalogue.Repeat}, Radio: radio, Repeats: true, Supply: "mains"})
		}
	}
	for _, part := range c.Parts {
		if rapid.IntRange(0, 5).Draw(t, "there already") == 0 {
			p.Existing = append(p.Existing, model.Existing{Part: part.ID, Count: rapid.IntRange(1, 2).Draw(t, "so many")})
		}
	}
	var ns []needs.Need
	for i := range rapid.IntRange(1, 3).Draw(t, "needs") {
		does := rapid.SampledFrom([]catalogue.Ability{catalogue.SenseMotion, catalogue.SenseWet, catalogue.SwitchFan}).Draw(t, "want")
		in := room("room")
		ns = append(ns, needs.Need{ID: fmt.Sprint(in, "/n", i), Room: in, Name: "thing", Wants: []catalogue.Ability{does}, Facts: needs.Facts{Load: 10}})
	}
	return p, c, ns
}

// reachOracle tries every part for every need, every set of repeaters and every controller in every place, and takes the way with
// the fewest rooms out of reach of a radio, and of those the best by the aim, and then the cheapest.
type reachOracle struct {
	p    *model.Project
	c    *catalogue.Catalogue
	ns   []needs.Need
	ban  map[string]string // by need: a part that may not serve it
	lost int
	best int64
}

// heard is whether a room is heard in another, wherever in them devices are; after an @ it is the place of a controller in its middle.
func (o *reachOracle) heard(a, b, radio string, least float64) bool {
	for _, x := range o.places(a) {
		for _, y := range o.places(b) {
			if h, err := physics.Link(o.p, x, y, radio, false); err != nil || h.Margin.Spare < least {
				return false
			}
		}
	}
	return true
}

func (o *reachOracle) places(room string) []physics.Spot {
	at, seat := strings.CutPrefix(room, "@")
	out := []physics.Spot{{Room: at}}
	for path, place := range o.p.Choices.Places {
		if !seat && strings.HasPrefix(path, at+"/") {
			out = append(out, physics.Spot{Room: at, At: model.Know(place)})
		}
	}
	return out
}

func (o *reachOracle) placed(room string) bool {
	r, _ := o.p.Room(room)
	return r.Outline.Width > 0
}

type gear struct {
	room  string
	part  *catalogue.Part
	spare bool // a repeater for reach alone: it may lie out of reach
}

func (o *reachOracle) solve() {
	o.lost, o.best = math.MaxInt, math.MaxInt64
	spoken := map[string]bool{}
	for i := range o.c.Parts {
		for _, r := range o.c.Parts[i].Host.Radios {
			spoken[r] = true
		}
	}
	var assign func(i int, all []gear)
	assign = func(i int, all []gear) {
		if i == len(o.ns) {
			o.repeat(all)
			return
		}
		can := false
		for k := range o.c.Parts {
			if part := &o.c.Parts[k]; has(part, o.ns[i].Wants[0]) && spoken[part.Radio] && o.ban[o.ns[i].ID] != part.ID {
				can = true
				assign(i+1, append(all[:len(all):len(all)], gear{o.ns[i].Room, part, false}))
			}
		}
		if !can {
			assign(i+1, all)
		}
	}
	assign(0, nil)
}

func (o *reachOracle) repeat(all []gear) {
	var options []gear
	for k := range o.c.Parts {
		if part := &o.c.Parts[k]; has(part, catalogue.Repeat) && spokenBy(o.c, part.Radio) {
			for _, r := range o.p.Rooms {
				if o.placed(r.ID) {
					options = append(options, gear{r.ID, part, true})
				}
			}
		}
	}
	for mask := range 1 << len(options) {
		with := slices.Clone(all)
		for i, x := range options {
			if mask>>i&1 == 1 {
				with = append(with, x)
			}
		}
		o.host(with, 0, nil, false)
	}
}

func spokenBy(c *catalogue.Catalogue, radio string) bool {
	return slices.ContainsFunc(c.Parts, func(p catalogue.Part) bool { return slices.Contains(p.Host.Radios, radio) })
}

// host seats controllers in the named places, and up to three more beside the first where all are taken.
func (o *reachOracle) host(all []gear, place int, seated []gear, empty bool) {
	if place == len(o.p.Controllers) {
		o.beyond(all, seated, 0, !empty, 3)
		return
	}
	o.host(all, place+1, seated, true)
	for k := range o.c.Parts {
		if has(&o.c.Parts[k], catalogue.Host) {
			o.host(all, place+1, append(seated[:len(seated):len(seated)], gear{room: o.p.Controllers[place].Room, part: &o.c.Parts[k]}), empty)
		}
	}
}

func (o *reachOracle) beyond(all, seated []gear, from int, more bool, left int) {
	o.judge(all, seated)
	for k := from; k < len(o.c.Parts) && more && left > 0; k++ {
		if has(&o.c.Parts[k], catalogue.Host) {
			o.beyond(all, append(seated[:len(seated):len(seated)], gear{part: &o.c.Parts[k]}), k, more, left-1)
		}
	}
}

func (o *reachOracle) judge(all, seated []gear) {
	sum := int64(0)
	used, caps, there := map[string]int{}, map[string]int{}, map[string]int{}
	for _, x := range o.p.Existing {
		there[x.Part] = x.Count
	}
	for _, g := range append(all[:len(all):len(all)], seated...) {
		if there[g.part.ID]--; there[g.part.ID] < 0 {
			sum += int64(math.Round(g.part.Price["GBP"] * 100))
		}
		used[g.part.Radio]++
		for _, r := range g.part.Host.Radios {
			caps[r] += g.part.Host.Children[r]
		}
		if o.p.Choices.Aim == string(bill.Resilience) && !g.spare && !has(g.part, catalogue.Host) {
			sum += big * lost(g.part)
		}
	}
	for r, n := range used {
		if r != "" && n > caps[r] {
			return
		}
	}
	if o.lost == 0 && sum >= o.best {
		return
	}
	out := 0
	if !slices.ContainsFunc(o.p.Controllers, func(c model.Controller) bool { return o.placed(c.Room) }) {
		seated, all = nil, nil
	}
	for _, r := range []string{"zigbee", "wifi", "thread"} {
		out += o.unheard(r, all, seated)
	}
	if out < o.lost || out == o.lost && sum < o.best {
		o.lost, o.best = out, sum
	}
}

// unheard counts the rooms with devices of a radio that no controller hears.
func (o *reachOracle) unheard(radio string, all, seated []gear) int {
	reached := map[string]bool{} // rooms from which messages get on
	for _, s := range seated {
		if !slices.Contains(s.part.Host.Radios, radio) {
			continue
		}
		room := s.room
		if room == "" {
			for _, c := range o.p.Controllers {
				if room == "" && o.placed(c.Room) {
					room = c.Room
				}
			}
		}
		if !o.placed(room) {
			return 0
		}
		reached["@"+room] = true
	}
	for again := true; again; {
		again = false
		for _, g := range all {
			if g.part.Radio != radio || !g.part.Repeats || radio == "wifi" || reached[g.room] || !o.placed(g.room) {
				continue
			}
			for at := range reached {
				if o.heard(g.room, at, radio, 10) {
					reached[g.room], again = true, true
					break
				}
			}
		}
	}
	out := map[string]bool{}
	for _, g := range all {
		if g.part.Radio != radio || g.spare || !o.placed(g.room) {
			continue
		}
		least, ok := 10.0, false
		if has(g.part, catalogue.SenseWet) && g.part.Supply == "battery" {
			least = 20
		}
		for at := range reached {
			ok = ok || o.heard(g.room, at, radio, least)
		}
		if !ok {
			out[g.room] = true
		}
	}
	return len(out)
}

// Every device is in reach by the cheapest way there is.
func TestReachIsTheMinimumOfEverything(t *testing.T) { reachIsTheMinimum(t) }

// And so it is where routes aren't tried one by one, as in larger homes.
func TestReachIsTheMinimumInOneProgram(t *testing.T) {
	defer bill.TryRoutes(0)()
	reachIsTheMinimum(t)
}

func reachIsTheMinimum(t *testing.T) {
	repeaters, dearer := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p, c, ns := farHome(t)
		p.Choices.Aim = string(rapid.SampledFrom([]bill.Aim{bill.Cost, bill.Resilience}).Draw(t, "aim"))
		o := &reachOracle{p: p, c: c, ns: ns}
		if o.solve(); o.best == math.MaxInt64 {
			return // no controllers hold it
		}
		b, err := bill.Cheapest(context.Background(), p, c, ns, rules.Sheet{})
		if err != nil {
			t.Fatal(err)
		}
		out := map[string]bool{}
		for _, u := range b.Unmet {
			if u.Got == "is out of reach" {
				room, _, _ := strings.Cut(u.Need, "/")
				radio := strings.Fields(u.Reason)[1]
				out[room+radio] = true
			}
		}
		got := net(b)
		if b.Aim == bill.Resilience {
			got += big * int64(b.Losses.All())
		}
		if len(out) != o.lost || got != o.best {
			t.Fatalf("bill is %d with %d out of reach, the best of all is %d with %d\n%s", got, len(out), o.best, o.lost, bill.Text(b, 100, nil))
		}
		if slices.ContainsFunc(b.Lines, func(l bill.Line) bool { return strings.HasPrefix(l.Part, "repeater") }) {
			repeaters++
		}
		near := *p
		near.Controllers = nil
		if free, err := bill.Cheapest(context.Background(), &near, c, ns, rules.Sheet{}); err == nil && net(free) < net(b) {
			dearer++
		}
	})
	if !testing.Short() && (repeaters == 0 || dearer == 0) { // few homes may have none
		t.Errorf("of all homes, %d have repeaters and %d cost more for reach", repeaters, dearer)
	}
}

// What the next best part of a line costs more is what the best home without the line's part there costs more.
func TestTheNextBestInReachIsTheMinimumOfEverything(t *testing.T) { nextBestInReach(t, true) }

// Where the routes are kept it may cost more than that, but no less.
func TestTheNextBestOnKeptRoutesCostsNoLess(t *testing.T) {
	defer bill.TryRoutes(0)()
	nextBestInReach(t, false)
}

func nextBestInReach(t *testing.T, exactly bool) {
	some, none := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p, c, ns := farHome(t)
		o := &reachOracle{p: p, c: c, ns: ns}
		if o.solve(); o.best == math.MaxInt64 {
			return // no controllers hold it
		}
		b, err := bill.Cheapest(context.Background(), p, c, ns, rules.Sheet{})
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range b.Lines {
			if !strings.HasPrefix(l.Part, "part-") {
				continue
			}
			next := &reachOracle{p: p, c: c, ns: ns, ban: banned(ns, l)}
			for id := range next.ban {
				if !next.servable(id) {
					next = nil
					break
				}
			}
			if next != nil {
				next.solve()
			}
			switch can := next != nil && next.best < math.MaxInt64 && next.lost <= o.lost; {
			case can != (l.RunnerUp != ""):
				t.Fatalf("next best of %s in %s: %q; whether there is one: %v", l.Part, l.Room, l.RunnerUp, can)
			case can && (exactly && int64(l.RunnerAt) != next.best-o.best || int64(l.RunnerAt) < next.best-o.best):
				t.Fatalf("next best of %s in %s: %s at %d, the best of all is at %d\n%s", l.Part, l.Room, l.RunnerUp, l.RunnerAt, next.best-o.best, bill.Text(b, 100, nil))
			case can:
				some++
			default:
				none++
			}
		}
	})
	if !testing.Short() && (some == 0 || none == 0) {
		t.Errorf("%d lines have a next best part, %d have none", some, none)
	}
}

// banned has the part of a line do nothing of what it does there, nor of what it might share in that room.
func banned(ns []needs.Need, l bill.Line) map[string]string {
	ban := map[string]string{}
	for _, n := range ns {
		for _, m := range ns {
			shares := m.Room == n.Room && m.Wants[0] == n.Wants[0] && n.Wants[0] != catalogue.SwitchFan
			if slices.Contains(l.Covers, m.ID) && (m.ID == n.ID || shares) {
				ban[n.ID] = l.Part
			}
		}
	}
	return ban
}

// servable reports whether a need has a part but for what is banned.
func (o *reachOracle) servable(id string) bool {
	i := slices.IndexFunc(o.ns, func(n needs.Need) bool { return n.ID == id })
	return slices.ContainsFunc(o.c.Parts, func(part catalogue.Part) bool {
		return has(&part, o.ns[i].Wants[0]) && spokenBy(o.c, part.Radio) && o.ban[id] != part.ID
	})
}

// row is three rooms of 4 m by 4 m, 16 m from middle to middle, with concrete walls and a controller in the first.
func row() (*model.Project, *catalogue.Catalogue) {
	p := &model.Project{}
	p.Home.Currency, p.Home.Mains.Voltage = "GBP", 230
	p.Home.Terms.Labour = q.HourlyRate{Amount: 60, Currency: "GBP"}
	p.Home.Walls = model.Know("concrete")
	for i, id := range []string{"hall", "den", "barn"} {
		p.Rooms = append(p.Rooms, model.Room{ID: id, Name: strings.ToUpper(id[:1]) + id[1:], Outline: model.Outline{X: q.Length(16 * i), Width: 4, Depth: 4, Ceiling: 2.4}})
	}
	p.Controllers = []model.Controller{{ID: "shelf", Room: "hall"}}
	pounds := func(x float64) map[string]float64 { return map[string]float64{"GBP": x} }
	return p, &catalogue.Catalogue{Version: 1, Dated: "2026-03", Limits: []catalogue.Limits{{ID: "any", Offline: true}}, Parts: []catalogue.Part{
		{ID: "box", Name: "Controller", Kind: "controller", Does: []catalogue.Ability{catalogue.Host}, Price: pounds(50),
			Host: catalogue.HostSpec{Radios: []string{"zigbee", "wifi"}, Children: map[string]int{"zigbee": 20, "wifi": 20}, Limits: "any"}},
		{ID: "motion", Name: "Motion sensor", Kind: "motion sensor", Does: []catalogue.Ability{catalogue.SenseMotion}, Radio: "zigbee", Supply: "battery", Price: pounds(10)},
		{ID: "probe", Name: "Leak probe, Wi-Fi", Kind: "leak probe", Does: []catalogue.Ability{catalogue.SenseWet}, Radio: "wifi", Supply: "mains", Price: pounds(20)},
		{ID: "repeater", Name: "Repeater", Kind: "repeater", Does: []catalogue.Ability{catalogue.Repeat}, Radio: "zigbee", Repeats: true, Supply: "mains", Price: pounds(12)},
		{ID: "strong", Name: "Repeater, strong", Kind: "repeater", Does: []catalogue.Ability{catalogue.Repeat}, Radio: "zigbee", Repeats: true, Supply: "mains", Price: pounds(15)},
	}}
}

// A link of 32 m through four walls of concrete fails, 16 m through two work: 101 dB, less 39.8 dB + 28 log 32 = 42.1 dB and four
// times 8.5 dB, are -15 dB; by the den it is 101 - 39.8 - 33.7 - 17 = 10.5 dB.
func TestARepeaterSaysWhatItCarries(t *testing.T) {
	p, shelf := row()
	b, err := bill.Cheapest(t.Context(), p, shelf, []needs.Need{motion("barn")}, rules.Sheet{})
	if err != nil {
		t.Fatal(err)
	}
	l := line(t, b, "repeater")
	if want := "Carries motion to a controller: 10 dB to spare on the way to what hears it, where straight to a controller it is out of hearing, and 10 dB are wanted."; l.Reason != want || l.Room != "den" {
		t.Errorf("%s: %q", l.Room, l.Reason)
	}
	if l.RunnerUp != "strong" || l.RunnerAt != 300 || len(b.Unmet) != 0 || net(b) != 7200 {
		t.Errorf("%+v %v %d", l, b.Unmet, net(b))
	}
	if !slices.ContainsFunc(b.Devices, func(d bill.Device) bool { return d.Part == "repeater" && d.Room == "den" && d.ID == "den/repeater" }) {
		t.Errorf("%+v", b.Devices)
	}
}

// A sensor whose place is noted is heard from there: from the middle of the barn, 16 m away, the den has 101 - 39.8 - 28 log 16 - 17 =
// 10.5 dB, from the far corner, 18.1 m away, 9 dB, which is too little; from the near corner, from which places are counted, 14.1 m
// away, it has 12 dB: a place of nothing and nothing is that corner, and not a place that nobody noted.
func TestANotedPlaceDecides(t *testing.T) {
	for _, c := range []struct {
		at    model.Fact[model.Point]
		spare float64
		unmet int
	}{{model.Fact[model.Point]{}, 10.5, 0}, {model.Know(model.Point{}), 12, 0}, {model.Know(model.Point{X: 0.2, Y: 2}), 11.9, 0}, {model.Know(model.Point{X: 4, Y: 4}), 9, 1}} {
		p, shelf := row()
		if at, ok := c.at.Get(); ok {
			p.Choices.Places = map[string]model.Point{"barn/motion": at}
		}
		h, err := physics.Link(p, physics.Spot{Room: "barn", At: c.at}, physics.Spot{Room: "den"}, "zigbee", false)
		if err != nil {
			t.Fatal(err)
		}
		b, err := bill.Cheapest(t.Context(), p, shelf, []needs.Need{motion("barn")}, rules.Sheet{})
		if err != nil {
			t.Fatal(err)
		}
		if len(b.Unmet) != c.unmet || h.OK != (c.unmet == 0) || math.Abs(h.Margin.Spare-c.spare) > 0.06 {
			t.Errorf("%v: %v with %.1f dB", c.at, b.Unmet, h.Margin.Spare)
		}
	}
}

// What no way brings into reach is said, with what to do; the rest is planned.
func TestOutOfReachIsSaid(t *testing.T) {
	p, shelf := row()
	wet := needs.Need{ID: "barn/probe", Room: "barn", Goal: "leak", Name: "water at the tap", Wants: []catalogue.Ability{catalogue.SenseWet}}
	b, err := bill.Cheapest(t.Context(), p, shelf, []needs.Need{motion("barn"), wet}, rules.Sheet{})
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Unmet) != 1 || b.Unmet[0].Need != "barn/probe" || b.Unmet[0].Reason != "On Wi-Fi it is out of hearing of every controller, and 10 dB to spare are wanted." {
		t.Errorf("%+v", b.Unmet)
	}
	line(t, b, "repeater")
}

// Where rooms aren't drawn, or nobody says where a controller stands, all is taken to be in reach, and that is said once.
func TestUnknownReachIsSaidOnce(t *testing.T) {
	for _, c := range []struct {
		change func(*model.Project)
		says   string
	}{
		{func(p *model.Project) { p.Rooms[2].Outline = model.Outline{} }, "No outline is noted for Barn, so what is there is taken to be in reach of a controller; draw it to be sure."},
		{func(p *model.Project) { p.Controllers = nil }, "Nobody noted where a controller stands, so every device is taken to be in reach of it; note its room to be sure."},
	} {
		p, shelf := row()
		c.change(p)
		b, err := bill.Cheapest(t.Context(), p, shelf, []needs.Need{motion("barn")}, rules.Sheet{})
		if err != nil {
			t.Fatal(err)
		}
		without(t, b, "repeater")
		if n := strings.Count(bill.Text(b, 1000, nil), c.says[:40]); n != 1 || !slices.ContainsFunc(b.Assumed, func(a bill.Assumption) bool { return a.Text == c.says }) {
			t.Errorf("%d times: %+v", n, b.Assumed)
		}
	}
}
