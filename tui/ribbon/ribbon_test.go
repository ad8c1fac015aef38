package ribbon

import (
	"io"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
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

// winter in York: sunrise 08:20, sunset 15:45.
var winter = Sun{Dawn: 460, Rise: 500, Set: 945, Dusk: 985}

func shower() Day {
	return Day{
		Periods: []model.Period{
			{From: at(6, 20), Level: 90, Colour: 4000},
			{From: q.DayTime{Sun: q.Sunset}, Level: 35, Colour: 2700},
			{From: at(22, 45), Level: 4, Colour: 2200, Circuits: []string{"mirror"}},
		},
		Circuits: []model.Circuit{{ID: "ceiling"}, {ID: "mirror"}},
		Sun:      winter, Cursor: 1, Rise: 2,
	}
}

func plain(lines []string) string {
	for i := range lines {
		lines[i] = strings.TrimRight(ansi.Strip(lines[i]), " ")
	}
	return "\n" + strings.Join(lines, "\n") + "\n"
}

func TestRibbonDrawn(t *testing.T) {
	for _, c := range []struct {
		name  string
		ascii bool
		day   Day
		width int
		want  string
	}{} {
		t.Run(c.name, func(t *testing.T) {
			if got := plain(Ribbon(c.day, c.width, look(true, c.ascii))); got != c.want {
				t.Errorf("got:%s\nwant:%s", got, c.want)
			}
		})
	}
	t.Log(plain(Ribbon(shower(), 76, look(true, false))))
	t.Log(plain(Ribbon(shower(), 76, look(true, true))))
	t.Log(plain(Ribbon(shower(), 50, look(true, false))))
	t.Log(plain(Ribbon(shower(), 30, look(true, true))))
}
