package draw

import (
	"strings"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

// Field is one line of text being written in place. Its cursor stands still: nothing blinks.
type Field struct {
	text []rune
	at   int
}

// NewField starts with a text, cursor at its end.
func NewField(text string) Field { return Field{[]rune(text), len([]rune(text))} }

// Text is what is written.
func (f Field) Text() string { return string(f.text) }

// Update takes a key that writes or moves, and tells whether it was one.
func (f *Field) Update(k tea.KeyMsg) bool {
	switch k.Type {
	case tea.KeyRunes, tea.KeySpace:
		if k.Alt {
			return false
		}
		f.insert(k.Runes)
	case tea.KeyLeft:
		f.at = max(f.at-1, 0)
	case tea.KeyRight:
		f.at = min(f.at+1, len(f.text))
	case tea.KeyHome, tea.KeyCtrlA:
		f.at = 0
	case tea.KeyEnd, tea.KeyCtrlE:
		f.at = len(f.text)
	case tea.KeyBackspace:
		f.cut(f.at-1, f.at)
	case tea.KeyDelete, tea.KeyCtrlD:
		f.cut(f.at, f.at+1)
	case tea.KeyCtrlW:
		from := f.at
		for from > 0 && f.text[from-1] == ' ' {
			from--
		}
		for from > 0 && f.text[from-1] != ' ' {
			from--
		}
		f.cut(from, f.at)
	default:
		return false
	}
	return true
}

// insert keeps a paste on one line.
func (f *Field) insert(rs []rune) {
	var in []rune
	for _, r := range rs {
		if unicode.IsSpace(r) {
			r = ' '
		}
		if unicode.IsPrint(r) {
			in = append(in, r)
		}
	}
	f.text = append(f.text[:f.at:f.at], append(in, f.text[f.at:]...)...)
	f.at += len(in)
}

func (f *Field) cut(from, to int) {
	from, to = max(from, 0), min(to, len(f.text))
	if from >= to {
		return
	}
	f.text = append(f.text[:from:from], f.text[to:]...)
	f.at = from
}

// View draws the text in w cells, the cursor in sight. The cursor is a reversed cell, or a bar before
// its character where the terminal shows no styles.
func (f Field) View(w int, th theme.Theme) string {
	before, under, after := string(f.text[:f.at]), " ", ""
	if f.at < len(f.text) {
		under, after = string(f.text[f.at]), string(f.text[f.at+1:])
	}
	for len(before) > 0 && layout.Width(before)+layout.Width(under) > w {
		_, size := firstRune(before)
		before = before[size:]
	}
	after = layout.Cut(after, w-layout.Width(before)-layout.Width(under), "")
	if !th.Colour {
		return layout.Cut(before+"|"+strings.TrimRight(under+after, " "), w, "")
	}
	return before + th.R.NewStyle().Reverse(true).Render(under) + after
}

func firstRune(s string) (rune, int) {
	for i, r := range s {
		if i > 0 {
			return r, i
		}
	}
	return 0, len(s)
}
