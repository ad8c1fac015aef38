package ribbon

import (
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
	"pgregory.net/rapid"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

func look(colour, ascii bool) theme.Theme {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.Ascii)
	if colour {
		r.SetColorProfile(termenv.TrueColor)
	}
	return theme.New(r, theme.Options{Colour: colour, Dark: true, ASCII: ascii})
}

func at(h, m int) q.DayTime {
	return q.DayTime{Offset: time.Duration(h)*time.Hour + time.Duration(m)*time.Minute}
}

// york is its midwinter.
var york = Sun{Dawn: 460, Rise: 500, Set: 945, Dusk: 985}

func shower() Day {
	return Day{
		Periods: []model.Period{
			{From: at(6, 20), Level: 90, Colour: 4000},
			{From: q.DayTime{Sun: q.Sunset}, Level: 35, Colour: 2700},
			{From: at(22, 45), Level: 4, Colour: 2200, Circuits: []string{"mirror"}},
		},
		Circuits: []model.Circuit{{ID: "ceiling"}, {ID: "mirror"}},
		Sun:      york, Cursor: 1, Rise: 2,
	}
}

func plain(lines []string) string {
	for i := range lines {
		lines[i] = strings.TrimRight(ansi.Strip(lines[i]), " ")
	}
	return "\n" + strings.Join(lines, "\n") + "\n"
}

func TestRibbonDrawn(t *testing.T) {
	polar, bright := shower(), shower()
	polar.Sun, polar.Rise, polar.Cursor = Sun{Never, Never, Never, Never, false}, 1, 2
	bright.Sun = Sun{Never, Never, Never, Never, true}
	bright.Periods = []model.Period{{From: at(7, 0), Level: 100}, {From: at(23, 0)}}
	bright.Cursor = 1
	halves := shower()
	halves.Periods = []model.Period{{From: at(6, 15), Level: 100}, {From: at(17, 45)}}
	halves.Cursor = -1
	for _, c := range []struct {
		name  string
		ascii bool
		day   Day
		width int
		want  string
	}{
		{"winter", false, shower(), 76, `
           sunrise 08:20 ↑─────────────────────↓ 15:45 sunset
                                               ▸15:45───────────────
ceiling
                   ▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆
                   █████████████████████████████▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆
dark               90 % 4000 K                 35 % 2700 K
mirror
                   ▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆
▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁█████████████████████████████▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▁▁▁
4 % 2200 K         90 % 4000 K                 35 % 2700 K
00───────03───────06───────09───────12───────15───────18───────21─────24
`},
		{"winter in digits", true, shower(), 76, `
           sunrise 08:20 ^---------------------v 15:45 sunset
                                               >15:45---------------
ceiling
                   99999999999999999999999999999
                   99999999999999999999999999999333333333333333333333
dark               90 % 4000 K                 35 % 2700 K
mirror
                   99999999999999999999999999999
000000000000000000099999999999999999999999999999333333333333333333333000
4 % 2200 K         90 % 4000 K                 35 % 2700 K
00-------03-------06-------09-------12-------15-------18-------21-----24
`},
		{"a cell that cannot be halved shows the stronger half", false, shower(), 50, `
  sunrise 08:20 ↑──────────────↓ 15:45 sunset
                               ▸15:45────────
ceiling
            ▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆
            ████████████████████▆▆▆▆▆▆▆▆▆▆▆▆▆▆
dark        90 % 4000 K        35 % 2700 K
mirror
            ▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆▆
▁▁▁▁▁▁▁▁▁▁▁▁████████████████████▆▆▆▆▆▆▆▆▆▆▆▆▆▆▁▁
4 % 2200 K  90 % 4000 K        35 % 2700 K
00────03────06────09────12────15────18────21──24
`},
		{"half cells", false, halves, 48, `
  sunrise 08:20 ↑──────────────↓ 15:45 sunset

ceiling and mirror
            ▐██████████████████████▌
············▐██████████████████████▌············
            100 %                  left as it is
00────03────06────09────12────15────18────21──24
`},
		{"polar night leaves the sunset period out", true, polar, 30, `
  sun down all day
------           22:45>-
ceiling
      99999999999999999
dark  90 % 4000 K
mirror
000000999999999999999990
4 %   90 % 4000 K
00----06----12----18--24
`},
		{"light left alone, circuits that agree share a track", false, bright, 48, `
─ sun up all day ───────────────────────────────
──────────────                           23:00▸─
ceiling and mirror
              ████████████████████████████████
··············████████████████████████████████··
left as it is 100 %
00────03────06────09────12────15────18────21──24
`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := plain(Ribbon(c.day, c.width, look(true, c.ascii))); got != c.want {
				t.Errorf("got:%s\nwant:%s", got, c.want)
			}
		})
	}
}

