package promises

import (
	"strconv"
	"testing"

	"example.org/roombrief/planner/rules"
)

// keyOf is the key of a case that has some things and no rules, each of which a hand may touch or is free.
func keyOf(t *testing.T, things []rules.Thing, free bool) string {
	t.Helper()
	sheet := rules.Sheet{Things: things}
	prog, err := rules.Compile(sheet)
	if err != nil {
		t.Fatal(err)
	}
	c := Case{Promise: Promise{Room: "here"}, slice: sheet, prog: prog, touch: map[string]bool{}, free: map[string]bool{},
		facet: facet{watch: func(*rules.Program) watcher { return never{} }}}
	for _, thing := range things {
		c.touch[thing.ID], c.free[thing.ID] = !free, free
	}
	return c.Key()
}

// Three things of the room itself aren't four of another.
func TestAKeyTellsWhichThingsAreOfTheRoom(t *testing.T) {
	several := func(n int, room string) (out []rules.Thing) {
		for i := range n {
			out = append(out, rules.Thing{ID: "x/" + strconv.Itoa(i), Room: room, Kind: 1, PowerUp: rules.ComesOn})
		}
		return out
	}
	if keyOf(t, several(3, "here"), false) == keyOf(t, several(4, "there"), false) {
		t.Error("both have one key")
	}
}

// What lets a rule act at any time is another part of the plant than a sensor that may say anything.
func TestAKeyTellsAChanceFromASensor(t *testing.T) {
	one := func(id string) []rules.Thing { return []rules.Thing{{ID: id, Room: "here", Kind: rules.Presence}} }
	if keyOf(t, one(chances+"x"), true) == keyOf(t, one("here/presence"), true) {
		t.Error("both have one key")
	}
}

// A broken promise that leans on how often people move comes with how often they have to, and one that doesn't without.
func TestAKeyTellsWhatABrokenOneComesWith(t *testing.T) {
	sheet := rules.Sheet{Things: []rules.Thing{{ID: "here/lamp", Room: "here", Kind: rules.Lamp}}}
	prog, err := rules.Compile(sheet)
	if err != nil {
		t.Fatal(err)
	}
	c := Case{slice: sheet, prog: prog, facet: facet{watch: func(*rules.Program) watcher { return never{} }}}
	still, can := c, c
	still.Promise.Assumes = []Assumption{stillAssumed(60)}
	can.Can = true
	if c.Key() == still.Key() || c.Key() == can.Key() {
		t.Error("they have one key")
	}
}
