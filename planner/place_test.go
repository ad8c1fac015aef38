package planner

import (
	"slices"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

const twoControllers = `roombrief: 1
home: {name: A test, currency: GBP}
controllers: [{id: near, room: hall, limits: modest}, {id: far, limits: modest}]
rooms:
  - id: hall
    kind: hall
    doors: [{id: door, to: outside, usually: closed}]
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on entry
        stop: {after: 4m}
        periods: [{from: "06:00", level: 60 %}]
`

// The devices of the hall speak Zigbee. The controller that stands in the hall speaks Wi-Fi alone, so they join the other one, and the rules of
// the hall run there; once an adapter is plugged into it, it is the one that stands nearer.
func TestDevicesJoinAControllerThatSpeaksToThem(t *testing.T) {
	p, c := projectfile.Parse([]byte(twoControllers)).Project(), fixtures.Catalogue()
	draft := ideal.Draft(p)
	for _, tt := range []struct {
		name, want string
		speaks     []string
	}{
		{"only the far one has the radio", "far", nil},
		{"the near one has an adapter for it", "near", []string{"zigbee", "wifi", "ble"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := bill.Bill{Devices: []bill.Device{{ID: "near", Part: "controller-modest-wifi", Room: "hall", Speaks: tt.speaks}, {ID: "far", Part: "controller-modest-zigbee"}}}
			things := 0
			for _, x := range draft.Sheet.Things {
				part := map[rules.ThingKind]string{rules.Lamp: "dimmer-1-neutral-zigbee", rules.Motion: "motion-ceiling-zigbee", rules.Door: "door-zigbee"}[x.Kind]
				if _, ok := c.Part(part); x.Kind != rules.Flag && !ok {
					t.Fatalf("%s has no part %q", x.ID, part)
				}
				if x.Kind != rules.Flag {
					things++
					b.Devices = append(b.Devices, bill.Device{ID: x.ID, Part: part, Room: x.Room, Covers: []string{x.ID}})
				}
			}
			plan := placed(p, c, draft, fitting.NewHome(draft.Sheet, func() []rules.Day { return nil }), b)
			if at := plan.HostOf("hall"); at == nil || at.Host != tt.want {
				t.Errorf("the rules of the hall run on %+v, want %s", at, tt.want)
			}
			for thing, at := range plan.Placed.Joined {
				if at != tt.want {
					t.Errorf("%s joins %s, want %s", thing, at, tt.want)
				}
			}
			if len(plan.Placed.Joined) != things || things < 2 || len(plan.Placed.Lost)+len(plan.Placed.Asks) > 0 {
				t.Errorf("of %d things joined %v, lost %+v, asked %q", things, plan.Placed.Joined, plan.Placed.Lost, plan.Placed.Asks)
			}
			if h, _ := plan.Host("near"); slices.Contains(h.Radios, "zigbee") != (tt.want == "near") {
				t.Errorf("the near one speaks %q", h.Radios)
			}
		})
	}
}
