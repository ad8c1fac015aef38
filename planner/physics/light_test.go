package physics

import (
	"strings"
	"testing"
	"time"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
)

// A study of 4 by 5 m under 2.4 m, read at 0.75 m: K = 20/(1.65 × 9) = 1.347, UF between 0.40 and 0.46 is 0.442; three lamps of
// 800 lm at 0.8 give 3 × 800 × 0.442 × 0.8/20 = 42.4 lx, and 75 are usual: 3 more at 14.1 lx each.
func TestLightByHand(t *testing.T) {
	p := &model.Project{}
	r := model.Room{ID: "study", Kind: "study", Outline: model.Outline{Width: 4, Depth: 5, Ceiling: 2.4},
		Circuits: []model.Circuit{{ID: "ceiling", Lamps: 3, Flux: 800}}}
	l, err := Light(p, r)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "K", l.Index, 1.3468, 1e-4)
	near(t, "UF", l.Utilisation, 0.4416, 1e-4)
	near(t, "lux", l.Tasks[0].Lux, 42.4, 0.05)
	if l.Tasks[0].Add != 3 || l.OK || !strings.Contains(l.Say, "only about 42 lx in the study where 75 to 150 lx is usual: 3 more lamps like those there do it") {
		t.Errorf("%d, %s", l.Tasks[0].Add, l.Say)
	}
	r.Circuits[0].Lamps = 6
	if l, _ = Light(p, r); !l.OK || l.Tasks[0].Add != 0 {
		t.Error(l.Say)
	}
}

// A lamp over its own task: 1400 lm × 0.5 × 0.7 over 1.2 m² are 408 lx, on top of what the ceiling gives.
func TestTaskLight(t *testing.T) {
	r := model.Room{ID: "kitchen", Kind: "kitchen", Outline: model.Outline{Width: 4, Depth: 4, Ceiling: 2.5},
		Circuits: []model.Circuit{{ID: "worktop", Lamps: 1, Flux: 1400}}}
	l, err := Light(&model.Project{}, r)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "worktop", l.Tasks[1].Lux, 1400*0.5*0.7/1.2, 1e-6)
	if l.Tasks[1].Circuit != "worktop" || l.Tasks[1].Add != 0 {
		t.Errorf("%+v", l.Tasks[1])
	}
	r.Circuits[0].Flux = 400
	if l, _ = Light(&model.Project{}, r); l.Tasks[1].Add != 2 { // 117 lx each, 300 wanted
		t.Errorf("%+v", l.Tasks[1])
	}
}

func TestNightLight(t *testing.T) {
	p, r := home(t, "alder-row", "shower-room")
	l, err := Light(p, r)
	if err != nil {
		t.Fatal(err)
	}
	at := func(level q.Percent) PeriodLux {
		return l.At(model.Period{From: q.DayTime{Offset: 23 * time.Hour}, Level: level, Circuits: []string{"mirror"}}, q.Metric)
	}
	for _, c := range []struct {
		level q.Percent
		says  string
	}{{1, "too little to see a step by"}, {8, "enough to see by"}, {2, "gives 1.0 lx"}} {
		if got := at(c.level); !got.Night || !strings.Contains(got.Say, c.says) {
			t.Errorf("%v: %q lacks %q", c.level, got.Say, c.says)
		}
	}
	if full := at(20); full.Floor <= 0 || full.Floor >= full.Lux*1.5 {
		t.Errorf("%+v", full)
	}
	if day := l.At(model.Period{From: q.DayTime{Offset: 7 * time.Hour}, Level: 25}, q.Metric); day.Night || day.Seen != 0.5 {
		t.Errorf("%+v", day)
	}
}

func TestStairsStayLit(t *testing.T) {
	p, r := home(t, "alder-row", "stairs")
	r.Brief.Lighting.Want.Periods[2].Level = 5
	l, err := Light(p, r)
	if err != nil {
		t.Fatal(err)
	}
	if l.OK || l.Caution != "life safety" || !strings.Contains(l.Say, "stairs need 11 lx while they are used: dim them no further than") {
		t.Error(l.Say)
	}
}

func TestUnknownLampsAreDark(t *testing.T) {
	r := model.Room{ID: "hall", Name: "Hall", Kind: "hall", Outline: model.Outline{Width: 2, Depth: 4, Ceiling: 2.4}, Circuits: []model.Circuit{{ID: "a"}, {ID: "b", Power: 9}}}
	l, err := Light(&model.Project{}, r)
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Assumed) != 2 || !strings.Contains(l.Because(), "hall/a is noted, it counts as dark") || l.Tasks[0].Lux == 0 {
		t.Error(l.Because())
	}
	r.Circuits = nil
	if l, _ = Light(&model.Project{}, r); l.Say != "No lamps are noted in the hall; note its circuits." {
		t.Error(l.Say)
	}
}
