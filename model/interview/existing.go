package interview

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/supply"
)

// mostOwned is how many of one part the file may say are there.
const mostOwned = 10000

// existingAsk asks what needn't be bought.
func (s *scope) existingAsk() {
	now, names := make([]string, len(s.p.Existing)), make([]string, len(s.p.Existing))
	for i, e := range s.p.Existing {
		name := e.Part + " (not in the catalogue)"
		if part, ok := fixtures.Catalogue().Part(e.Part); ok {
			name = part.Name
		}
		n := max(e.Count, 1)
		now[i], names[i] = fmt.Sprintf("%d %s", n, e.Part), fmt.Sprintf("%d × %s", n, name)
	}
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: "existing", Kind: Text,
			Ask:     "Which devices are there already, in a drawer or taken down from elsewhere?",
			Why:     "They are used where they save most, and cost their labour only.",
			Default: "none", Example: "2 door-zigbee, 1 leak-point-zigbee", Now: noneIf(now, ", "), Answer: noneIf(names, ", "),
		},
		write: s.writeExisting,
	})
}

// writeExisting makes the list hold what an answer says. A part that stays keeps its entry, with its note.
func (s *scope) writeExisting(text string) ([]projectfile.Edit, error) {
	var said []model.Existing
	if !isNone(text) {
		for _, one := range items(text, ";,", " and ") {
			e, err := readOwned(one)
			if err != nil {
				return nil, err
			}
			said = append(said, e)
		}
	}
	if len(said) == 0 || len(s.p.Existing) == 0 {
		list := make([]item, len(said))
		for i, e := range said {
			list[i] = ownedItem(e)
		}
		return []projectfile.Edit{projectfile.Set("existing", blockOf(list))}, nil
	}
	var out, gone []projectfile.Edit
	for i, had := range s.p.Existing {
		at := fmt.Sprintf("existing/%d", i)
		stays := false
		for k, e := range said {
			if stays = e.Part == had.Part; stays {
				if e.Count != had.Count {
					out = append(out, projectfile.Set(at+"/count", strconv.Itoa(e.Count)))
				}
				said = append(said[:k:k], said[k+1:]...)
				break
			}
		}
		if !stays {
			gone = append([]projectfile.Edit{projectfile.Remove(at)}, gone...) // the last first, so that places stay
		}
	}
	for _, e := range said {
		out = append(out, projectfile.Append("existing", ownedItem(e).inline()))
	}
	// What is new stands behind what goes, so that the list is never empty on the way.
	return append(out, gone...), nil
}

func ownedItem(e model.Existing) item {
	return item{fields: []field{{"part", projectfile.Quote(e.Part)}, {"count", strconv.Itoa(e.Count)}}}
}

// readOwned reads "2 door-zigbee". Other words for a part are never taken for one, as money hangs on it, but the likeliest are offered.
func readOwned(text string) (model.Existing, error) {
	words := strings.Fields(strings.ReplaceAll(text, "×", " x "))
	n := 1
	if len(words) > 1 {
		if c, err := strconv.Atoi(strings.TrimRight(words[0], "xX")); err == nil {
			if c < 1 || c > mostOwned {
				return model.Existing{}, fmt.Errorf("%d is not how many of them there are; accepted: 1 to %d", c, mostOwned)
			}
			n, words = c, words[1:]
		}
		if len(words) > 1 && strings.EqualFold(words[0], "x") {
			words = words[1:]
		}
	}
	name := strings.Join(words, " ")
	if _, ok := fixtures.Catalogue().Part(fold(name)); ok {
		return model.Existing{Part: fold(name), Count: n}, nil
	}
	switch g := supply.Like(fixtures.Catalogue(), name); {
	case g.Second != "":
		return model.Existing{}, fmt.Errorf("%q may be %s or %s; write which, as in %d %s", name, g.Part, g.Second, n, g.Part)
	case g.Part != "":
		return model.Existing{}, fmt.Errorf("%q may be %s; if it is, write %d %s", name, g.Part, n, g.Part)
	}
	return model.Existing{}, fmt.Errorf("%q is no part of the catalogue; write how many and which, as in 2 door-zigbee, or none (roombrief parts lists them)", name)
}
