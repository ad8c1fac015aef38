package promises

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"example.org/roombrief/planner/rules"
)

// Index finds, for a sheet, the rules that move a thing or a wait, so that slices of a large home are quick.
type Index struct {
	sheet rules.Sheet
	thing map[string]int
	rule  map[string]int
	sets  map[string][]int // thing -> rules that set it
	waits map[string][]int // wait -> rules that start, stop or hold it
	press []int            // by rule: the number, from 1, of what its press does outside of its room at any time; 0 for all other rules

	mu       sync.Mutex
	programs map[FaultKind]compiled // of the whole sheet
}

type compiled struct {
	prog   *rules.Program
	relays []relay
	err    error
}

// whole is the program of the whole sheet, with lamps that come back as a fault has them, and what its controllers hear late of each other.
func (ix *Index) whole(f Fault) (*rules.Program, []relay, error) {
	if f.Kind != PowerCut {
		f.Kind = NoFault
	}
	ix.mu.Lock()
	defer ix.mu.Unlock()
	c, ok := ix.programs[f.Kind]
	if !ok {
		sheet := ix.sheet
		sheet.Things = slices.Clone(sheet.Things)
		f.powerUp(&sheet)
		sheet, c.relays = relayed(sheet, sheet.Links)
		c.prog, c.err = rules.Compile(sheet)
		if ix.programs == nil {
			ix.programs = map[FaultKind]compiled{}
		}
		ix.programs[f.Kind] = c
	}
	return c.prog, c.relays, c.err
}

// NewIndex reads a sheet once.
func NewIndex(sheet rules.Sheet) *Index {
	ix := &Index{sheet: sheet, thing: make(map[string]int, len(sheet.Things)), rule: make(map[string]int, len(sheet.Rules)), sets: map[string][]int{}, waits: map[string][]int{}}
	for i, t := range sheet.Things {
		ix.thing[t.ID] = i
	}
	put := func(m map[string][]int, id string, rule int) {
		if list := m[id]; len(list) == 0 || list[len(list)-1] != rule {
			m[id] = append(list, rule)
		}
	}
	ix.press = make([]int, len(sheet.Rules))
	presses := map[string]int{}
	for i := range sheet.Rules {
		r := &sheet.Rules[i]
		ix.rule[r.ID] = i
		if r.Cause.Kind == rules.Pressed && len(r.Guard) == 0 {
			k := fmt.Sprint(r.Cause.Press, effectsOutside(r), r.Again)
			if presses[k] == 0 {
				presses[k] = len(presses) + 1
			}
			ix.press[i] = presses[k]
		}
	}
	for i := range sheet.Rules {
		r := &sheet.Rules[i]
		for _, e := range r.Effects {
			switch e.Kind {
			case rules.Set:
				put(ix.sets, e.Thing, i)
			case rules.Start, rules.Stop:
				put(ix.waits, e.Wait, i)
			}
		}
		if len(r.Hold) > 0 {
			put(ix.waits, r.Cause.Wait, i)
		}
	}
	return ix
}

// effectsOutside are the effects of a rule on what isn't its room's.
func effectsOutside(r *rules.Rule) []rules.Effect {
	var out []rules.Effect
	for _, e := range r.Effects {
		if !inRoom(r.Room, e) {
			out = append(out, e)
		}
	}
	return out
}

// inRoom reports whether an effect is on a thing or wait of a room.
func inRoom(room string, e rules.Effect) bool {
	return room != "" && (strings.HasPrefix(e.Thing, room+"/") || strings.HasPrefix(e.Wait, room+"/"))
}

// Sheet that the index reads.
func (ix *Index) Sheet() rules.Sheet { return ix.sheet }

// roomOf is the room of a thing.
func (ix *Index) roomOf(id string) string {
	if i, ok := ix.thing[id]; ok {
		return ix.sheet.Things[i].Room
	}
	return ""
}
