package ribbon

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/page"
)

const cottage = `roombrief: 1
home:
  name: Cottage
  place: {latitude: 53.96, longitude: -1.08, timezone: Europe/London}
  currency: GBP
rooms:
  - id: hall
    name: Hall
    kind: hall
    circuits:
      - {id: ceiling, lamps: 1, flux: 470 lm, base: E27, dimmable: yes}
      - {id: shelf, lamps: 1, flux: 470 lm, base: E27, dimmable: yes}
    brief:
      lighting:
        start: on entry
        periods:
          - {from: 06:20, level: 90 %, colour: 4000 K}
          - {from: sunset, level: 35 %, colour: 2700 K} # when it gets dark
          - {from: "22:45", level: 4 %, circuits: [shelf]}
        stop: {after: 6m, never_while: occupied}
  - id: attic
    name: Attic
    kind: study
    brief:
      lighting: none
`

func sit(t testing.TB, room string) *trial.Desk {
	return trial.Sit(t, New(), trial.Of(t, []byte(cottage), room), 76, 19)
}

func hall(d *trial.Desk) []model.Period {
	r, _ := d.Snap.Project.Room("hall")
	return r.Brief.Lighting.Want.Periods
}

// head is the first line of the page.
func head(d *trial.Desk) string { return strings.Split(d.Seen(), "\n")[0] }

func TestPageDrawn(t *testing.T) {
	d := sit(t, "hall")
	want := `  Today, 24 November
           sunrise 07:48 ↑───────────────────────↓ 15:53 sunset
                     ▸06:20──────────────────────
  ceiling
                     ▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆
                     █████████████████████████████▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆
  dark               90 % 4000 K                 35 % 2700 K
  shelf
                     ▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆
  ▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁█████████████████████████████▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▁▁▁
  4 %                90 % 4000 K                 35 % 2700 K
  00───────03───────06───────09───────12───────15───────18───────21─────24

▸ 06:20   to 15:53        90 %  51 lx          4000 K          all lamps
  sunset  15:53 to 22:45  35 %  20 lx          2700 K          all lamps
  22:45   to 06:20         4 %   1.1 lx floor  as the lamp is  shelf
────────────────────────────────────────────────────────────────────────────
  90 % gives 51 lx; 30 to 75 lx is usual here.
  Lasts 9 h 33 min on this day. …
`
	if got := d.Seen(); strings.TrimRight(got, "\n") != strings.TrimRight(want, "\n") {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
}

func TestMoveStart(t *testing.T) {
	for _, c := range []struct {
		name  string
		press []string
		want  string // starts of the periods
	}{
		{"five minutes later", []string{"right"}, "06:25 sunset 22:45"},
		{"five minutes earlier", []string{"left", "left"}, "06:10 sunset 22:45"},
		{"an hour", []string{"shift+right"}, "07:20 sunset 22:45"},
		{"a sun time keeps its sun", []string{"down", "left"}, "06:20 sunset-00:05 22:45"},
		{"past midnight", []string{"down", "down", "shift+right", "L"}, "06:20 sunset 00:45"},
		{"no further than its neighbour", []string{"H", "H", "H", "H", "H", "H", "H", "H", "H"}, "22:50 sunset 22:45"},
		{"written", []string{"enter", "ctrl+u", "=sunrise-00:30", "enter"}, "sunrise-00:30 sunset 22:45"},
		{"left as it was", []string{"enter", "ctrl+u", "=09:00", "esc"}, "06:20 sunset 22:45"},
		{"new, with the light of its moment", []string{"n", "=12:00", "enter"}, "06:20 12:00 sunset 22:45"},
		{"split in the middle", []string{"down", "s"}, "06:20 sunset 19:15 22:45"},
		{"removed", []string{"down", "x"}, "06:20 22:45"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := sit(t, "hall").Press(c.press...)
			var got []string
			for _, p := range hall(d) {
				got = append(got, p.From.String())
			}
			if s := strings.Join(got, " "); s != c.want {
				t.Errorf("starts are %s, want %s", s, c.want)
			}
			if !strings.Contains(string(d.Snap.Doc.Source()), "# when it gets dark") && c.name != "removed" {
				t.Error("a comment was lost")
			}
		})
	}
}

func TestCursorStaysOnThePeriod(t *testing.T) {
	d := sit(t, "hall").Press("down", "down", "L", "L") // from 22:45 over midnight to the top of the list
	if p := d.Page.(*Page); p.periods()[p.marked()].From.String() != "00:45" {
		t.Errorf("the cursor went to the period from %v", p.periods()[p.marked()].From)
	}
	d.Press("n", "=03:00", "enter")
	if p := d.Page.(*Page); p.periods()[p.marked()].From.String() != "03:00" {
		t.Errorf("the cursor is not on the new period but on the one from %v", p.periods()[p.marked()].From)
	}
}

