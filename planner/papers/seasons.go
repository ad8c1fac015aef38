package papers

import (
	"bytes"
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/physics"
)

// reckonedCeiling says where the fan of a room starts and stops in each season, where its brief leaves that to the room.
func (s source) reckonedCeiling(r model.Room) string {
	if want := r.Brief.Ventilation; !want.Wanted() || !want.Want.Ceiling.Reckoned {
		return ""
	}
	a, err := physics.Air(s.project, r)
	if err != nil {
		return ""
	}
	u := physics.System(s.project)
	return fmt.Sprintf("As things are, that is %s in winter and %s in summer.", a.Seasons[0].Stop.Show(u), a.Seasons[1].Stop.Show(u))
}

// seasons is, for each room whose fan runs for damp air, where it starts and stops in winter and in summer, and why there.
func (s source) seasons(b *bytes.Buffer) {
	u, said := physics.System(s.project), false
	for _, r := range s.project.Rooms {
		want := r.Brief.Ventilation
		if !want.Wanted() || !want.Want.Ceiling.Wanted() || len(r.Fans) == 0 {
			continue
		}
		a, err := physics.Air(s.project, r)
		if err != nil {
			continue // the findings say what is out of range
		}
		if !said {
			b.WriteString("## Damp air, season by season\n\nMould grows where the air at the coldest surface stays over 80 %, and no fan gets a room drier than the house. " +
				"Rules know no seasons: each room has one ceiling, and where the house's own air is damper, its fan stops 5 points over that instead.\n\n")
			said = true
		}
		how := "as the brief states it"
		if a.Reckoned {
			how = "reckoned from the room"
		}
		fmt.Fprintf(b, "### %s: ceiling %s, %s\n\n| %s |\n|%s\n", text(s.roomName(r.ID)), a.Ceiling.Show(u), how, strings.Join(physics.SeasonHead, " | "), strings.Repeat("---|", len(physics.SeasonHead)))
		for _, x := range a.Seasons {
			fmt.Fprintf(b, "| %s |\n", strings.Join(a.SeasonRow(x, u), " | "))
		}
		fmt.Fprintf(b, "\n%s\n\n", text(a.Threshold.Because()))
	}
}
