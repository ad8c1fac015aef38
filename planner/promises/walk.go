package promises

import (
	"example.org/roombrief/planner/rules"
)

// walk plays a long plain story of a room, with much going on in it, and gives the rules that acted. What it
// misses has to be searched for. Motion sensors say that all is quiet when their blind time is over, and plugs that
// are off let nothing be drawn; otherwise anything may happen at any second.
func (p Promise) walk(ix *Index) map[string]bool {
	w := want{room: p.Room, power: true}
	for _, f := range p.facets {
		w.keep = append(w.keep, f.keep...)
	}
	sheet, _, _ := ix.slice(w)
	prog, err := rules.Compile(sheet)
	if err != nil {
		return nil
	}
	if len(p.year) > 0 {
		prog = prog.On(p.year[len(p.year)/4])
	} else {
		prog = prog.On(rules.Equinox)
	}
	k := &walker{prog: prog, sheet: sheet, blind: int(p.World.Blind), random: 20_021, quiet: map[int]int{}}
	k.sheet.Things = append([]rules.Thing(nil), sheet.Things...)
	k.state = prog.Start(7 * 3600)
	acted := map[string]bool{}
	for step := 0; step < walkSteps && len(acted) < len(sheet.Rules); step++ {
		for _, h := range k.step() {
			if h.Kind == rules.Acted {
				acted[sheet.Rules[h.Rule].ID] = true
			}
		}
	}
	return acted
}

const walkSteps = 4000

type walker struct {
	prog   *rules.Program
	sheet  rules.Sheet
	state  rules.State
	blind  int
	random uint64
	now    int
	quiet  map[int]int // motion sensor -> when its blind time is over
	out    []rules.Happening
}

// draw is the next pseudo-random number below n; the walk is the same each time.
func (k *walker) draw(n int) int {
	k.random = k.random*6364136223846793005 + 1442695040888963407
	return int(k.random>>33) % n
}

// pauses between what happens, in seconds.
var pauses = [...]int{0, 0, 0, 1, 5, 20, 60, 61, 200, 400, 700, 1300, 2800, 7200, 20_000}

func (k *walker) step() []rules.Happening {
	k.out = k.out[:0]
	k.pass(pauses[k.draw(len(pauses))])
	if len(k.sheet.Things) == 0 {
		return k.out
	}
	switch k.draw(40) {
	case 0:
		k.do(rules.Event{Kind: rules.PowerFails})
		k.do(rules.Event{Kind: rules.PowerReturns})
		return k.out
	}
	i := k.draw(len(k.sheet.Things))
	now := k.prog.Value(k.state, i)
	switch t := k.sheet.Things[i]; t.Kind {
	case rules.Motion:
		if k.quiet[i] <= k.now {
			k.quiet[i] = k.now + max(k.blind, 1)
			k.do(rules.Event{Kind: rules.Reported, Thing: i, Value: rules.Value{On: true}})
		}
	case rules.Presence, rules.Door, rules.Probe:
		k.do(rules.Event{Kind: rules.Reported, Thing: i, Value: rules.Value{On: !now.On}})
	case rules.Hygrometer:
		k.do(rules.Event{Kind: rules.ReadingIs, Thing: i, Value: rules.Value{Level: 30 + k.draw(71)}})
	case rules.Meter:
		k.do(rules.Event{Kind: rules.ReadingIs, Thing: i, Value: rules.Value{Level: k.draw(2) * k.draw(2000) * k.powered(t.ID)}})
	case rules.Lamp:
		k.do(rules.Event{Kind: rules.HandSet, Thing: i, Value: rules.Value{On: k.draw(3) > 0, Level: k.draw(2) * (1 + k.draw(99))}})
	case rules.Fan, rules.Plug, rules.Valve:
		k.do(rules.Event{Kind: rules.HandSet, Thing: i, Value: rules.Value{On: !now.On}})
	case rules.ButtonOf:
		k.do(rules.Event{Kind: rules.ButtonPress, Thing: i, Press: rules.Press(k.draw(3))})
	}
	return k.out
}

// powered is 1 where a meter's plug is on.
func (k *walker) powered(meter string) int {
	for i, t := range k.sheet.Things {
		if t.Kind == rules.Plug && t.ID+"-power" == meter && !k.prog.Value(k.state, i).On {
			return 0
		}
	}
	return 1
}

func (k *walker) do(e rules.Event) { k.out = k.prog.Do(&k.state, e, k.out) }

// pass lets time go by; motion sensors go quiet on the way.
func (k *walker) pass(seconds int) {
	until := k.now + seconds
	for {
		at, which := until, -1
		for i := range k.sheet.Things {
			if t, ok := k.quiet[i]; ok && t <= at && k.prog.Value(k.state, i).On {
				at, which = max(t, k.now), i
			}
		}
		k.out = k.prog.DoAdvance(&k.state, at-k.now, k.out)
		k.now = at
		if which < 0 {
			return
		}
		k.do(rules.Event{Kind: rules.Reported, Thing: which})
	}
}
