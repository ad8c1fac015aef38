package floorpage

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/floorplan"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// Three rooms side by side of a concrete house, the last without a controller's ear, and one that nobody has measured.
const three = `roombrief: 1
home:
  name: Three
  units: metric
  currency: GBP
  walls: concrete
controllers:
  - {id: shelf, room: den, position: {x: 0.5 m, y: 0.5 m}, limits: open}
rooms:
  - id: den
    name: Den
    kind: study
    floor: 0
    outline: {x: 0 m, y: 0 m, width: 4 m, depth: 4 m, ceiling: 2.5 m}
    doors: [{id: a, to: hall, usually: closed}, {id: front, to: outside, usually: closed}]
    circuits: [{id: ceiling, lamps: 2, flux: 806 lm, power: 8 W, base: E27, dimmable: yes, switch: box}]
    switches: [{id: box, gangs: 1, neutral: yes, depth: 45 mm, by: door}]
    brief: {lighting: {start: on entry, periods: [{from: 07:00, level: 80 %}], stop: {after: 10m, never_while: moving}}}
  - id: hall
    name: Hall
    kind: hall
    floor: 0
    outline: {x: 4.1 m, y: 0 m, width: 2 m, depth: 4 m, ceiling: 2.5 m}
    doors: [{id: a, to: den, usually: closed}, {id: b, to: far, usually: open}, {id: up, to: loft, usually: none}]
  - id: far
    name: Far store
    kind: store
    floor: 0
    outline: {x: 6.2 m, y: 0 m, width: 60 m, depth: 4 m, ceiling: 2.5 m}
    doors: [{id: a, to: hall, usually: open}]
    circuits: [{id: ceiling, lamps: 2, flux: 806 lm, power: 8 W, base: E27, dimmable: yes, switch: box}]
    switches: [{id: box, gangs: 1, neutral: yes, depth: 45 mm, by: door}]
    brief: {lighting: {start: on entry, periods: [{from: 07:00, level: 80 %}], stop: {after: 10m, never_while: moving}}}
  - id: attic
    name: Attic
    kind: store
    floor: 0
  - id: loft
    name: Loft
    kind: bedroom
    floor: 1
    outline: {x: 4.1 m, y: 0 m, width: 2 m, depth: 4 m, ceiling: 2.5 m}
    doors: [{id: down, to: hall, usually: none}]
`

func TestRoomsAreDrawnWithTheirRadio(t *testing.T) {
	for _, c := range []struct {
		file, room string
		w, h       int
		want       []string
	}{
		{"alder-row.yaml", "hall", 76, 19, []string{"▸Hall", "45 dB", "Entrance floor, 1 of 2", "Kitchen", "turned left", "2.1 m x 5.5 m", "Zigbee: 49 dB to spare, 10"}},
		{"alder-row.yaml", "study", 116, 35, []string{"▸Study", "One floor up, 2 of 2", "Zigbee: 16 dB to spare, 10 wanted."}},
		{"larkspur-lane.yaml", "workshop", 76, 19, []string{"Garage workshop", "a column is 1 ft", "19 ft 6 in x 20 ft"}},
		{"twelve-doors.yaml", "hall", 116, 35, []string{"▸Long hall", "Its sensor sees 32 % of the floor"}},
	} {
		s := trial.Home(t, c.file, c.room)
		s.Units = physics.System(s.Project)
		d := trial.Sit(t, New(), s, c.w, c.h)
		got := d.Seen()
		for _, want := range c.want {
			if !strings.Contains(got, want) {
				t.Errorf("%s: %q is missing:\n%s", c.file, want, got)
			}
		}
	}
}

