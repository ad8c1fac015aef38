package ideal

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

func TestNeedsHoldTheFactsOfTheHouse(t *testing.T) {
	d := Draft(alderRow(t))
	at := func(id string) int {
		i, ok := find(d, id)
		if !ok {
			t.Fatalf("no need %s", id)
		}
		return i
	}
	n := d.Needs[at("shower-room/ceiling")]
	if n.Facts.Box != "shower-room/box-1" || n.Facts.Gangs != 2 || n.Facts.Lamps != 3 || n.Facts.Ingress != "IPX4" || n.Facts.LoadKind != catalogue.LED ||
		int(n.Facts.Load+0.5) != 16 || n.Facts.Neutral.State != model.Absent {
		t.Errorf("%+v", n)
	}
	if got := fmt.Sprint(n.Wants); got != "[tune lamps dim lamps switch lamps]" {
		t.Error(got)
	}
	if n = d.Needs[at("utility/iron")]; n.Facts.Load != 2400 || n.Facts.LoadKind != catalogue.Resistive || n.Also[0] != "utility/iron-power" {
		t.Errorf("%+v", n)
	}
	if n = d.Needs[at("shower-room/cock-valve")]; n.Facts.Pipe.Value != 0.015 {
		t.Errorf("%+v", n)
	}
	if n = d.Needs[at("shower-room/by-basin")]; fmt.Sprint(n.Facts.Presses) != "[press double hold]" {
		t.Errorf("%+v", n)
	}
	hosts := 0
	for _, n := range d.Needs {
		if n.Why == "" || n.Name == "" || n.Goal == "" || len(n.Wants) == 0 {
			t.Errorf("need without words: %+v", n)
		}
		if n.Wants[0] == catalogue.Host {
			hosts++
		}
	}
	if hosts != 1 {
		t.Errorf("%d controllers", hosts)
	}
}

func TestBriefsThatCannotBeDone(t *testing.T) {
	for name, tt := range map[string]struct {
		spoil   func(p *model.Project)
		at      string
		serious bool
	}{
		"air without a fan":          {func(p *model.Project) { p.Rooms[0].Fans = nil }, "rooms/shower-room/brief/ventilation", true},
		"light without a circuit":    {func(p *model.Project) { p.Rooms[0].Circuits = nil }, "rooms/shower-room/brief/lighting", true},
		"a circuit without a box":    {func(p *model.Project) { p.Rooms[0].Circuits[0].Switch = model.Fact[string]{} }, "rooms/shower-room/circuits/ceiling/switch", false},
		"no stop":                    {func(p *model.Project) { p.Rooms[0].Brief.Lighting.Want.Stop.After = 0 }, "rooms/shower-room/brief/lighting/stop/after", false},
		"no doors":                   {func(p *model.Project) { p.Rooms[0].Doors = nil }, "rooms/shower-room/doors", false},
		"two periods in one":         {func(p *model.Project) { p.Rooms[0].Brief.Lighting.Want.Periods[1].From = clock(t, "06:20") }, "rooms/shower-room/brief/lighting/periods/0/from", true},
		"sun without a place":        {func(p *model.Project) { p.Home.Place.Timezone = "" }, "rooms/shower-room/brief/lighting/periods", false},
		"nobody to tell":             {func(p *model.Project) { p.People = nil; p.Rooms[0].Brief.Leak.Want.Sound = false }, "rooms/shower-room/brief/leak/tell", true},
		"no stopcock":                {func(p *model.Project) { p.Rooms[0].Brief.Leak.Want.Shut = "shower-room/tray" }, "rooms/shower-room/brief/leak/shut", true},
		"a limit and no time":        {func(p *model.Project) { p.Rooms[1].Brief.Shutoff.Want[0] = model.Shutoff{Appliance: "iron"} }, "rooms/utility/brief/shutoff/0", true},
		"an appliance that must run": {func(p *model.Project) { p.Rooms[1].Brief.Shutoff.Want[0].Appliance = "freezer" }, "rooms/utility/brief/shutoff/0", true},
		"extends what has no limit": {func(p *model.Project) {
			p.Rooms[0].Brief.Buttons.Want[0].Press = model.Deed{Verb: model.Extend, Appliance: "kettle"}
		}, "rooms/shower-room/brief/buttons/by-basin", true},
		"acknowledges nothing": {func(p *model.Project) {
			p.Rooms[0].Brief.Leak = model.Goal[model.Leak]{}
			p.Rooms[0].Brief.Buttons.Want[0].Press = model.Deed{Verb: model.Acknowledge}
		}, "rooms/shower-room/brief/buttons/by-basin", false},
	} {
		t.Run(name, func(t *testing.T) {
			p := alderRow(t)
			tt.spoil(p)
			d := Draft(p)
			found := false
			for _, f := range d.Findings {
				found = found || f.At == tt.at && f.Serious == tt.serious
			}
			if !found {
				t.Errorf("no finding at %s in %v", tt.at, d.Findings)
			}
			if _, err := rules.Compile(d.Sheet); err != nil {
				t.Error(err)
			}
		})
	}
}

