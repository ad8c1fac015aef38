package theme

import (
	"io"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
)

func env(pairs ...string) func(string) string {
	return func(key string) string {
		for i := 0; i+1 < len(pairs); i += 2 {
			if pairs[i] == key {
				return pairs[i+1]
			}
		}
		return ""
	}
}

func TestFromEnv(t *testing.T) {
	for _, c := range []struct {
		name string
		env  func(string) string
		want Options
	}{
		{"usual", env("TERM", "xterm-256color", "LANG", "en_GB.UTF-8"), Options{Colour: true, Dark: true}},
		{"light", env("TERM", "xterm", "LANG", "C.utf8", "ROOMBRIEF_THEME", "Light"), Options{Colour: true}},
		{"no colour", env("TERM", "xterm", "LANG", "C.UTF-8", "NO_COLOR", "1"), Options{Dark: true}},
		{"dumb, whatever else it says", env("TERM", "dumb", "COLORTERM", "truecolor", "LANG", "C.UTF-8"), Options{Dark: true, ASCII: true}},
		{"no terminal named", env("LANG", "C.UTF-8"), Options{Dark: true, ASCII: true}},
		{"plain locale", env("TERM", "xterm", "LANG", "C"), Options{Colour: true, Dark: true, ASCII: true}},
		{"the first set decides", env("TERM", "xterm", "LC_ALL", "C", "LANG", "C.UTF-8"), Options{Colour: true, Dark: true, ASCII: true}},
		{"none set", env("TERM", "xterm"), Options{Colour: true, Dark: true}},
		{"kernel console", env("TERM", "linux"), Options{Colour: true, Dark: true, ASCII: true}},
		{"asked for", env("TERM", "xterm", "LANG", "C", "ROOMBRIEF_GLYPHS", "line"), Options{Colour: true, Dark: true}},
	} {
		if got := FromEnv(c.env); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

// Faint notes, the thing that you are on, danger and hair lines differ on every terminal that has colours.
func TestTokensDifferInEveryProfile(t *testing.T) {
	for _, profile := range []termenv.Profile{termenv.TrueColor, termenv.ANSI256, termenv.ANSI} {
		for _, dark := range []bool{true, false} {
			r := lipgloss.NewRenderer(io.Discard)
			r.SetColorProfile(profile)
			x := New(r, Options{Colour: true, Dark: dark})
			seen := map[string]string{}
			for name, s := range map[string]lipgloss.Style{
				"text": x.Text, "faint": x.Faint, "accent": x.Accent.Bold(false), "danger": x.Danger.Bold(false), "hair": x.Hair,
			} {
				drawn := s.Render("x")
				if was, ok := seen[drawn]; ok {
					t.Errorf("profile %d, dark %v: %s looks like %s", profile, dark, name, was)
				}
				seen[drawn] = name
			}
		}
	}
}

func TestEveryGlyphIsOneCellWideAndASCIIWhereItMustBe(t *testing.T) {
	for _, g := range []Glyphs{lineGlyphs, asciiGlyphs} {
		all := append([]string{
			g.Here, g.Done, g.Open, g.Broken, g.Note, g.Hair, g.Bar, g.Dot, g.More, g.Sunrise, g.Sunset, g.Up, g.Down, g.Left, g.Right,
		}, g.Eighths...)
		for _, s := range all {
			if ansi.StringWidth(s) != 1 {
				t.Errorf("%q is %d cells wide", s, ansi.StringWidth(s))
			}
			if !g.Line && (len(s) != 1 || s[0] > 126) {
				t.Errorf("%q is no ASCII", s)
			}
		}
	}
}