func TestLightChanged(t *testing.T) {
	for _, c := range []struct {
		press []string
		want  string
	}{
		{[]string{"+"}, "95 % 4000 K"},
		{[]string{"-", "-"}, "80 % 4000 K"},
		{[]string{">", "."}, "90 % 4200 K"},
		{[]string{"<"}, "90 % 3900 K"},
		{[]string{"p"}, "90 % 0 K"},
		{[]string{"p", ">"}, "90 % 2700 K"},
		{[]string{"+", "+", "+"}, "100 % 4000 K"},
	} {
		d := sit(t, "hall").Press(c.press...)
		p := hall(d)[0]
		if got := p.Level.String() + " " + p.Colour.String(); got != c.want {
			t.Errorf("%v: %s, want %s", c.press, got, c.want)
		}
	}
	d := sit(t, "hall").Press("end", "-", "-", "-", "-", "-")
	if p := hall(d)[2]; p.Level != 0 {
		t.Errorf("the night is at %v, want 0 %%", p.Level)
	}
	if d.Press(">"); !strings.Contains(d.Said(), "leaves the light") {
		t.Errorf("a colour for a light left alone: %q", d.Said())
	}
}

func TestLampsChosen(t *testing.T) {
	d := sit(t, "hall").Press("l", " ", "enter")
	if got := hall(d)[0].Circuits; len(got) != 1 || got[0] != "shelf" {
		t.Fatalf("lit are %v, want the shelf alone", got)
	}
	d.Press("l", "down", " ")
	if !strings.Contains(d.Said(), "at least one circuit") {
		t.Errorf("the last lamp went out: %q", d.Said())
	}
	d.Press("up", " ", "esc")
	if got := hall(d)[0].Circuits; len(got) != 0 {
		t.Errorf("all lamps are named: %v", got)
	}
}

func TestRefusals(t *testing.T) {
	d := sit(t, "hall").Press("enter", "ctrl+u", "=25:99", "enter")
	if d.Page.Takes() != page.Text || !strings.Contains(d.Seen(), "25:99") || !strings.Contains(d.Seen(), "✗") {
		t.Errorf("a wrong time is not shown as wrong:\n%s", d.Seen())
	}
	d.Press("ctrl+u", "=22:45", "enter")
	if !strings.Contains(d.Seen(), "Another period starts") {
		t.Errorf("two periods may start together:\n%s", d.Seen())
	}
	if d.Press("esc"); d.Page.Takes() != page.Own {
		t.Error("Esc does not leave the field")
	}
	d.Press("x", "x", "x")
	if len(hall(d)) != 1 || !strings.Contains(d.Said(), "at least one period") {
		t.Errorf("%d periods left; said %q", len(hall(d)), d.Said())
	}
	s := trial.Of(t, []byte(cottage), "hall")
	s.ReadOnly = "the file is open elsewhere"
	if d := trial.Sit(t, New(), s, 76, 19).Press("right"); d.Said() != s.ReadOnly {
		t.Errorf("a file that cannot be changed: %q", d.Said())
	}
}

func TestOtherDays(t *testing.T) {
	d := sit(t, "hall")
	for _, want := range []string{"Midwinter", "The equinox", "Midsummer", "Today"} {
		if d.Press("d"); !strings.Contains(head(d), want) {
			t.Errorf("the day shown is %q, want %s", head(d), want)
		}
	}
	d.Press("down")
	d.Page.SetSize(116, 35)
	for _, want := range []string{"Sunset runs from 15:42 in December to", "21:41 in June.", "35 % gives 20 lx, full on 56 lx"} {
		if !strings.Contains(d.Seen(), want) {
			t.Errorf("the margin does not say %q:\n%s", want, d.Seen())
		}
	}
	south := trial.Of(t, []byte(strings.Replace(cottage, "53.96", "-33.9", 1)), "hall")
	if d := trial.Sit(t, New(), south, 76, 19).Press("d"); !strings.Contains(head(d), "Midsummer, 21 December") {
		t.Errorf("in the south December is %q", head(d))
	}
}

