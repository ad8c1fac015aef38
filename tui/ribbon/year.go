package ribbon

import (
	"fmt"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
)

// sunYear is the sun of every day of a year, from the first of January.
type sunYear struct {
	first time.Time
	days  []Sun
}

func yearOf(today time.Time, place model.Place) sunYear {
	y := sunYear{first: time.Date(today.Year(), time.January, 1, 12, 0, 0, 0, time.UTC)}
	loc := zone(place)
	for d := y.first; d.Year() == y.first.Year(); d = d.AddDate(0, 0, 1) {
		y.days = append(y.days, sunOn(place, d, loc))
	}
	return y
}

// runs says between which minutes of the clock a sun time moves, and in which months it gets there.
func (y sunYear) runs(from q.DayTime, u q.System) string {
	low, high, lowDay, highDay, absent := 0, 0, -1, -1, 0
	for i, s := range y.days {
		m, ok := s.Minute(q.DayTime{Sun: from.Sun})
		if !ok {
			absent++
			continue
		}
		// Sunset after midnight is later than sunset before it, and sunrise before midnight is earlier.
		evening, over := from.Sun == q.Sunset || from.Sun == q.Dusk, s.Set < s.Rise
		if from.Sun == q.Dawn || from.Sun == q.Dusk {
			over = s.Dusk < s.Dawn
		}
		switch {
		case over && evening && m < day/2:
			m += day
		case over && !evening && m >= day/2:
			m -= day
		}
		if lowDay < 0 || m < low {
			low, lowDay = m, i
		}
		if highDay < 0 || m > high {
			high, highDay = m, i
		}
	}
	if lowDay < 0 {
		return "The sun gives no such moment on any day of the year here: write a clock time."
	}
	offset := int(from.Offset.Minutes())
	at := func(m, d int) string {
		return clockIn(wrap(m+offset), u) + " in " + y.first.AddDate(0, 0, d).Month().String()
	}
	say := fmt.Sprintf("%s runs from %s to %s", english.Upper(from.Show(u)), at(low, lowDay), at(high, highDay))
	switch {
	case absent == 1:
		say += "; on 1 day of the year it does not come"
	case absent > 1:
		say += fmt.Sprintf("; on %d days of the year it does not come", absent)
	}
	return say + "."
}
