package proof

import (
	"context"
	"fmt"
	"testing"

	"example.org/roombrief/planner/timed"

	"pgregory.net/rapid"
)

// table is a random timed system: places with timers and moves between them.
type table struct {
	places []place
	bad    int
	first  [][2]int16
}

type place struct {
	timers []timed.Timer
	acts   []timed.Move
	ended  map[int16][]timed.Move
}

func (t *table) state(n int) timed.State {
	return timed.State{Loc: string(rune('a' + n)), Timers: t.places[n].timers}
}
func (t *table) at(s timed.State) *place { return &t.places[s.Loc[0]-'a'] }
func (t *table) Begin() []timed.State    { return []timed.State{t.state(0)} }
func (t *table) Acts(s timed.State) []timed.Move {
	return t.at(s).acts
}
func (t *table) Ended(s timed.State, id int16) []timed.Move { return t.at(s).ended[id] }
func (t *table) First(a, b int16) bool {
	for _, f := range t.first {
		if f == [2]int16{a, b} {
			return true
		}
	}
	return false
}
func (t *table) Broken(s timed.State) bool { return int(s.Loc[0]-'a') == t.bad }
func (t *table) Met(s timed.State) bool    { return t.Broken(s) }
func (t *table) Say(label int) string      { return fmt.Sprint("move ", label) }

func drawTable(r *rapid.T) *table {
	n := rapid.IntRange(2, 6).Draw(r, "places")
	t := &table{bad: n - 1}
	unit := rapid.SampledFrom([]int32{1, 1, 2, 3}).Draw(r, "unit")
	for i := 0; i < n; i++ {
		p := place{ended: map[int16][]timed.Move{}}
		for id := int16(0); id < 3; id++ {
			if rapid.Bool().Draw(r, "runs") {
				lo := rapid.Int32Range(0, 5).Draw(r, "lo") * unit
				hi := lo
				if rapid.IntRange(0, 3).Draw(r, "loose") == 0 {
					hi += rapid.Int32Range(0, 3).Draw(r, "slack") * unit
				}
				p.timers = append(p.timers, timed.Timer{ID: id, Lo: lo, Hi: hi})
			}
		}
		t.places = append(t.places, p)
	}
	label := 0
	move := func(from int, ends int16) timed.Move {
		to := rapid.IntRange(0, n-1).Draw(r, "to")
		label++
		m := timed.Move{Label: label, To: t.state(to), Act: ends < 0 && rapid.IntRange(0, 4).Draw(r, "act") > 0, Meets: rapid.IntRange(0, 5).Draw(r, "meets") == 0}
		for _, x := range t.places[to].timers {
			old, runs := t.state(from).At(x.ID)
			if !runs || x.ID == ends || old != x || rapid.Bool().Draw(r, "fresh") {
				m.Fresh = append(m.Fresh, x.ID)
			}
		}
		for _, x := range t.places[from].timers {
			if rapid.IntRange(0, 3).Draw(r, "guarded") == 0 {
				min := rapid.Int32Range(0, x.Hi/unit).Draw(r, "min") * unit
				if rapid.Bool().Draw(r, "least") && ends < 0 {
					m.When = append(m.When, timed.Compare{Timer: x.ID, Min: min, Max: x.Hi})
				} else if ends < 0 {
					m.When = append(m.When, timed.Compare{Timer: x.ID, Min: 0, Max: min})
				}
			}
		}
		return m
	}
	for i := range t.places {
		if i == t.bad {
			for _, x := range t.places[i].timers {
				t.places[i].ended[x.ID] = []timed.Move{move(i, x.ID)}
			}
			continue
		}
		for k := rapid.IntRange(0, 2).Draw(r, "acts"); k > 0; k-- {
			t.places[i].acts = append(t.places[i].acts, move(i, -1))
		}
		for _, x := range t.places[i].timers {
			t.places[i].ended[x.ID] = append(t.places[i].ended[x.ID], move(i, x.ID))
		}
	}
	if rapid.Bool().Draw(r, "ranked") {
		t.first = [][2]int16{{0, 1}}
	}
	return t
}

// playable walks a story second by second on the system itself: no graph, no zones.
func playable(sys timed.System, story []Told) error {
	s := sys.Begin()[0]
	read := map[int16]int32{}
	now := int64(0)
	for _, told := range story {
		for ; now < told.At; now++ {
			for _, x := range s.Timers {
				read[x.ID]++
				if read[x.ID] > x.Hi {
					return fmt.Errorf("timer %d passed over at %d", x.ID, now+1)
				}
			}
		}
		m, err := chosen(sys, s, read, told.Label)
		if err != nil {
			return err
		}
		next := map[int16]int32{}
		for _, x := range m.To.Timers {
			if !has(m.Fresh, x.ID) {
				next[x.ID] = read[x.ID]
			}
		}
		s, read = m.To, next
	}
	if !sys.Broken(s) {
		return fmt.Errorf("the story does not end in a break")
	}
	return nil
}

