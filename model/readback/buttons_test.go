package readback

import (
	"strings"
	"testing"

	"example.org/roombrief/model"
)

// A button that gives an appliance its full time again is not denied in the same breath.
func TestNoButtonsBeyondTheOneThatExtends(t *testing.T) {
	r := model.Room{ID: "garage", Appliances: []model.Appliance{{ID: "charger", Kind: "battery charger"}}}
	r.Brief.Shutoff = model.Goal[[]model.Shutoff]{State: model.Wanted, Want: []model.Shutoff{{Appliance: "charger", After: 3600e9, Extend: "button"}}}
	r.Brief.Buttons.State = model.Declined
	var all []string
	for _, s := range Room(&model.Project{Rooms: []model.Room{r}}, "garage") {
		all = append(all, s.Text)
	}
	text := strings.Join(all, " ")
	if !strings.Contains(text, "press of a button") || strings.Contains(text, "no buttons beyond the switches") {
		t.Error(text)
	}
}
