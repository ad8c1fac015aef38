package physics

import (
	"fmt"

	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
)

// SeasonHead names the columns of SeasonRow.
var SeasonHead = []string{"Season", "Outside", "House", "Coldest surface", "It bears", "Fan gets under", "Starts and stops at", "Back under it after", "Runs on"}

// SeasonRow is one season of a room's air as a row of a table.
func (a Airing) SeasonRow(s Season, u q.System) []string {
	return []string{english.Upper(s.Name), s.Outside.Temperature.Show(u) + ", " + s.Outside.Humidity.Show(u), s.Air.Temperature.Show(u) + ", " + s.Air.Humidity.Show(u),
		s.Surface.Show(u), s.Bears.Show(u), s.reached(u), s.Stop.Show(u), between(s), shownSpan(s.RunOn)}
}

// SeasonLines are the seasons of a room's air in sentences, one each.
func (a Airing) SeasonLines(u q.System) []string {
	var out []string
	for _, s := range a.Seasons {
		out = append(out, fmt.Sprintf("%s: house %s, coldest surface %s bears %s, fan gets under %s; it starts and stops at %s.",
			english.Upper(s.Name), s.Air.Humidity.Show(u), s.Surface.Show(u), s.Bears.Show(u), s.reached(u), s.Stop.Show(u)))
	}
	return out
}

// reached is the lowest humidity that the fan surely gets the room under in the time that was asked.
func (s Season) reached(u q.System) string {
	if s.Reach >= 100 {
		return "nothing yet"
	}
	return max(s.Reach, s.near()).Show(u)
}
