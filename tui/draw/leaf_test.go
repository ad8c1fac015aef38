package draw

import (
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
	"pgregory.net/rapid"

	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

func look() theme.Theme {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.TrueColor)
	return theme.New(r, theme.Options{Colour: true, Dark: true})
}

// house is a leaf of three floors with two items each; the second item of a floor has two rows.
func house(w, h int) *Leaf {
	l := &Leaf{Theme: look(), Head: []string{"the house"}, Aside: []string{"6 rooms"}}
	var rows []Row
	for f := range 3 {
		rows = append(rows, Row{Text: fmt.Sprint("floor ", f), Item: -1, Head: true})
		rows = append(rows, Row{Text: fmt.Sprint("front ", f), Item: 2 * f, Note: []string{fmt.Sprint("to the street ", f)}})
		rows = append(rows, Row{Text: fmt.Sprint("back ", f), Item: 2*f + 1, Note: []string{"to the yard"}}, Row{Text: "  and shed", Item: 2*f + 1})
	}
	l.SetSize(w, h)
	l.SetRows(rows)
	return l
}

func seen(l *Leaf) string {
	lines := strings.Split(ansi.Strip(l.View()), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return "\n" + strings.Join(lines, "\n") + "\n"
}

func TestLeafDrawn(t *testing.T) {
	narrow, wide := house(30, 10), house(96, 8)
	narrow.Go(3)
	wide.Go(3)
	for name, c := range map[string]struct{ got, want string }{
		"folded below": {seen(narrow), `
the house
  front 0
  back 0
    and shed
  floor 1
  front 1
▸ back 1
    and shed
──────────────────────────────
  to the yard
`},
		"beside": {seen(wide), `
the house                                                     │ 6 rooms
  front 0                                                     │
  back 0                                                      │
    and shed                                                  │
  floor 1                                                     │
  front 1                                                     │
▸ back 1                                                      │ to the yard
    and shed                                                  │
`},
	} {
		t.Run(name, func(t *testing.T) {
			if c.got != c.want {
				t.Errorf("got:%s\nwant:%s", c.got, c.want)
			}
		})
	}
}

func TestLeafSections(t *testing.T) {
	l := house(40, 20)
	for _, c := range []struct{ from, by, want int }{
		{0, 1, 2}, {1, 1, 2}, {2, 1, 4}, {4, 1, 4}, {5, 1, 4}, {5, -1, 4}, {4, -1, 2}, {3, -1, 2}, {0, -1, 0},
	} {
		l.Go(c.from)
		if l.Section(c.by); l.At() != c.want {
			t.Errorf("from %d by %d: at %d, want %d", c.from, c.by, l.At(), c.want)
		}
	}
}

func TestLeafScrollsPastTheLastItem(t *testing.T) {
	l := house(30, 10)
	rows := append([]Row(nil), l.rows...)
	for i := range 4 {
		rows = append(rows, Row{Text: fmt.Sprint("remark ", i), Item: -1})
	}
	l.SetRows(rows)
	l.Go(5)
	for range 9 {
		l.Move(1)
	}
	if got := seen(l); !strings.Contains(got, "remark 3\n") || l.At() != 5 {
		t.Errorf("at %d it shows:%s", l.At(), got)
	}
	for range 9 {
		l.Move(-1)
	}
	if l.At() != 0 {
		t.Errorf("back at item %d", l.At())
	}
	if l.End(); !strings.Contains(seen(l), "remark 3\n") {
		t.Errorf("the end is not in sight:%s", seen(l))
	}
}

func TestLeafClick(t *testing.T) {
	l := house(40, 12)
	for _, c := range []struct {
		x, y int
		hit  bool
		at   int
	}{{3, 2, true, 0}, {3, 3, true, 1}, {3, 4, true, 1}, {3, 1, false, 1}, {3, 0, false, 1}, {3, 30, false, 1}, {90, 2, false, 1}, {-1, -1, false, 1}} {
		if hit := l.Click(c.x, c.y); hit != c.hit || l.At() != c.at {
			t.Errorf("click at %d,%d: hit %v at %d, want %v at %d", c.x, c.y, hit, l.At(), c.hit, c.at)
		}
	}
}

// Whatever is done, the leaf keeps to its cells and the cursor stays in sight.
func TestLeafHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := house(rapid.IntRange(0, 140).Draw(t, "w"), rapid.IntRange(0, 24).Draw(t, "h"))
		for _, do := range rapid.SliceOfN(rapid.IntRange(0, 8), 0, 20).Draw(t, "moves") {
			switch do {
			case 0:
				l.Move(1)
			case 1:
				l.Move(-1)
			case 2:
				l.Page(1)
			case 3:
				l.Page(-1)
			case 4:
				l.Section(1)
			case 5:
				l.Go(5)
			case 6:
				l.Wheel(3)
			case 7:
				l.Wheel(-2)
			case 8:
				l.SetSize(rapid.IntRange(0, 140).Draw(t, "w"), rapid.IntRange(0, 24).Draw(t, "h"))
			}
		}
		view := l.View()
		if view == "" {
			return
		}
		lines := strings.Split(view, "\n")
		if len(lines) > l.h {
			t.Fatalf("%d lines in %d", len(lines), l.h)
		}
		here := false
		for _, s := range lines {
			if layout.Width(s) > l.w {
				t.Fatalf("%q is wider than %d", ansi.Strip(s), l.w)
			}
			here = here || strings.Contains(s, "▸")
		}
		if l.Body() >= 3 && l.w > 4 && !here {
			t.Fatalf("the cursor is out of sight:\n%s", ansi.Strip(view))
		}
	})
}

func TestDecimals(t *testing.T) {
	got := Decimals([]string{"1,234.50", "7.05", "12", "0.5 m"})
	want := []string{"1,234.50 ", "    7.05 ", "   12    ", "    0.5 m"}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%q, want %q", got[i], want[i])
		}
	}
}

func TestWrapKeepsUnits(t *testing.T) {
	got := strings.Join(Wrap("a box of 35 mm and a fan of 21 l/s here", 10), "|")
	if want := "a box of|35 mm and|a fan of|21 l/s|here"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestRoomOf(t *testing.T) {
	for path, want := range map[string]string{
		"rooms/hall/circuits/lamp": "hall", "hall/lamp": "hall", "rooms/hall": "hall", "home/place": "", "people/rosa": "", "rooms": "", "": "",
	} {
		if got := RoomOf(path); got != want {
			t.Errorf("%q is of %q, want %q", path, got, want)
		}
	}
}

func BenchmarkLeafView(b *testing.B) {
	l := house(116, 35)
	for b.Loop() {
		l.View()
	}
}
