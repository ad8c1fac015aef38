package ideal

import (
	"testing"
	"time"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
)

// clock reads a time of day as the project file writes it.
func clock(t testing.TB, s string) q.DayTime {
	t.Helper()
	var d q.DayTime
	if err := d.UnmarshalText([]byte(s)); err != nil {
		t.Fatal(err)
	}
	return d
}

func want[T any](v T) model.Goal[T] { return model.Goal[T]{State: model.Wanted, Want: v} }

func minutes(n int) q.Span { return q.Span(time.Duration(n) * time.Minute) }

// showerRoom has a door that is usually shut, two lamps, a fan, and water.
func showerRoom(t testing.TB) model.Room {
	return model.Room{
		ID: "shower-room", Name: "Shower room", Kind: "shower room",
		Doors: []model.Door{{ID: "door", To: "landing", Usually: "closed"}},
		Circuits: []model.Circuit{
			{ID: "ceiling", Lamps: 3, Flux: 470, Base: "GU10", Switch: model.Know("box-1")},
			{ID: "mirror", Lamps: 1, Flux: 450, Base: "integrated", Dimmable: model.Know(false), Switch: model.Know("box-1")},
		},
		Switches: []model.SwitchBox{{ID: "box-1", Gangs: 2, Depth: model.Know(q.Length(0.035))}},
		Fans:     []model.Fan{{ID: "extract", Power: 18, Switch: model.Know("box-1")}},
		Water:    []model.Water{{ID: "cistern", Kind: "supply"}, {ID: "tray", Kind: "waste"}, {ID: "cock", Kind: "stopcock", Pipe: model.Know(q.Length(0.015))}},
		Brief: model.Brief{
			Lighting: want(model.Lighting{Start: "on entry", KeepManual: true,
				Stop: model.Stop{After: minutes(6), NeverWhile: "occupied"},
				Periods: []model.Period{
					{From: clock(t, "06:20"), Level: 90, Colour: 4000},
					{From: clock(t, "sunset"), Level: 35, Colour: 2700},
					{From: clock(t, "22:45"), Level: 4, Colour: 2200, Circuits: []string{"mirror"}},
				}}),
			Ventilation: want(model.Ventilation{Ceiling: model.State(65), Within: minutes(45), AtMost: q.Allowance(minutes(120)),
				OnRequest: []model.Request{{Run: minutes(20)}},
				Quiet:     model.Quiet{From: clock(t, "23:00"), To: clock(t, "06:00"), Except: "humidity"}}),
			Leak: want(model.Leak{Points: []string{"cistern", "tray"}, Tell: []string{"rosa", "dilip"}, Within: minutes(1), Again: minutes(10),
				Sound: true, Shut: "shower-room/cock"}),
			Buttons: want([]model.Button{{ID: "by-basin", Press: model.Deed{Verb: model.Lights, Level: 100},
				Double: model.Deed{Verb: model.FanRun, Run: minutes(20)}, Hold: model.Deed{Verb: model.EverythingOff}}}),
		},
	}
}

func utility() model.Room {
	return model.Room{
		ID: "utility", Name: "Utility room", Kind: "utility room",
		Appliances: []model.Appliance{
			{ID: "iron", Kind: "clothes iron", Power: 2400}, {ID: "freezer", Kind: "freezer", MustStayOn: true},
		},
		Brief: model.Brief{
			Shutoff: want([]model.Shutoff{{Appliance: "iron", After: minutes(25), Idle: model.Idle{Below: 20, For: minutes(8)},
				Warn: minutes(3), Extend: "button"}}),
		},
	}
}

func alderRow(t testing.TB) *model.Project {
	return &model.Project{
		Home: model.Home{Place: model.Place{Latitude: 53.96, Longitude: -1.08, Timezone: "Europe/London"}},
		People: []model.Person{
			{ID: "rosa", Name: "Rosa", Alerts: true}, {ID: "dilip", Name: "Dilip next door", Alerts: true}, {ID: "cat", Role: "pet"},
		},
		Controllers: []model.Controller{{ID: "under-stairs", Room: "utility"}},
		// The stories are played with doors that don't wait for people who keep still; TestAnyHouseholdWithPatientDoors has the others.
		Choices: model.Choices{Doors: map[string]string{"shower-room": "brisk"}},
		Rooms:   []model.Room{showerRoom(t), utility()},
	}
}
