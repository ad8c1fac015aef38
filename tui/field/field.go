// Package field is one line of text that can be written in. Its cursor neither blinks nor needs colour.
package field

import (
	"unicode"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

// mostRunes bounds a line, so that a paste of megabytes does no harm.
const mostRunes = 2000

// Field is a line of text. The zero Field is empty.
type Field struct {
	text  []rune
	at    int  // the rune that the cursor stands before
	Offer bool // the text was offered and not touched yet: the first letter replaces it
}

// Set puts text in, with the cursor behind it.
func (f *Field) Set(s string) {
	f.text = clean(s)
	f.at = len(f.text)
	f.Offer = false
}

// Propose puts text in that the first letter replaces and an arrow key keeps.
func (f *Field) Propose(s string) {
	f.Set(s)
	f.Offer = len(f.text) > 0
}

// Text is what stands in the field.
func (f *Field) Text() string { return string(f.text) }

// clean makes one line of anything that may be pasted.
func clean(s string) []rune {
	var out []rune
	for _, r := range s {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			r = ' '
		case unicode.IsControl(r) || r == unicode.ReplacementChar:
			continue
		}
		if r == ' ' && len(out) > 0 && out[len(out)-1] == ' ' && len(s) > 1 {
			continue
		}
		out = append(out, r)
		if len(out) == mostRunes {
			break
		}
	}
	return out
}

// Key takes a key press and answers whether it was the field's.
func (f *Field) Key(msg tea.KeyMsg) bool {
	switch msg.Type {
	case tea.KeyRunes:
		if msg.Alt {
			return false
		}
		f.insert(clean(string(msg.Runes)))
	case tea.KeySpace:
		f.insert([]rune{' '})
	case tea.KeyBackspace:
		f.remove(f.at-1, f.at)
	case tea.KeyDelete:
		f.remove(f.at, f.at+1)
	case tea.KeyLeft:
		f.move(f.at - 1)
	case tea.KeyRight:
		f.move(f.at + 1)
	case tea.KeyCtrlLeft:
		f.move(f.word(-1))
	case tea.KeyCtrlRight:
		f.move(f.word(1))
	case tea.KeyHome, tea.KeyCtrlA:
		f.move(0)
	case tea.KeyEnd, tea.KeyCtrlE:
		f.move(len(f.text))
	case tea.KeyCtrlU:
		f.remove(0, f.at)
	case tea.KeyCtrlK:
		f.remove(f.at, len(f.text))
	case tea.KeyCtrlW:
		f.remove(f.word(-1), f.at)
	default:
		return false
	}
	return true
}

func (f *Field) insert(rs []rune) {
	if f.Offer {
		f.text, f.at, f.Offer = nil, 0, false
	}
	if n := mostRunes - len(f.text); len(rs) > n {
		rs = rs[:n]
	}
	f.text = append(f.text[:f.at:f.at], append(append([]rune(nil), rs...), f.text[f.at:]...)...)
	f.at += len(rs)
}

func (f *Field) remove(from, to int) {
	from, to = max(from, 0), min(to, len(f.text))
	f.Offer = false
	if from >= to {
		return
	}
	f.text = append(f.text[:from:from], f.text[to:]...)
	f.at = from
}

func (f *Field) move(to int) {
	f.Offer = false
	f.at = min(max(to, 0), len(f.text))
}

// word is where the next word begins in a direction.
func (f *Field) word(by int) int {
	i := f.at
	if by < 0 {
		for i > 0 && f.text[i-1] == ' ' {
			i--
		}
		for i > 0 && f.text[i-1] != ' ' {
			i--
		}
		return i
	}
	for i < len(f.text) && f.text[i] != ' ' {
		i++
	}
	for i < len(f.text) && f.text[i] == ' ' {
		i++
	}
	return i
}

// View draws the field in w cells, scrolled so that the cursor is seen. Without colour the cursor is a
// bar of its own between the letters.
func (f *Field) View(t theme.Theme, w int) string {
	if w < 2 {
		return ""
	}
	ink := t.Strong
	if f.Offer {
		ink = t.Accent
	}
	before, after := f.text[:f.at], f.text[f.at:]
	cursor := t.Glyphs.Bar
	head := string(before)
	for layout.Width(head) > w-2 {
		_, size := utf8.DecodeRuneInString(head)
		head = head[size:]
	}
	switch {
	case !t.Colour:
	case f.Offer || len(after) == 0:
		cursor = t.Accent.Render("█")
		if !t.Glyphs.Line {
			cursor = t.Cursor.Render(" ")
		}
	default:
		cursor = t.Cursor.Render(string(after[:1]))
		after = after[1:]
	}
	tail := layout.Cut(string(after), w-layout.Width(head)-2, "")
	return ink.Render(head) + cursor + ink.Render(tail)
}