// A room drafted alone is its part of the whole, and edits elsewhere change none of its names.
func TestRoomsAreDraftedAlone(t *testing.T) {
	p := alderRow(t)
	o := Usual()
	o.Year = yearOf(p)
	var all Drafted
	for _, r := range p.Rooms {
		d, ok := DraftRoom(p, r.ID, o)
		if !ok {
			t.Fatal(r.ID)
		}
		all.add(d)
	}
	all.add(DraftShared(p, o))
	if !reflect.DeepEqual(all, Draft(p)) {
		t.Error("the rooms don't add up to the home")
	}
	if _, ok := DraftRoom(p, "attic", o); ok {
		t.Error("drafted a room that isn't there")
	}
	before, _ := DraftRoom(p, "utility", o)
	p.Rooms[0].Brief.Ventilation = model.Goal[model.Ventilation]{}
	after, _ := DraftRoom(p, "utility", o)
	if !reflect.DeepEqual(before, after) {
		t.Error("an edit of one room changed another")
	}
}

func TestNoDraftOfNothing(t *testing.T) {
	d := Draft(&model.Project{})
	if len(d.Sheet.Rules)+len(d.Needs)+len(d.Findings) != 0 {
		t.Errorf("%+v", d)
	}
}

// anyRoom has any goals, over a survey that may lack what they need. Ids of different lists may be alike.
func anyRoom(t *rapid.T, id string) model.Room {
	id2 := rapid.SampledFrom([]string{"a", "b", "motion", "by-hand", "damp"})
	span := rapid.Custom(func(t *rapid.T) q.Span { return q.Span(rapid.IntRange(0, 90).Draw(t, "min")) * q.Span(time.Minute) / 2 })
	day := rapid.Custom(func(t *rapid.T) q.DayTime {
		return q.DayTime{Sun: q.Sun(rapid.IntRange(0, 4).Draw(t, "sun")), Offset: time.Duration(rapid.IntRange(0, 23).Draw(t, "h")) * time.Hour}
	})
	deed := rapid.Custom(func(t *rapid.T) model.Deed {
		return model.Deed{Verb: model.Verb(rapid.IntRange(0, int(model.Acknowledge)).Draw(t, "verb")), Level: q.Percent(rapid.IntRange(0, 100).Draw(t, "level")),
			Run: q.Span(time.Minute), Appliance: id2.Draw(t, "appliance")}
	})
	r := model.Room{ID: id, Kind: rapid.SampledFrom([]string{"shower room", "hall", "bedroom", "garage", "??"}).Draw(t, "kind")}
	for i := range rapid.IntRange(0, 2).Draw(t, "doors") {
		r.Doors = append(r.Doors, model.Door{ID: []string{"a", "b"}[i], To: rapid.SampledFrom([]string{"r0", "r1", "outside"}).Draw(t, "to"),
			Usually: rapid.SampledFrom([]string{"", "open", "closed", "none"}).Draw(t, "usually")})
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "circuits") {
		r.Circuits = append(r.Circuits, model.Circuit{ID: []string{"a", "motion"}[i], Flux: 400})
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "fans") {
		r.Fans = append(r.Fans, model.Fan{ID: []string{"a", "b"}[i]})
	}
	r.Water = []model.Water{{ID: "a", Kind: "stopcock"}, {ID: "b", Kind: "waste"}}
	r.Appliances = []model.Appliance{{ID: "a", Kind: rapid.SampledFrom([]string{"iron", "television", "freezer"}).Draw(t, "appliance kind")}, {ID: "b", Kind: "tumble dryer"}}
	flip := func(name string) bool { return rapid.Bool().Draw(t, name) }
	b := &r.Brief
	if flip("light") {
		l := model.Lighting{Start: rapid.SampledFrom([]string{"", "on entry", "on request"}).Draw(t, "start"), KeepManual: flip("manual"),
			Stop: model.Stop{After: span.Draw(t, "after"), NeverWhile: rapid.SampledFrom([]string{"", "moving", "occupied"}).Draw(t, "never")}}
		for range rapid.IntRange(0, 4).Draw(t, "periods") {
			p := model.Period{From: day.Draw(t, "from"), Level: q.Percent(rapid.SampledFrom([]int{0, 4, 100}).Draw(t, "level")), Colour: q.ColourTemp(rapid.SampledFrom([]int{0, 2700}).Draw(t, "colour"))}
			if flip("some") {
				p.Circuits = []string{"a"}
			}
			l.Periods = append(l.Periods, p)
		}
		b.Lighting = want(l)
	}
	if flip("air") {
		v := model.Ventilation{Ceiling: rapid.SampledFrom([]model.Ceiling{{}, model.State(65), {Reckoned: true}}).Draw(t, "ceiling"), AtMost: q.Allowance(span.Draw(t, "most"))}
		if flip("people") {
			v.WithPeople = model.WithPeople{After: span.Draw(t, "people after"), RunOn: span.Draw(t, "run on")}
		}
		if flip("quiet") {
			v.Quiet = model.Quiet{From: day.Draw(t, "quiet from"), To: day.Draw(t, "quiet to"), Except: rapid.SampledFrom([]string{"", "humidity", "request", "both", "nothing"}).Draw(t, "except")}
		}
		if flip("request") {
			v.OnRequest = []model.Request{{Run: q.Span(time.Hour)}}
		}
		b.Ventilation = want(v)
	}
	if flip("leak") {
		b.Leak = want(model.Leak{Points: []string{"b", "a"}[:rapid.IntRange(0, 2).Draw(t, "points")], Tell: []string{"p"}[:rapid.IntRange(0, 1).Draw(t, "tell")],
			Again: span.Draw(t, "again"), Sound: flip("sound"), Shut: rapid.SampledFrom([]string{"", "r0/a", "r1/a", "x/y", "r0/b"}).Draw(t, "shut")})
	}
	if flip("shutoff") {
		for range rapid.IntRange(1, 2).Draw(t, "shutoffs") {
			b.Shutoff.Want = append(b.Shutoff.Want, model.Shutoff{Appliance: rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "which"), After: span.Draw(t, "limit"),
				Warn: span.Draw(t, "warn"), Extend: rapid.SampledFrom([]string{"button", "no", ""}).Draw(t, "extend"), Idle: model.Idle{Below: 10, For: span.Draw(t, "idle")}})
		}
		b.Shutoff.State = model.Wanted
	}
	if flip("buttons") {
		b.Buttons = want([]model.Button{{ID: id2.Draw(t, "button"), Press: deed.Draw(t, "press"), Double: deed.Draw(t, "double"), Hold: deed.Draw(t, "hold")}})
	}
	return r
}

