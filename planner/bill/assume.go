package bill

import (
	"fmt"
	"sort"
	"strings"

	"example.org/roombrief/model"
)

// worded puts an unknown fact of a spot as an assumption, at its path in the project: a fact of its
// switch box, of its circuit, or of its water point.
func worded(room string, sp spot, u unknown) Assumption {
	in, id, _ := strings.Cut(sp.ID, "/")
	in = "rooms/" + in
	list := "/circuits/"
	if sp.Goal == "ventilation" {
		list = "/fans/"
	}
	at := in + list + id + "/" + u.fact
	switch u.fact {
	case "neutral", "depth":
		at = in + list + id + "/switch"
		if boxRoom, box, ok := strings.Cut(sp.Box, "/"); ok {
			at = "rooms/" + boxRoom + "/switches/" + strings.TrimPrefix(box, "switches/") + "/" + u.fact
		}
	case "pipe":
		at = in + "/water/" + id + "/pipe"
	}
	return Assumption{At: at, Asked: u.asked, As: u.as,
		Text: fmt.Sprintf("%s, %s: nobody knows yet %s; the worst is planned for: %s.", room, sp.Name, u.asked, u.as)}
}

// assumptions are those of the shelf and then of the spots, each path and fact once.
func assumptions(sh *shelf, p *model.Project, spots []placedSpot) []Assumption {
	all := append([]Assumption{}, sh.assumed...)
	titles := map[string]string{"": "The home"}
	for _, r := range p.Rooms {
		titles[r.ID] = r.Title()
	}
	seen := map[[2]string]bool{}
	for _, sp := range spots {
		for _, u := range sp.kind.assumed {
			a := worded(titles[sp.Room], sp.spot, u)
			if k := [2]string{a.At, a.Asked}; !seen[k] {
				seen[k] = true
				all = append(all, a)
			}
		}
	}
	return all
}

type placedSpot struct {
	spot
	kind *spotType
}

// inOrder lists the spots of all groups in the order of the needs.
func inOrder(gs []*group) []placedSpot {
	var all []placedSpot
	for _, g := range gs {
		for i := range g.types {
			for _, sp := range g.types[i].spots {
				all = append(all, placedSpot{sp, &g.types[i]})
			}
		}
	}
	sort.Slice(all, func(i, j int) bool { return all[i].order < all[j].order })
	return all
}
