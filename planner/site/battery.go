package site

import "math"

// Drain is what takes charge from a cell. Average current is an estimate: pulses, cold and age take more; show
// a range.
type Drain struct {
	Capacity  float64 // mAh, 10 to 50000
	Usable    float64 // part of it that can be used, 0.3 to 1
	SelfLoss  float64 // part of it lost each year by itself, 0 to 0.3
	Sleep     float64 // µA all the time
	Events    []Event
	ShelfLife float64 // years; 0 is 10
}

// Event takes charge, so often a day.
type Event struct {
	Charge float64 // µC
	Daily  float64
}

// Life of a cell.
type Life struct {
	EventCurrent float64 // µA on average
	SelfCurrent  float64 // µA that self-discharge comes to
	Current      float64 // µA in all
	Hours        float64 // until it is empty, by the average current
	Years        float64 // the same
	Claim        float64 // years to claim: never longer than the cell keeps on the shelf
}

// HoursAYear for lives in years.
const HoursAYear = 8760

// Life reckons how long a cell lasts: I = I_sleep + sum(Q n)/86400 + C s/8760; life = C eta/I.
func (d Drain) Life() (Life, error) {
	if err := first(within("capacity", d.Capacity, 10, 50000, "mAh"), within("usable part", d.Usable, 0.3, 1, ""),
		within("self-discharge", d.SelfLoss, 0, 0.3, "a year"), within("sleep current", d.Sleep, 0, 1e5, "µA")); err != nil {
		return Life{}, err
	}
	var l Life
	for _, e := range d.Events {
		if err := first(within("charge", e.Charge, 0, 1e7, "µC"), within("events", e.Daily, 0, 1e6, "a day")); err != nil {
			return Life{}, err
		}
		l.EventCurrent += e.Charge * e.Daily / 86400
	}
	l.SelfCurrent = d.Capacity * 1000 * d.SelfLoss / HoursAYear
	l.Current = d.Sleep + l.EventCurrent + l.SelfCurrent
	if err := within("current", l.Current, 1e-6, 1e6, "µA"); err != nil {
		return Life{}, err
	}
	l.Hours = d.Capacity * 1000 * d.Usable / l.Current
	l.Years = l.Hours / HoursAYear
	shelf := d.ShelfLife
	if shelf == 0 {
		shelf = 10
	}
	l.Claim = math.Min(l.Years, shelf)
	return l, nil
}
