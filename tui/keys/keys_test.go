package keys

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

func TestEveryBindingCanBePressedShownAndExplained(t *testing.T) {
	for _, g := range All() {
		if g.Page == "" || len(g.Bindings) == 0 {
			t.Errorf("group %q is empty or has no name", g.Page)
		}
		for _, b := range g.Bindings {
			switch {
			case b.Do == "":
				t.Errorf("%s: a key %v asks for nothing", g.Page, b.Keys)
			case len(b.Keys) == 0 || b.Cap == "":
				t.Errorf("%s: %s has no key, or none to show", g.Page, b.Do)
			case !strings.HasSuffix(b.Help, ".") || strings.ToUpper(b.Help[:1]) != b.Help[:1]:
				t.Errorf("%s: the help of %s is no sentence: %q", g.Page, b.Do, b.Help)
			case b.Off != "":
				t.Errorf("%s: %s is off in the table itself", g.Page, b.Do)
			}
		}
	}
}

// A key has one meaning on a page. A page may give a key of everywhere its own meaning only for the same
// command.
func TestNoKeyMeansTwoThings(t *testing.T) {
	everywhere := map[string]Command{}
	for _, b := range Everywhere.Bindings {
		for _, k := range b.Keys {
			if was, ok := everywhere[k]; ok {
				t.Errorf("everywhere: %s is %s and %s", k, was, b.Do)
			}
			everywhere[k] = b.Do
		}
	}
	// Pages that see every key before the globals do; Esc leaves their field or their page.
	first := map[string]bool{
		Talk.Page: true, TalkField.Page: true, TalkWords.Page: true, TalkEnd.Page: true, Readback.Page: true, NewRoom.Page: true, PriceFile.Page: true, PriceForm.Page: true,
	}
	for _, g := range All()[1:] {
		seen := map[string]Command{}
		for _, b := range g.Bindings {
			for _, k := range b.Keys {
				if was, ok := seen[k]; ok {
					t.Errorf("%s: %s is %s and %s", g.Page, k, was, b.Do)
				}
				seen[k] = b.Do
				if was, ok := everywhere[k]; ok && was != b.Do && !(k == "esc" && (first[g.Page] || b.Do == Leave)) {
					t.Errorf("%s: %s is %s here and %s everywhere", g.Page, k, b.Do, was)
				}
			}
		}
	}
}

func TestNoLetterOrDigitIsTakenFromTheAnswers(t *testing.T) {
	for _, g := range []Group{Talk, TalkField} {
		for _, b := range g.Bindings {
			for _, k := range b.Keys {
				if len(k) == 1 && strings.ContainsAny(k, "abcdefghijklmnopqrstuvwxyz0123456789") {
					t.Errorf("%s: %q is on %s, where answers have their keys", g.Page, b.Do, k)
				}
			}
		}
	}
}

func TestAPasteIsNoCommand(t *testing.T) {
	msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("q"), Paste: true}
	if b, ok := Everywhere.Of(msg); ok {
		t.Errorf("a pasted q is taken for %s", b.Do)
	}
	msg.Paste = false
	if b, ok := Everywhere.Of(msg); !ok || b.Do != Quit {
		t.Errorf("q is %q", b.Do)
	}
}

func TestOffAndWithoutLeaveTheTableAlone(t *testing.T) {
	bs := Off(Everywhere.Copy(), Undo, "Nothing to undo.")
	bs = Without(bs, Redo, Quit)
	for _, b := range bs {
		if b.Do == Undo && b.Off == "" {
			t.Error("undo is still on")
		}
		if b.Do == Redo || b.Do == Quit {
			t.Errorf("%s is still there", b.Do)
		}
	}
	for _, b := range Everywhere.Bindings {
		if b.Off != "" {
			t.Errorf("the table itself was changed: %s", b.Do)
		}
	}
	if len(bs) != len(Everywhere.Bindings)-2 {
		t.Errorf("%d bindings left of %d", len(bs), len(Everywhere.Bindings))
	}
}
