package promises

import (
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// A note that the clock makes at 06:00 and forgets at 22:00 stands from the start or doesn't, as the hour has it: where the hour is in no
// state, a story may begin both ways.
func TestAStoryAtAnyHourBeginsAsEachHourHasIt(t *testing.T) {
	clock := func(at q.DayTime, on bool) rules.Rule {
		return rules.Rule{Room: "hall", Cause: rules.Cause{Kind: rules.Clock, At: at}, Effects: []rules.Effect{{Kind: rules.Set, Thing: "hall/by-day", Value: rules.Value{On: on}}}}
	}
	day, night := clock(q.DayTime{Offset: 6 * time.Hour}, true), clock(q.DayTime{Offset: 22 * time.Hour}, false)
	day.ID, night.ID = "hall/day", "hall/night"
	lit := rules.Rule{ID: "hall/lit", Room: "hall", Cause: rules.Cause{Kind: rules.Reports, Thing: "hall/motion", On: true},
		Guard: []rules.Literal{{Kind: rules.Is, Thing: "hall/by-day"}}, Effects: []rules.Effect{{Kind: rules.Set, Thing: "hall/lamp", Value: rules.Value{On: true, Level: 40}}}}
	sheet := rules.Sheet{Rules: []rules.Rule{day, night, lit}, Things: []rules.Thing{
		{ID: "hall/motion", Room: "hall", Kind: rules.Motion}, {ID: "hall/lamp", Room: "hall", Kind: rules.Lamp}, {ID: "hall/by-day", Room: "hall", Kind: rules.Flag}}}
	c, err := Whole(sheet, "hall", "hall/lamp", 50, World{People: 1, Blind: 60})
	if err != nil {
		t.Fatal(err)
	}
	sys, ok := c.AnyHour()
	if !ok {
		t.Fatal("the hour is of no use here")
	}
	noted := map[bool]bool{}
	s := sys.(*system)
	for _, b := range sys.Begin() {
		noted[s.value(s.at(b), number(s.prog, "hall/by-day")).On] = true
	}
	if len(noted) != 2 {
		t.Errorf("a story begins only with the note standing, or only without: %v", noted)
	}
}
