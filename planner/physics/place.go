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
	var at model.Fact[model.Point]
	noted(r, func(id string, place model.Fact[model.Point]) {
		if id == thing && at.State != model.Known {
			at = place
		}
	})
	return at.Get()
}

// Places are all that are noted in a room, each once, in a fixed order.
func Places(p *model.Project, r *model.Room) []model.Point {
	var out []model.Point
	add := func(_ string, place model.Fact[model.Point]) {
		if at, ok := place.Get(); ok && !slices.Contains(out, at) {
			out = append(out, at)
		}
	}
	noted(r, add)
	for _, path := range slices.Sorted(maps.Keys(p.Choices.Places)) {
		if room, thing, _ := strings.Cut(path, "/"); room == r.ID {
			add(thing, model.Know(p.Choices.Places[path]))
		}
	}
	return out
}

// noted visits where the survey noted each thing of a room, and after that where its switch box or outlet is; a place that nobody
// noted is none.
func noted(r *model.Room, visit func(id string, at model.Fact[model.Point])) {
	box := func(f model.Fact[string]) model.Fact[model.Point] {
		id, _ := f.Get()
		if i := slices.IndexFunc(r.Switches, func(b model.SwitchBox) bool { return b.ID == id }); i >= 0 {
			return r.Switches[i].Position
		}
		return model.Fact[model.Point]{}
	}
	for _, c := range r.Circuits {
		visit(c.ID, c.Position)
		visit(c.ID, box(c.Switch))
	}
	for _, b := range r.Switches {
		visit(b.ID, b.Position)
	}
	for _, f := range r.Fans {
		visit(f.ID, f.Position)
		visit(f.ID, box(f.Switch))
	}
	for _, w := range r.Water {
		visit(w.ID, w.Position)
	}
	for _, o := range r.Outlets {
		visit(o.ID, o.Position)
	}
	for _, a := range r.Appliances {
		if i := slices.IndexFunc(r.Outlets, func(o model.Outlet) bool { return o.ID == a.Outlet }); i >= 0 {
			visit(a.ID, r.Outlets[i].Position)
		}
	}
}
