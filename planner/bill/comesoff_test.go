package bill_test

import (
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// The cheaper plug comes on again after a power cut, and the dearer one stays off.
func TestHeatIsNotPutBehindAPlugThatComesOnByItself(t *testing.T) {
	plug := func(id, powerUp string, price float64) catalogue.Part {
		return catalogue.Part{ID: id, Name: id, Kind: "plug", Does: []catalogue.Ability{catalogue.CutPlug}, Place: "plug", Supply: "mains",
			Ratings: map[catalogue.LoadKind]q.Power{catalogue.Resistive: 3000}, Behaviour: catalogue.Behaviour{PowerUp: powerUp, Orders: "set"},
			Price: map[string]float64{"GBP": price}}
	}
	shelf := &catalogue.Catalogue{Version: 1, Dated: "2026-03", Parts: []catalogue.Part{plug("as-it-was", "last", 5), plug("off", "off", 9)}}
	p := &model.Project{Home: model.Home{Currency: "GBP"}, Rooms: []model.Room{{ID: "utility"}}}
	for comesOff, want := range map[bool]string{false: "as-it-was", true: "off"} {
		n := needs.Need{ID: "utility/iron", Room: "utility", Name: "iron", Wants: []catalogue.Ability{catalogue.CutPlug},
			Facts: needs.Facts{Load: 2400, LoadKind: catalogue.Resistive, ComesOff: comesOff}}
		b, err := bill.Cheapest(t.Context(), p, shelf, []needs.Need{n}, rules.Sheet{})
		if err != nil {
			t.Fatal(err)
		}
		if len(b.Devices) != 1 || b.Devices[0].Part != want {
			t.Errorf("comes off %v: %+v %+v", comesOff, b.Devices, b.Unmet)
		}
	}
}
