package bill_test

import (
	"strings"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

func span(s int) q.Span { return q.Span(time.Duration(s) * time.Second) }

// The cheaper part of two tells, or shuts, too late for a brief that gives little time; with neither, the bill says so.
func TestPartsThatAreTooSlowAreLeftOut(t *testing.T) {
	for _, does := range []catalogue.Ability{catalogue.SenseHumidity, catalogue.SenseWet, catalogue.ShutWater} {
		part := func(id string, every, latency int, price float64) catalogue.Part {
			return catalogue.Part{ID: id, Name: id, Kind: "x", Does: []catalogue.Ability{does}, Price: map[string]float64{"GBP": price},
				Behaviour: catalogue.Behaviour{Every: span(every), Latency: span(latency)}}
		}
		shelf := &catalogue.Catalogue{Version: 1, Dated: "2026-03", Parts: []catalogue.Part{part("quick", 0, 10, 9), part("slow", 20, 10, 5)}}
		p := &model.Project{Home: model.Home{Currency: "GBP"}, Rooms: []model.Room{{ID: "bath"}}}
		for soon, want := range map[int]string{0: "slow", 30: "slow", 29: "quick", 10: "quick", 9: ""} {
			n := needs.Need{ID: "bath/x", Room: "bath", Name: "x", Wants: []catalogue.Ability{does}, Facts: needs.Facts{Soon: span(soon)}}
			b, err := bill.Cheapest(t.Context(), p, shelf, []needs.Need{n}, rules.Sheet{})
			if err != nil {
				t.Fatal(err)
			}
			switch {
			case want != "" && (len(b.Devices) != 1 || b.Devices[0].Part != want):
				t.Errorf("%s within %d s: %+v %+v", does, soon, b.Devices, b.Unmet)
			case want == "" && (len(b.Unmet) == 0 || !strings.Contains(b.Unmet[len(b.Unmet)-1].Reason, "may take 10s, and the brief gives 9s")):
				t.Errorf("%s within %d s: %+v", does, soon, b.Unmet)
			}
		}
	}
}

// No device of the example homes tells later than the brief of its room gives for all that follows.
func TestNoPartOfTheExampleHomesIsTooSlow(t *testing.T) {
	bounded := 0
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		soon := map[string]q.Span{}
		for _, n := range ideal.Draft(p).Needs {
			soon[n.ID] = n.Facts.Soon
		}
		for _, d := range cheapestOf(t, p).Devices {
			part, _ := fixtures.Catalogue().Part(d.Part)
			for _, id := range d.Covers {
				if soon[id] == 0 {
					continue
				}
				bounded++
				if takes := part.Behaviour.Every + part.Behaviour.Latency; takes > soon[id] {
					t.Errorf("%s: %s takes %s for %s, and has %s", h.File, d.Part, takes, id, soon[id])
				}
			}
		}
	}
	if bounded < 10 {
		t.Errorf("only %d needs say how soon", bounded)
	}
}