// What can't be told by colour is told by a word, in line drawing and in ASCII; what is wrong says what to do.
func TestWeakLinksAreTold(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		s := trial.Of(t, []byte(three), "far")
		s.Theme = trial.Look(false, ascii)
		plan := *s.Plan // as somebody has it who leaves out what passes messages on
		plan.Bill.Devices = slices.DeleteFunc(slices.Clone(plan.Bill.Devices), func(d bill.Device) bool { return d.Room == "hall" })
		s.Plan = &plan
		d := trial.Sit(t, New(), s, 116, 35)
		got := d.Page.View()
		if got != ansi.Strip(got) {
			t.Error("a plan without colour has styles")
		}
		link, _ := d.Page.(*Page).floor.Room("far").Worst()
		if link.State < floorplan.Weak {
			t.Fatalf("the link over 60 m is %v", link.State)
		}
		for _, want := range []string{linkText(d.Page.(*Page).floor.Room("far"), 20, s.Theme), "▸Far store", "Without an outline: Attic"} {
			if ascii {
				want = layout.ASCII(want)
			}
			if !strings.Contains(got, want) {
				t.Errorf("ascii %v: %q is missing:\n%s", ascii, want, got)
			}
		}
		todo := ""
		for _, n := range d.Page.(*Page).notes {
			if n.mark == "! " {
				todo += n.text + "\n"
			}
		}
		for _, want := range []string{"put a part that repeats", "One in Hall ", "Its sensor sees ", "take one that sees further"} {
			if !strings.Contains(todo, want) {
				t.Errorf("what to do lacks %q:\n%s", want, todo)
			}
		}
		if ascii && strings.ContainsFunc(got, func(r rune) bool { return r > 0x7e }) {
			t.Errorf("line drawing in ASCII:\n%s", got)
		}
	}
}

// Arrows lead to the room that lies there, beyond the last one to those without an outline; Tab changes the floor.
func TestArrowsFollowThePlan(t *testing.T) {
	d := trial.Sit(t, New(), trial.Of(t, []byte(three), "den"), 116, 35)
	for _, c := range []struct{ key, want string }{
		{"right", "hall"}, {"right", "far"}, {"right", "far"}, {"left", "hall"}, {"up", "hall"}, {"down", "attic"}, {"up", "far"},
		{"tab", "loft"}, {"tab", "den"}, {"shift+tab", "loft"},
	} {
		if got := d.Press(c.key).Page.(page.Pointing).Pointing(); got != c.want {
			t.Errorf("%s leads to %q, want %q", c.key, got, c.want)
		}
	}
	d.Press("enter")
	if to, ok := d.Last.(page.Goto); !ok || to.Room != "loft" || to.Page != page.Sheet {
		t.Errorf("Enter answers %+v", d.Last)
	}
}

// From every room every other one of its floor can be reached with the arrows, turned or not.
func TestEveryRoomIsReached(t *testing.T) {
	for _, h := range fixtures.Homes() {
		for _, turn := range []int{-1, 1} {
			s := trial.Home(t, h.File, "")
			p := New().(*Page)
			p.turn = turn
			p.SetSize(116, 35)
			p.Show(s)
			for _, number := range floorplan.Numbers(s.Project) {
				f := floorplan.Of(s.Project, nil, nil, number)
				seen, todo := map[string]bool{f.Rooms[0].ID: true}, []string{f.Rooms[0].ID}
				for len(todo) > 0 {
					from := todo[0]
					todo = todo[1:]
					for _, do := range []keys.Command{keys.Up, keys.Down, keys.Left, keys.Right} {
						p.choose(from)
						p.refresh()
						p.View()
						p.do(do)
						if !seen[p.room] {
							seen[p.room] = true
							todo = append(todo, p.room)
						}
					}
				}
				if len(seen) != len(f.Rooms) {
					t.Errorf("%s, floor %d, turned %d: %d of %d rooms are reached", h.File, number, turn, len(seen), len(f.Rooms))
				}
			}
		}
	}
}

