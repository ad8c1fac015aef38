package fitting

import (
	"fmt"
	"slices"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/rules"
)

// toggled reports whether the controller can only toggle what serves a thing.
func (f *fitter) toggled(thing string) bool { return f.info.toggled(thing, f.lim) }

func (i Info) toggled(thing string, lim catalogue.Limits) bool {
	p, ok := i.Parts[thing]
	return ok && (slices.Contains(lim.ToggleOnly, p.Kind) || p.Behaviour.Orders == "toggle")
}

// toggles guards each order to a device that can only be toggled by the state that it has: on only while it is off.
func (f *fitter) toggles() {
	var out []rule
	for _, r := range f.rules {
		for {
			i := slices.IndexFunc(r.effs, func(e eff) bool {
				return e.Kind == rules.Set && f.toggled(e.Thing) && !slices.Contains(r.Guard, rules.Literal{Not: e.Value.On, Kind: rules.Is, Thing: e.Thing})
			})
			if i < 0 {
				break
			}
			e := last(about(r, r.effs[i].key()))
			rest, own, ok := split(r, rules.Literal{Not: e.Value.On, Kind: rules.Is, Thing: e.Thing}, func(o eff) bool { return o.key() == e.key() })
			switch {
			case !f.states():
				f.lose(Lost{r.ID, "toggle_only", fmt.Sprintf("The %s can only be toggled and the controller can't look whether it is on, so this is not done: %s",
					f.name[e.Thing], r.Purpose), promiseOf(r), "Take a part that can be told on and off, or a controller that can look at states."})
			case ok:
				own.effs = []eff{last(own.effs)}
				own.effs[0].Value.Level, own.effs[0].Value.Colour = 0, 0
				out = append(out, own)
				f.note("toggle_only", r.ID, fmt.Sprintf("The %s is toggled only while it is %s.", f.name[e.Thing], map[bool]string{true: "off", false: "on"}[e.Value.On]),
					"Right only as long as the controller knows whether it is on.")
			}
			r = rest
		}
		out = append(out, r)
	}
	f.rules = out
}

func last(es []eff) eff { return es[len(es)-1] }
