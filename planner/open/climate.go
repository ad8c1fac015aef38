package open

import (
	"fmt"
	"math"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/physics"
)

// aired is the air of a room with a fan that runs by itself, as far as the physics of it can be told.
func aired(p *model.Project, r model.Room) (a physics.Airing, ok bool) {
	if !r.Brief.Ventilation.Wanted() {
		return a, false
	}
	a, err := physics.Air(p, r)
	return a, err == nil
}

// dampens reports whether its fan runs for damp air.
func dampens(r model.Room) bool {
	return r.Brief.Ventilation.Wanted() && r.Brief.Ventilation.Want.Ceiling.Wanted()
}

// surfaces are the stretches of a room's coldest surface, in tenths of a degree, between which the room is aired in time or isn't, mould
// can grow or can't, and the fan starts below or above where it is planned to.
func (w *Weighing) surfaces(f fact) []value {
	r, ok := w.project.Room(f.path[1])
	if !ok || !dampens(r) {
		return nil
	}
	outdoors, planned, indoors := physics.WinterWalls(w.project, r)
	at := func(tenths int) q.Temperature { return q.Temperature(float64(tenths) / 10) }
	kind := func(tenths int) (k [3]bool) {
		p := with(w.project, f, at(tenths))
		a, ok := aired(p, mustRoom(p, r.ID))
		if !ok {
			return k
		}
		below := r.Brief.Ventilation.Want.Ceiling.Reckoned && at(tenths) < planned
		return [3]bool{a.OK, a.Threshold.OK, below}
	}
	low, high := int(math.Floor(float64(outdoors)*10))+1, int(math.Ceil(float64(indoors)*10))-1
	if low > high {
		return nil
	}
	out, was := []value{{at(low), ""}}, kind(low)
	const step = 5 // tenths: between two such steps nothing changes twice
	for from := low; from < high; {
		to := min(from+step, high)
		is := kind(to)
		if is != was {
			below, above := from, to
			for above-below > 1 {
				if mid := (below + above) / 2; kind(mid) == was {
					below = mid
				} else {
					above = mid
				}
			}
			out = append(out, value{at(above), ""})
		}
		from, was = to, is
	}
	return out
}

// climates are usual days outside, from the equator on, where some room has a fan that runs for damp air.
func (w *Weighing) climates() (out []value, why string) {
	any := false
	for _, r := range w.project.Rooms {
		any = any || dampens(r)
	}
	if !any {
		return nil, ""
	}
	for _, c := range model.UsualClimates() {
		out = append(out, value{c, fmt.Sprintf("%s, %s in winter and %s, %s in summer", c.Winter.Temperature.Show(w.units), c.Winter.Humidity.Show(w.units),
			c.Summer.Temperature.Show(w.units), c.Summer.Humidity.Show(w.units))})
	}
	return out, "only usual climates were tried"
}

// dries adds the rooms whose air is dry in time, and isn't as planned, and the other way about. Room "" is all of them.
func (w *Weighing) dries(a Answer, p *model.Project, room string) Answer {
	w.compare(p, room, func(r model.Room, was, is physics.Airing) {
		switch {
		case is.OK && !was.OK:
			a.Airs = append(a.Airs, w.the(r.ID))
		case was.OK && !is.OK:
			a.Damp = append(a.Damp, w.the(r.ID))
		}
	})
	return a
}

// moulds adds the rooms where mould can grow, and can't as planned, and the other way about; and at which humidity fans start. last has the
// last value of the stretch that begins with first; it may be first.
func (w *Weighing) moulds(a Answer, first, last *model.Project, room string) Answer {
	w.compare(first, room, func(r model.Room, was, is physics.Airing) {
		if !dampens(r) {
			return
		}
		switch {
		case is.Threshold.OK && !was.Threshold.OK:
			a.Clear = append(a.Clear, w.the(r.ID))
		case was.Threshold.OK && !is.Threshold.OK:
			a.Mould = append(a.Mould, w.the(r.ID))
		}
		to, fan := physics.CeilingOf(last, mustRoom(last, r.ID)), "the fan"
		if room == "" {
			fan += " of " + w.the(r.ID)
		}
		switch {
		case is.Ceiling == was.Ceiling && to == was.Ceiling:
		case to != is.Ceiling:
			a.Starts = append(a.Starts, fmt.Sprintf("%s at %s to %s", fan, is.Ceiling.Show(w.units), to.Show(w.units)))
		default:
			a.Starts = append(a.Starts, fmt.Sprintf("%s at %s", fan, is.Ceiling.Show(w.units)))
		}
	})
	return a
}

// compare looks at the air of rooms as planned and in another project.
func (w *Weighing) compare(p *model.Project, room string, look func(r model.Room, was, is physics.Airing)) {
	for _, r := range w.project.Rooms {
		if room != "" && r.ID != room {
			continue
		}
		was, ok := aired(w.project, r)
		is, also := aired(p, mustRoom(p, r.ID))
		if ok && also {
			look(r, was, is)
		}
	}
}

// endOf is the project with the last value of a stretch of temperatures: a tenth of a degree below the next one.
func (w *Weighing) endOf(f fact, values []value, at int) *model.Project {
	r := mustRoom(w.project, f.path[1])
	_, _, end := physics.WinterWalls(w.project, r)
	if at+1 < len(values) {
		end = values[at+1].is.(q.Temperature)
	}
	return with(w.project, f, end-0.1)
}