func TestRibbonWithoutColour(t *testing.T) {
	bare := strings.Join(Ribbon(shower(), 76, look(false, false)), "\n")
	if bare != ansi.Strip(bare) {
		t.Error("a ribbon without colour still carries styles")
	}
	if coloured := strings.Join(Ribbon(shower(), 76, look(true, false)), "\n"); ansi.Strip(coloured) != bare {
		t.Error("colour changes what is written")
	}
}

// Whatever the day, a ribbon keeps its width, and every minute belongs to exactly one stretch.
func TestRibbonHolds(t *testing.T) {
	th := look(true, false)
	rapid.Check(t, func(t *rapid.T) {
		d := Day{Sun: york, Rise: rapid.IntRange(1, 4).Draw(t, "rise"), Cursor: rapid.IntRange(-1, 3).Draw(t, "cursor")}
		for i := range rapid.IntRange(1, 4).Draw(t, "circuits") {
			d.Circuits = append(d.Circuits, model.Circuit{ID: fmt.Sprint("lamp-", i)})
		}
		for range rapid.IntRange(0, 6).Draw(t, "periods") {
			p := model.Period{
				From:   q.DayTime{Sun: q.Sun(rapid.IntRange(0, 4).Draw(t, "sun"))},
				Level:  q.Percent(rapid.IntRange(0, 100).Draw(t, "level")),
				Colour: q.ColourTemp(rapid.SampledFrom([]int{0, 1800, 2700, 6500}).Draw(t, "colour")),
			}
			p.From.Offset = time.Duration(rapid.IntRange(0, 1439).Draw(t, "minute")) * time.Minute
			d.Periods = append(d.Periods, p)
		}
		width := rapid.IntRange(1, 130).Draw(t, "width")
		for _, line := range Ribbon(d, width, th) {
			if layout.Width(line) > width {
				t.Fatalf("%q is wider than %d", line, width)
			}
		}
		ss, all := stretches(d.Periods, d.Sun), 0
		for _, s := range ss {
			if s.to < s.from {
				t.Fatalf("a stretch ends before it starts: %v", s)
			}
			all += s.to - s.from
		}
		if len(ss) > 0 && all != day {
			t.Fatalf("the stretches last %d minutes", all)
		}
	})
}

func TestTintRunsFromWarmToCool(t *testing.T) {
	last := 1 << 30
	for k := 1800; k <= 6500; k += 100 {
		var r, g, b int
		if _, err := fmt.Sscanf(tint(k, true), "#%02x%02x%02x", &r, &g, &b); err != nil {
			t.Fatal(err)
		}
		if r-b > last {
			t.Errorf("%d K is warmer than the step before", k)
		}
		last = r - b
	}
	if tint(100, true) != tint(1800, true) || tint(9000, true) != tint(6500, true) {
		t.Error("colours beyond the ends are not those of the ends")
	}
}

func BenchmarkRibbon(b *testing.B) {
	d, th := shower(), look(true, false)
	for b.Loop() {
		Ribbon(d, 96, th)
	}
}

// A line that is too long says less, and stands closer, before anything of it is cut off.
func TestColumnsGiveWayBeforeTheyAreCut(t *testing.T) {
	cols := [][]string{{"5:30 am", "dusk"}, {"to 5:36 pm", "5:36 pm to 10:30 pm"}, {"100 %", "  5 %"}, {"13.6 fc", " 0.45 fc floor"}, {"as the lamp is", "2200 K"}, {"all lamps", "vanity"}}
	for _, c := range []struct {
		w    int
		want string
	}{
		{90, "dusk     5:36 pm to 10:30 pm    5 %   0.45 fc floor  2200 K          vanity"},
		{74, "dusk     5:36 pm to 10:30 pm    5 %   0.45 fc  2200 K    vanity"},
		{62, "dusk    5:36 pm to 10:30 pm   5 %  0.45 fc 2200 K   vanity"},
	} {
		if got := columns(c.w, cols...); got[1] != c.want {
			t.Errorf("%d cells: %q, want %q", c.w, got[1], c.want)
		}
		for _, line := range columns(c.w, cols...) {
			if len(line) > c.w {
				t.Errorf("%d cells: %q", c.w, line)
			}
		}
	}
}