func chosen(sys timed.System, s timed.State, read map[int16]int32, label int) (timed.Move, error) {
	for _, m := range sys.Acts(s) {
		if m.Label == label && holds(m, read) {
			return m, nil
		}
	}
	for _, x := range s.Timers {
		if read[x.ID] < x.Lo {
			continue
		}
		blocked := false
		for _, y := range s.Timers {
			blocked = blocked || (y.ID != x.ID && sys.First(y.ID, x.ID) && read[y.ID] >= y.Hi)
		}
		for _, m := range sys.Ended(s, x.ID) {
			if m.Label == label && holds(m, read) && !blocked {
				return m, nil
			}
		}
	}
	return timed.Move{}, fmt.Errorf("move %d is not possible in %q at %v", label, s.Loc, read)
}

func holds(m timed.Move, read map[int16]int32) bool {
	for _, c := range m.When {
		if read[c.Timer] < c.Min || read[c.Timer] > c.Max {
			return false
		}
	}
	return true
}

func TestTheTwoEnginesAgreeOnRandomSystems(t *testing.T) {
	ctx := context.Background()
	kinds := map[OutcomeKind]int{}
	rapid.Check(t, func(r *rapid.T) {
		sys := drawTable(r)
		a := Broken(ctx, sys, Usual)
		b := Ticks(ctx, sys, 1, 2_000_000, sys.Broken)
		kinds[a.Kind]++
		if a.Kind != b.Kind {
			r.Fatalf("zones say %v, ticks say %v\n%+v", a.Kind, b.Kind, sys)
		}
		if !a.Exact {
			r.Fatalf("an exact search came back inexact")
		}
		if a.Kind != Found {
			return
		}
		if a.Acts != b.Acts {
			r.Fatalf("zones need %d acts, ticks %d\n%+v", a.Acts, b.Acts, sys)
		}
		if x, y := end(a), end(b); x != y {
			r.Fatalf("zones end at %d, ticks at %d\n%+v", x, y, sys)
		}
		for _, story := range [][]Told{a.Story, b.Story} {
			if err := playable(sys, story); err != nil {
				r.Fatalf("%v\nstory %+v\n%+v", err, story, sys)
			}
		}
		whole := unitOf(newGraphOpened(sys))
		if c := Ticks(ctx, sys, whole, 2_000_000, sys.Broken); c.Kind != b.Kind || c.Acts != b.Acts {
			r.Fatalf("at a step of %d s ticks say %v after %d acts, at 1 s %v after %d", whole, c.Kind, c.Acts, b.Kind, b.Acts)
		}
	})
	if kinds[Found] == 0 || kinds[Nowhere] == 0 {
		t.Fatalf("the random systems are all of one kind: %v", kinds)
	}
}

// Where a premise is met by moves, both engines find the same, and so does whoever plays at random, when anything.
func TestTheEnginesAgreeOnMovesThatMeetThePremise(t *testing.T) {
	ctx := context.Background()
	kinds, wandered := map[OutcomeKind]int{}, 0
	rapid.Check(t, func(r *rapid.T) {
		sys := drawTable(r)
		a := Met(ctx, sys, Usual)
		b := ticks(ctx, newGraph(sys), 1, 2_000_000, met, met.hit)
		kinds[a.Kind]++
		if a.Kind != b.Kind || a.Acts != b.Acts || end(a) != end(b) {
			r.Fatalf("zones say %v with %d acts in %d s, ticks %v with %d in %d s\n%+v", a.Kind, a.Acts, end(a), b.Kind, b.Acts, end(b), sys)
		}
		if wander(newGraph(sys), 500, met) {
			wandered++
			if a.Kind != Found {
				r.Fatalf("a story at random meets the premise, and zones say %v\n%+v", a.Kind, sys)
			}
		}
		if a.Kind == Found && len(a.Story) > 0 {
			last := a.steps[len(a.steps)-1]
			if !last.meets && !sys.Met(a.Story[len(a.Story)-1].State) {
				r.Fatalf("the story doesn't end where the premise is met\n%+v", a.Story)
			}
		}
		// A walk that looks for a break and looks out for the premise shows only what is so.
		shown := walked(ctx, newGraph(sys), Usual.Hulls, broken, way{shows: func(o Outcome) bool { return o.steps[len(o.steps)-1].meets }})
		if shown.Shown && a.Kind != Found {
			r.Fatalf("a walk came by the premise, and zones say %v\n%+v", a.Kind, sys)
		}
	})
	if kinds[Found] == 0 || kinds[Nowhere] == 0 || wandered == 0 {
		t.Fatalf("the random systems are all of one kind: %v, %d met at random", kinds, wandered)
	}
}

func newGraphOpened(sys timed.System) *graph {
	g := newGraph(sys)
	for i := 0; i < len(g.spots); i++ {
		g.open(int32(i))
	}
	return g
}

func end(o Outcome) int64 {
	if len(o.Story) == 0 {
		return 0
	}
	return o.Story[len(o.Story)-1].At
}
