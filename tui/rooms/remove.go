package rooms

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/draw"
)

// removal takes a room out with what speaks of nothing else: its open points, agreements and promises. A
// door of another room that led to it stays, and leads nobody knows where. Anything else that needs the
// room, as a stopcock that is shut from elsewhere, makes the project refuse.
func removal(p *model.Project, id string) []projectfile.Edit {
	var edits []projectfile.Edit
	drop := func(list string, n int, its func(i int) bool) {
		for i := n - 1; i >= 0; i-- { // the last first, so that the others keep their places
			if its(i) {
				edits = append(edits, projectfile.Remove(list+"/"+strconv.Itoa(i)))
			}
		}
	}
	drop("open", len(p.Open), func(i int) bool { return draw.RoomOf(p.Open[i].At) == id })
	drop("records/agreed", len(p.Records.Agreed), func(i int) bool { return p.Records.Agreed[i].Room == id })
	drop("promises", len(p.Promises), func(i int) bool { return p.Promises[i].Room == id })
	for _, r := range p.Rooms {
		for i, d := range r.Doors {
			if d.To == id && r.ID != id && r.Like == "" {
				edits = append(edits, projectfile.Remove("rooms/"+r.ID+"/doors/"+strconv.Itoa(i)+"/to"))
			}
		}
	}
	for i, c := range p.Controllers {
		if c.Room == id {
			edits = append(edits, projectfile.Remove("controllers/"+strconv.Itoa(i)+"/room"))
		}
	}
	for _, path := range slices.Sorted(maps.Keys(p.Choices.Use)) {
		if strings.HasPrefix(path, id+"/") {
			edits = append(edits, projectfile.Remove("choices/use/{"+path+"}"))
		}
	}
	for _, path := range slices.Sorted(maps.Keys(p.Choices.Places)) {
		if strings.HasPrefix(path, id+"/") {
			edits = append(edits, projectfile.Remove("choices/places/{"+path+"}"))
		}
	}
	c := p.Choices
	for _, of := range []struct {
		key  string
		made bool
	}{{"sense", c.Sense[id] != ""}, {"doors", c.Doors[id] != ""}, {"blind", c.Blind[id] != 0}, {"host", c.Host[id] != ""}} {
		if of.made {
			edits = append(edits, projectfile.Remove("choices/"+of.key+"/"+id))
		}
	}
	return append(edits, projectfile.Remove("rooms/"+id))
}
