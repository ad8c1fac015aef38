package ideal

import (
	"fmt"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/rules"
)

// stage plays a home second by second, with motion sensors that are blind for a minute after they saw something.
type stage struct {
	t     testing.TB
	p     *rules.Program
	s     rules.State
	day   int // seconds since the first midnight
	log   []string
	told  []string
	each  []func()       // looked at after every second
	moves map[string]int // motion sensor: second in which it goes quiet, unless something moves
	style sensorStyle
}

// sensorStyle is what a motion sensor does while something goes on moving.
type sensorStyle int

const (
	onceUntilQuiet sensorStyle = iota // reports once, and then when all is quiet
	everyMinute                       // reports again each time that its blind time is over
)

func open(t testing.TB, d Drafted, at string) *stage {
	t.Helper()
	p, err := rules.Compile(d.Sheet)
	if err != nil {
		t.Fatal(err)
	}
	begin := rules.Equinox.Second(clock(t, at))
	return &stage{t: t, p: p, s: p.Start(begin), day: begin, moves: map[string]int{}}
}

func openHome(t testing.TB, p *model.Project, at string) *stage {
	t.Helper()
	return open(t, Draft(p), at)
}

func (g *stage) thing(id string) int {
	g.t.Helper()
	i, ok := g.p.Thing(id)
	if !ok {
		g.t.Fatalf("no thing %q", id)
	}
	return i
}

func (g *stage) note(hs []rules.Happening) {
	voice := map[int]int{} // lamps that rules changed in this step
	for _, h := range hs {
		if h.Kind == rules.Endless {
			g.t.Fatalf("endless at %s", g.now())
		}
		if text := g.p.Say(h); text != "" && h.Kind != rules.Declined {
			g.log = append(g.log, g.now()+" "+text)
		}
		if h.Kind == rules.Changed && h.Rule >= 0 && g.p.Sheet().Things[h.Thing].Kind == rules.Lamp {
			if voice[h.Thing]++; voice[h.Thing] > 1 {
				g.fail("two rules move one lamp in one instant")
			}
		}
		if h.Kind == rules.Told {
			g.told = append(g.told, g.now()+" "+g.p.Say(h))
		}
	}
}

func (g *stage) now() string {
	s := g.s.Clock()
	return fmt.Sprintf("%02d:%02d:%02d", s/3600, s/60%60, s%60)
}

// do is one step, in which no lamp is moved twice.
func (g *stage) do(e rules.Event) {
	var hs []rules.Happening
	g.s, hs = g.p.Step(g.s, e)
	g.note(hs)
}

// pass lets time pass, a second at a time.
func (g *stage) pass(seconds int) {
	for range seconds {
		var hs []rules.Happening
		g.s, hs = g.p.Advance(g.s, 1)
		g.day++
		g.note(hs) // every wait that ends in this second included
		for id, quiet := range g.moves {
			if g.day >= quiet && g.on(id) {
				g.do(rules.Event{Kind: rules.Reported, Thing: g.thing(id)})
			}
		}
		for _, look := range g.each {
			look()
		}
	}
}

func (g *stage) until(at string) {
	g.t.Helper()
	want := rules.Equinox.Second(clock(g.t, at))
	for range rules.DaySeconds {
		if g.s.Clock() == want {
			return
		}
		g.pass(1)
	}
}

// move is somebody moving in front of a sensor.
func (g *stage) move(sensor string) {
	quiet, seen := g.moves[sensor]
	blind := seen && g.day < quiet
	if !blind {
		g.do(rules.Event{Kind: rules.Reported, Thing: g.thing(sensor), Value: rules.Value{On: true}})
	}
	if !blind || g.style == onceUntilQuiet {
		g.moves[sensor] = g.day + 60
	}
}

// stir moves in front of a sensor every ten seconds.
func (g *stage) stir(sensor string, seconds int) {
	for range seconds / 10 {
		g.move(sensor)
		g.pass(10)
	}
}

func (g *stage) report(id string, on bool) {
	g.do(rules.Event{Kind: rules.Reported, Thing: g.thing(id), Value: rules.Value{On: on}})
}
func (g *stage) read(id string, n int) {
	g.do(rules.Event{Kind: rules.ReadingIs, Thing: g.thing(id), Value: rules.Value{Level: n}})
}
func (g *stage) hand(id string, v rules.Value) {
	g.do(rules.Event{Kind: rules.HandSet, Thing: g.thing(id), Value: v})
}
func (g *stage) press(id string, p rules.Press) {
	g.do(rules.Event{Kind: rules.ButtonPress, Thing: g.thing(id), Press: p})
}
func (g *stage) on(id string) bool   { g.t.Helper(); return g.p.Value(g.s, g.thing(id)).On }
func (g *stage) level(id string) int { g.t.Helper(); return g.p.Value(g.s, g.thing(id)).Level }

func (g *stage) want(id string, on bool) {
	g.t.Helper()
	if g.on(id) != on {
		g.fail("%s is on=%v, want %v", id, !on, on)
	}
}

func (g *stage) wantLevel(id string, level int) {
	g.t.Helper()
	if v := g.p.Value(g.s, g.thing(id)); v.Level != level {
		g.fail("%s is at %d, want %d", id, v.Level, level)
	}
}

func (g *stage) fail(text string, args ...any) {
	g.t.Helper()
	for _, l := range g.log[max(0, len(g.log)-40):] {
		g.t.Log(l)
	}
	g.t.Fatalf(g.now()+" "+text, args...)
}

// always checks a thing after every second from now on.
func (g *stage) always(id string, on bool) (end func()) {
	live := true
	g.each = append(g.each, func() {
		if live && g.on(id) != on {
			g.fail("%s must stay on=%v", id, on)
		}
	})
	return func() { live = false }
}

// enter comes in by the door of the shower room, with the door shut behind, or left open.
func (g *stage) enter(shut bool) {
	g.report("shower-room/door", true)
	g.pass(1)
	g.move("shower-room/motion")
	g.pass(3)
	if shut {
		g.report("shower-room/door", false)
	}
}

func bothStyles(t *testing.T, f func(t *testing.T, style sensorStyle)) {
	for name, style := range map[string]sensorStyle{"reports once": onceUntilQuiet, "reports every minute": everyMinute} {
		t.Run(name, func(t *testing.T) { f(t, style) })
	}
}

const (
	ceiling = "shower-room/ceiling"
	mirror  = "shower-room/mirror"
	motion  = "shower-room/motion"
	door    = "shower-room/door"
	extract = "shower-room/extract"
	damp    = "shower-room/humidity"
	house   = "house/humidity"
	basin   = "shower-room/by-basin"
)
