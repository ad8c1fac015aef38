package interview

import (
	"strings"

	"example.org/roombrief/model/projectfile"
)

// sitsBest orders the kinds of room by how well a controller sits there: in the middle of the house, dry,
// with an outlet, and seldom shut in.
var sitsBest = []string{"hall", "landing", "utility room", "study", "living room", "dining room", "cellar", "kitchen", "bedroom"}

// controllerAsk comes once there is a room that a controller can sit in.
func (s *scope) controllerAsk() {
	var choices []Choice
	def, rank := "", len(sitsBest)+1
	for _, r := range s.p.Rooms {
		if !kindOf(r.Kind).Indoors {
			continue
		}
		choices = append(choices, Choice{Label: nameOf(r.Name, r.ID), Value: r.ID})
		at := len(sitsBest)
		for i, k := range sitsBest {
			if strings.EqualFold(k, r.Kind) {
				at = i
			}
		}
		if at < rank {
			def, rank = r.ID, at
		}
	}
	if len(choices) == 0 {
		return
	}
	choices = keyed(append(choices, Choice{Key: "n", Label: "nowhere yet", Value: "none"}), "")
	now := "none"
	if cs := s.p.Controllers; len(cs) > 0 {
		now = cs[0].Room
	}
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: "controllers", Kind: OneOf, Choices: choices, Ask: "In which room could a controller sit?",
			Why:     "It needs an outlet, dry air and a place in the middle: radio reaches the rooms around it best.",
			Default: def, Now: now, Answer: labels(choices, []string{now}),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			c, err := pick(choices, t)
			if err != nil {
				return nil, err
			}
			if c.Value == "none" {
				return []projectfile.Edit{projectfile.Set("controllers", "[]")}, nil
			}
			if len(s.p.Controllers) > 0 {
				return []projectfile.Edit{projectfile.Set("controllers/0/room", projectfile.Quote(c.Value))}, nil
			}
			return []projectfile.Edit{projectfile.Set("controllers", "- {id: controller, room: "+projectfile.Quote(c.Value)+"}")}, nil
		},
	})
}