func TestStandsWhereItIsTold(t *testing.T) {
	s := trial.Of(t, []byte(cottage), "hall")
	s.At = "rooms/hall/brief/lighting/periods/2/level"
	if p := trial.Sit(t, New(), s, 76, 19).Page.(*Page); p.marked() != 2 {
		t.Errorf("it stands on period %d", p.marked())
	}
}

func TestMarkedPeriodStaysInSight(t *testing.T) {
	s := trial.Of(t, []byte(cottage), "hall")
	for h := 2; h < 40; h++ {
		if d := trial.Sit(t, New(), s, 48, h).Press("down"); !strings.Contains(d.Seen(), "▸ sunset") {
			t.Errorf("%d lines high it is gone:\n%s", h, d.Seen())
		}
	}
}

func TestClickIntoTheRibbon(t *testing.T) {
	d := sit(t, "hall")
	d.Send(tea.MouseMsg{X: 2 + 60, Y: 4, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
	if p := d.Page.(*Page); p.marked() != 1 {
		t.Errorf("a click at 20:00 marks period %d", p.marked())
	}
	d.Send(tea.MouseMsg{X: 4, Y: 4, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
	if p := d.Page.(*Page); p.marked() != 2 {
		t.Errorf("a click at 00:40 marks period %d", p.marked())
	}
}

func TestStartPulledWithTheMouse(t *testing.T) {
	d := sit(t, "hall")
	mouse := func(x int, a tea.MouseAction) {
		d.Send(tea.MouseMsg{X: 2 + x, Y: 4, Button: tea.MouseButtonLeft, Action: a})
	}
	mouse(19, tea.MouseActionPress) // 06:20
	mouse(22, tea.MouseActionMotion)
	mouse(24, tea.MouseActionMotion)
	mouse(24, tea.MouseActionRelease)
	mouse(30, tea.MouseActionMotion)
	if got := hall(d)[0].From.String(); got != "08:00" {
		t.Errorf("pulled to %s, want 08:00", got)
	}
}

func TestFirstPeriodOfADay(t *testing.T) {
	empty := cottage[:strings.Index(cottage, "        periods:")] + "        stop: {after: 6m}\n"
	d := trial.Sit(t, New(), trial.Of(t, []byte(empty), "hall"), 76, 19)
	if d.Press("right"); !strings.Contains(d.Said(), "no periods yet") {
		t.Errorf("moving nothing says %q", d.Said())
	}
	d.Press("n", "=7")
	if got := d.Seen(); !strings.Contains(got, "a new period starts at 7") {
		t.Errorf("the field is not shown:\n%s", got)
	}
	d.Press("=:00", "enter")
	if ps := hall(d); len(ps) != 1 || ps[0].From.String() != "07:00" || !strings.Contains(d.Seen(), "▸ 07:00") {
		t.Errorf("the first period is %v:\n%s", ps, d.Seen())
	}
}

func TestNothingToShow(t *testing.T) {
	for room, want := range map[string]string{"attic": "wants no light by itself", "": "No room is open"} {
		if got := sit(t, room).Seen(); !strings.Contains(got, want) {
			t.Errorf("room %q shows %q", room, got)
		}
	}
}

func TestFits(t *testing.T) {
	s := trial.Of(t, []byte(cottage), "hall")
	trial.Fits(t, New, s)
	trial.Fits(t, New, s, "enter", "=xx", "enter")
	trial.Fits(t, New, s, "l", "down")
	trial.Fits(t, New, trial.Home(t, "larkspur-lane.yaml", trial.Home(t, "larkspur-lane.yaml", "").Project.Rooms[0].ID))
}

func BenchmarkShowAndView(b *testing.B) {
	s := trial.Of(b, []byte(cottage), "hall")
	d := trial.Sit(b, New(), s, 116, 35)
	for b.Loop() {
		d.Page.Show(s)
		d.Page.View()
	}
}

// While something is written or picked, another version of the file may come in that has nothing of it.
func TestAnotherVersionEndsWhatWasBeingChanged(t *testing.T) {
	for _, keys := range []string{"l", "enter"} {
		d := sit(t, "hall").Press(keys)
		doc, err := d.Snap.Doc.Apply(projectfile.Set("rooms/hall/brief/lighting", "none"))
		if err != nil {
			t.Fatal(err)
		}
		d.Snap = trial.Changed(t, d.Snap, doc)
		d.Page.Show(d.Snap)
		d.Last = nil
		d.Press(" ", "7", "enter")
		if _, edits := d.Last.(page.Edit); edits || !strings.Contains(d.Seen(), "wants no light by itself") {
			t.Errorf("after %s: %v\n%s", keys, d.Last, d.Seen())
		}
	}
}
