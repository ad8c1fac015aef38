package papers

import (
	"bytes"
	"fmt"
	"strings"

	"example.org/roombrief/planner/physics"
)

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