// Whatever the size, scale and turn, the page has exactly its lines, none too long, and the chosen room is in sight.
func TestPlanFitsItsPage(t *testing.T) {
	homes := []page.Snapshot{trial.Home(t, "alder-row.yaml", ""), trial.Home(t, "twelve-doors.yaml", ""), trial.Of(t, []byte(three), ""),
		trial.Of(t, fixtures.Building(14), ""), trial.Of(t, projectfile.Starter("Empty"), "")}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(homes).Draw(t, "home")
		if n := len(s.Project.Rooms); n > 0 {
			s.Room = s.Project.Rooms[rapid.IntRange(0, n-1).Draw(t, "room")].ID
		}
		s.Theme = trial.Look(rapid.Bool().Draw(t, "colour"), rapid.Bool().Draw(t, "ascii"))
		w, h := rapid.IntRange(38, 200).Draw(t, "w"), rapid.IntRange(7, 60).Draw(t, "h")
		p := New().(*Page)
		p.SetSize(w, h)
		p.Show(s)
		for range rapid.IntRange(0, 6).Draw(t, "keys") {
			p.View()
			if len(s.Project.Rooms) > 0 {
				p.do(rapid.SampledFrom([]keys.Command{keys.Up, keys.Down, keys.Left, keys.Right, keys.Closer, keys.Farther, keys.TurnPlan, keys.NextPart, keys.PageDn, keys.PageUp}).Draw(t, "key"))
			}
		}
		lines := strings.Split(p.View(), "\n")
		if len(lines) != h {
			t.Fatalf("%d lines of %d", len(lines), h)
		}
		for _, l := range lines {
			if layout.Width(l) > w {
				t.Fatalf("a line of %d at %d: %q", layout.Width(l), w, l)
			}
		}
		for i, b := range p.plot.sheet.boxes {
			if p.floor.Rooms[i].ID != p.room || b.x1-b.x0 > p.plot.planW || b.y1-b.y0 > p.plot.planH {
				continue
			}
			if b.x0 < p.plot.x-1 || b.x1 > p.plot.x+p.plot.planW || b.y0 < p.plot.y-1 || b.y1 > p.plot.y+p.plot.planH {
				t.Fatalf("%s is out of sight: box %+v, window at %d,%d of %d by %d", p.room, b, p.plot.x, p.plot.y, p.plot.planW, p.plot.planH)
			}
		}
	})
}

// Rooms keep their size to a cell, and two sides of one wall are one line.
func TestRoomsAreToScale(t *testing.T) {
	f := floorplan.Of(trial.Home(t, "alder-row.yaml", "").Project, nil, nil, 0)
	for _, turned := range []bool{false, true} {
		s := layOut(&f, 0.1, turned)
		for i, b := range s.boxes {
			w, d := f.Rooms[i].W, f.Rooms[i].D
			if turned {
				w, d = d, w
			}
			if off := float64(b.x1-b.x0)*0.1 - w; off < -0.15 || off > 0.25 {
				t.Errorf("%s is %d columns wide for %.1f m", f.Rooms[i].ID, b.x1-b.x0, w)
			}
			if off := float64(b.y1-b.y0)*0.2 - d; off < -0.25 || off > 0.35 {
				t.Errorf("%s is %d rows deep for %.1f m", f.Rooms[i].ID, b.y1-b.y0, d)
			}
		}
		hall, living := s.boxes[0], s.boxes[2]
		if !turned && hall.x1 != living.x0 || turned && hall.y0 != living.y1 {
			t.Errorf("turned %v: the hall and the living room have two walls between them: %+v %+v", turned, hall, living)
		}
	}
}

func BenchmarkKey(b *testing.B) {
	for _, n := range []int{40} {
		b.Run(fmt.Sprint(n, " rooms"), func(b *testing.B) {
			s := trial.Of(b, fixtures.Building(n), "flat-1-hall")
			p := New().(*Page)
			p.SetSize(116, 35)
			p.Show(s)
			p.View()
			moves := []keys.Command{keys.Down, keys.Right, keys.Up, keys.Right, keys.NextPart}
			i := 0
			for b.Loop() {
				p.do(moves[i%len(moves)])
				if p.View() == "" {
					b.Fatal("nothing was drawn")
				}
				i++
			}
		})
	}
}

// What is said of a room without an outline is what the bill does with it.
func TestARoomWithoutAnOutlineIsTakenToBeInReach(t *testing.T) {
	s := trial.Of(t, []byte(three), "attic")
	d := trial.Sit(t, New(), s, 116, 35)
	for _, l := range d.Page.(*Page).floor.Room("attic").Links {
		if l.State != floorplan.Taken {
			t.Errorf("the link by %s is in state %d", l.Radio, l.State)
		}
	}
	if got := strings.Join(strings.Fields(d.Seen()), " "); !strings.Contains(got, "No outline is noted") || strings.Contains(got, "15 m") {
		t.Error(got)
	}
}
