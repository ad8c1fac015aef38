package promises

import (
	"example.org/roombrief/planner/rules"
)

// Whole closes a sheet over a watcher of one lamp, with nothing assumed of any brief: never over a level, unless asked.
// It is what tests of the engines take, and a quick question about any sheet.
func Whole(sheet rules.Sheet, room, lamp string, level int, w World) (Case, error) {
	p := Promise{ID: room + "/" + lamp, Room: room, Kind: Own, World: w, facets: []facet{{
		want: want{things: []string{lamp}},
		watch: func(prog *rules.Program) watcher {
			return never{thing: number(prog, lamp), level: level, always: true, unless: true}
		},
	}}}
	cs, err := p.Cases(NewIndex(sheet))
	if err != nil || len(cs) == 0 {
		return Case{}, err
	}
	return cs[0], nil
}
