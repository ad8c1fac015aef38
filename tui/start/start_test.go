package start

import (
	"io"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/theme"
)

func offered() *Page {
	taken := map[string]bool{"home.yaml": true, "alder-row.yaml": true, "alder-row-2.yaml": true}
	p := New(Options{
		Recent:   []Recent{{File: "/somewhere/far/away/in/a/folder/with/a/long/name/mine.yaml", When: "yesterday"}},
		Examples: []Example{{File: "alder-row.yaml", Name: "14 Alder Row", About: strings.Repeat("a house ", 12), Source: []byte("roombrief: 1\n")}},
		Taken:    func(file string) bool { return taken[file] },
	})
	p.Show(page.Snapshot{Theme: theme.New(lipgloss.NewRenderer(io.Discard), theme.Options{})})
	return p
}

func press(p *Page, keys ...string) page.Action {
	var last page.Action
	for _, k := range keys {
		msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
		switch k {
		case "enter":
			msg = tea.KeyMsg{Type: tea.KeyEnter}
		case "esc":
			msg = tea.KeyMsg{Type: tea.KeyEsc}
		case "down":
			msg = tea.KeyMsg{Type: tea.KeyDown}
		}
		last = p.Update(msg)
	}
	return last
}

func TestOpenings(t *testing.T) {
	if got, ok := press(offered(), "1").(page.Open); !ok || got.Create || !strings.HasSuffix(got.File, "mine.yaml") {
		t.Errorf("a recent project opens as %+v", got)
	}
	if got, ok := press(offered(), "a", "enter").(page.Open); !ok || !got.Create || got.File != "alder-row-3.yaml" || string(got.Source) != "roombrief: 1\n" {
		t.Errorf("an example opens as %+v", got)
	}
	if got, ok := press(offered(), "n", "m", "y", " ", "h", "enter").(page.Open); !ok || got.File != "my h.yaml" || !strings.Contains(string(got.Source), "My h") {
		t.Errorf("a new home opens as %+v", got)
	}
	if got, ok := press(offered(), "down", "down", "enter", "enter").(page.Open); !ok || got.File != "alder-row-3.yaml" {
		t.Errorf("the marked line opens as %+v", got)
	}
}

func TestNothingIsOverwrittenByANewHome(t *testing.T) {
	p := offered()
	p.SetSize(76, 19)
	press(p, "n")
	p.file.Set("home")
	if a := press(p, "enter"); a != nil {
		t.Errorf("answered %+v", a)
	}
	if view := ansi.Strip(p.View()); !strings.Contains(view, "home.yaml is there already") {
		t.Errorf("not said:\n%s", view)
	}
	press(p, "esc")
	if p.asking {
		t.Error("Esc does not go back")
	}
}

func TestHomeName(t *testing.T) {
	for file, want := range map[string]string{
		"alder-row.yaml": "Alder row", "/a/b/14_elm.yml": "14 elm", "élan.yaml": "Élan", ".yaml": "Home",
	} {
		if got := HomeName(file); got != want {
			t.Errorf("HomeName(%q) = %q, want %q", file, got, want)
		}
	}
}

func TestThePageFits(t *testing.T) {
	for _, size := range [][2]int{{38, 7}, {60, 15}, {76, 19}, {196, 55}} {
		for _, keys := range [][]string{nil, {"down"}, {"a"}} {
			p := offered()
			p.SetSize(size[0], size[1])
			press(p, keys...)
			lines := strings.Split(ansi.Strip(p.View()), "\n")
			if len(lines) > size[1] {
				t.Errorf("%d lines in %v", len(lines), size)
			}
			for _, l := range lines {
				if layout.Width(l) > size[0] {
					t.Errorf("%d cells in %v: %q", layout.Width(l), size, l)
				}
			}
		}
	}
}