func anyHome(t *rapid.T) *model.Project {
	p := &model.Project{People: []model.Person{{ID: "p", Alerts: rapid.Bool().Draw(t, "alerts")}}}
	for i := range rapid.IntRange(1, 3).Draw(t, "rooms") {
		p.Rooms = append(p.Rooms, anyRoom(t, fmt.Sprint("r", i)))
	}
	return p
}

// unwanted are words that belong to other programs, or that the glossary keeps out.
var unwanted = []string{"trigger", "condition", "action", "automation", "routine", "scene", "%!", " if ", " then "}

func TestAnyHomeIsDraftedIntoRulesThatRun(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyHome(t)
		d := Draft(p)
		if !reflect.DeepEqual(d, Draft(p)) {
			t.Fatal("two drafts of one home differ")
		}
		if _, err := rules.Compile(d.Sheet); err != nil {
			t.Fatal(err)
		}
		kinds := map[string]rules.ThingKind{}
		for _, x := range d.Sheet.Things {
			kinds[x.ID] = x.Kind
		}
		ids := map[string]bool{}
		for _, n := range d.Needs {
			if ids[n.ID] {
				t.Fatalf("two needs %s", n.ID)
			}
			ids[n.ID] = true
		}
		words := rules.NewWording(d.Sheet)
		for _, r := range d.Sheet.Rules {
			w := words.Rule(r)
			for _, s := range []string{r.Purpose, w.Cause, w.Guard, w.Effect, w.Hold} {
				for _, bad := range unwanted {
					if strings.Contains(strings.ToLower(s), bad) {
						t.Fatalf("%s says %q: %s", r.ID, bad, s)
					}
				}
			}
			if r.Purpose == "" || r.Goal == "" {
				t.Fatalf("%s has no purpose or goal", r.ID)
			}
			for _, e := range r.Effects {
				if e.Kind == rules.Set && (kinds[e.Thing] == rules.Plug && e.Value.On || kinds[e.Thing] == rules.Valve && !e.Value.On) {
					t.Fatalf("%s switches %s", r.ID, e.Thing)
				}
			}
		}
		for _, x := range d.Sheet.Things {
			if x.Kind != rules.Flag && x.Kind != rules.Meter && !ids[x.ID] {
				t.Fatalf("nothing is bought for %s", x.ID)
			}
		}
	})
}

func BenchmarkDraft(b *testing.B) {
	for _, n := range []int{10, 100, 1000} {
		p := alderRow(b)
		base := p.Rooms
		p.Rooms = nil
		for i := range n {
			r := base[i%len(base)]
			r.ID = fmt.Sprintf("%s-%d", r.ID, i)
			p.Rooms = append(p.Rooms, r)
		}
		b.Run(fmt.Sprintf("%d rooms", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Draft(p)
			}
		})
	}
	p := alderRow(b)
	o := Usual()
	o.Year = yearOf(p)
	b.Run("one room", func(b *testing.B) {
		for b.Loop() {
			DraftRoom(p, "shower-room", o)
		}
	})
	b.Run("sun of a year", func(b *testing.B) {
		for b.Loop() {
			yearOf(p)
		}
	})
}

func TestNoControllerForNoRules(t *testing.T) {
	p := &model.Project{Rooms: []model.Room{{ID: "hall", Kind: "hall"}}}
	if d := Draft(p); len(d.Needs) != 0 || len(d.Sheet.Rules) != 0 {
		t.Errorf("a home that asks for nothing needs %v for %d rules", d.Needs, len(d.Sheet.Rules))
	}
}
