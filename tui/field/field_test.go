package field

import (
	"io"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
	"pgregory.net/rapid"

	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

func plain(colour bool) theme.Theme {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.TrueColor)
	return theme.New(r, theme.Options{Colour: colour, Dark: true})
}

func press(f *Field, msgs ...tea.KeyMsg) {
	for _, m := range msgs {
		f.Key(m)
	}
}

func runes(s string) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)} }

func TestAnOfferIsReplacedByALetterAndKeptByAnArrow(t *testing.T) {
	var f Field
	f.Propose("6m")
	press(&f, runes("9"), runes("m"))
	if f.Text() != "9m" {
		t.Errorf("a letter left %q", f.Text())
	}
	f.Propose("6m")
	press(&f, tea.KeyMsg{Type: tea.KeyLeft}, runes("0"))
	if f.Text() != "60m" {
		t.Errorf("an arrow and a letter left %q", f.Text())
	}
	f.Propose("6m")
	press(&f, tea.KeyMsg{Type: tea.KeyBackspace})
	if f.Text() != "6" {
		t.Errorf("backspace left %q", f.Text())
	}
}

func TestPasteBecomesOneCleanLine(t *testing.T) {
	var f Field
	f.Key(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("two\r\nlines\x1b[31m and\ttabs")})
	if got := f.Text(); got != "two lines[31m and tabs" {
		t.Errorf("pasted as %q", got)
	}
	f.Set("")
	f.Key(runes(strings.Repeat("x", 3*mostRunes)))
	if n := len([]rune(f.Text())); n != mostRunes {
		t.Errorf("%d runes were kept", n)
	}
}

func TestWordsMoveAndGo(t *testing.T) {
	var f Field
	f.Set("light goes off")
	press(&f, tea.KeyMsg{Type: tea.KeyCtrlW})
	if f.Text() != "light goes " {
		t.Errorf("ctrl+w left %q", f.Text())
	}
	press(&f, tea.KeyMsg{Type: tea.KeyCtrlLeft}, runes("never "))
	if f.Text() != "light never goes " {
		t.Errorf("a word back and typing left %q", f.Text())
	}
	press(&f, tea.KeyMsg{Type: tea.KeyCtrlU})
	if f.Text() != "goes " {
		t.Errorf("ctrl+u left %q", f.Text())
	}
}

func TestViewStaysInItsCells(t *testing.T) {
	types := []tea.KeyType{tea.KeyLeft, tea.KeyRight, tea.KeyHome, tea.KeyEnd, tea.KeyBackspace, tea.KeyDelete, tea.KeyCtrlLeft}
	rapid.Check(t, func(t *rapid.T) {
		var f Field
		f.Set(rapid.StringMatching(`[a-zé日 ]{0,60}`).Draw(t, "text"))
		for _, k := range rapid.SliceOfN(rapid.SampledFrom(types), 0, 30).Draw(t, "keys") {
			f.Key(tea.KeyMsg{Type: k})
			f.Key(runes("é"))
		}
		w := rapid.IntRange(2, 50).Draw(t, "w")
		colour := rapid.Bool().Draw(t, "colour")
		if got := layout.Width(f.View(plain(colour), w)); got > w {
			t.Fatalf("%d cells in %d: %q", got, w, ansi.Strip(f.View(plain(colour), w)))
		}
	})
}

func TestTheCursorIsSeenWithoutColour(t *testing.T) {
	var f Field
	f.Set("abc")
	press(&f, tea.KeyMsg{Type: tea.KeyLeft})
	if got := ansi.Strip(f.View(plain(false), 20)); got != "ab│c" {
		t.Errorf("drawn as %q", got)
	}
}
