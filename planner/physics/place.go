package physics

import (
	"maps"
	"slices"
	"strings"

	"example.org/roombrief/model"
)

// PlaceOf is where the device of a thing goes, from the corner of its room: where choices/places has it, else where the survey noted
// the thing, or the switch box or outlet that it hangs on. It is false where nobody noted a place.
func PlaceOf(p *model.Project, r *model.Room, thing string) (model.Point, bool) {
	if at, ok := p.Choices.Places[r.ID+"/"+thing]; ok {
		return at, true
	}
	at := model.Point{}
	take := func(id string, places ...model.Point) {
		for i := 0; id == thing && at == (model.Point{}) && i < len(places); i++ {
			at = places[i]
		}
	}
	box := func(f model.Fact[string]) model.Point {
		id, _ := f.Get()
		if i := slices.IndexFunc(r.Switches, func(b model.SwitchBox) bool { return b.ID == id }); i >= 0 {
			return r.Switches[i].Position
		}
		return model.Point{}
	}
	for _, c := range r.Circuits {
		take(c.ID, c.Position, box(c.Switch))
	}
	for _, b := range r.Switches {
		take(b.ID, b.Position)
	}
	for _, f := range r.Fans {
		take(f.ID, f.Position, box(f.Switch))
	}
	for _, w := range r.Water {
		take(w.ID, w.Position)
	}
	for _, o := range r.Outlets {
		take(o.ID, o.Position)
	}
	for _, a := range r.Appliances {
		if i := slices.IndexFunc(r.Outlets, func(o model.Outlet) bool { return o.ID == a.Outlet }); i >= 0 {
			take(a.ID, r.Outlets[i].Position)
		}
	}
	return at, at != (model.Point{})
}

// Places are all that are noted in a room, each once, in a fixed order.
func Places(p *model.Project, r *model.Room) []model.Point {
	var out []model.Point
	add := func(at model.Point) {
		if at != (model.Point{}) && !slices.Contains(out, at) {
			out = append(out, at)
		}
	}
	for _, c := range r.Circuits {
		add(c.Position)
	}
	for _, b := range r.Switches {
		add(b.Position)
	}
	for _, f := range r.Fans {
		add(f.Position)
	}
	for _, w := range r.Water {
		add(w.Position)
	}
	for _, o := range r.Outlets {
		add(o.Position)
	}
	for _, path := range slices.Sorted(maps.Keys(p.Choices.Places)) {
		if room, _, _ := strings.Cut(path, "/"); room == r.ID {
			add(p.Choices.Places[path])
		}
	}
	return out
}
