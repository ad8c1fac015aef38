// Package theme is the look of a surveyor's notebook as named styles and glyphs, built once and handed in.
// No state is told by colour alone: every mark here has a glyph or a word beside it.
package theme

import "github.com/charmbracelet/lipgloss"

// Theme is what screens draw with.
type Theme struct {
	R      *lipgloss.Renderer
	Colour bool // false under NO_COLOR, TERM=dumb or a pipe
	Dark   bool
	Glyphs Glyphs

	Text    lipgloss.Style // the page
	Strong  lipgloss.Style // headings, names
	Faint   lipgloss.Style // margin notes, units, why it is asked; still readable
	Accent  lipgloss.Style // the thing that you are on, and nothing else
	Picked  lipgloss.Style // the line that you are on, when it is a whole line
	Cursor  lipgloss.Style // the cell that is written next; Colour themes only
	Danger  lipgloss.Style // broken promises and danger, and nothing else
	Hair    lipgloss.Style // rules between parts of a page
	KeyCap  lipgloss.Style // a key's name in the footer
	KeyText lipgloss.Style // what the key does
}

// Glyphs are one cell wide each.
type Glyphs struct {
	Here, Done, Open, Broken, Note, Hair, Bar, Dot, More, Sunrise, Sunset, Up, Down, Left, Right string
	Eighths                                                                                      []string // from empty to full, nine of them; three in ASCII
	Line                                                                                         bool     // the terminal draws lines and blocks
}

// Options of a theme.
type Options struct {
	Colour bool
	Dark   bool
	ASCII  bool
}

// New builds a theme on a renderer.
func New(r *lipgloss.Renderer, o Options) Theme {
	t := Theme{R: r, Colour: o.Colour, Dark: o.Dark, Glyphs: lineGlyphs}
	if o.ASCII {
		t.Glyphs = asciiGlyphs
	}
	ink := func(light, dark string) lipgloss.Style {
		s := r.NewStyle()
		if !o.Colour {
			return s
		}
		if o.Dark {
			return s.Foreground(lipgloss.Color(dark))
		}
		return s.Foreground(lipgloss.Color(light))
	}
	t.Text = r.NewStyle()
	t.Strong = r.NewStyle().Bold(true)
	t.Faint = ink("#5f5a50", "#a8a294")
	t.Accent = ink("#8f4f00", "#e0a458").Bold(true)
	t.Picked = ink("#8f4f00", "#e0a458").Bold(true)
	t.Cursor = r.NewStyle()
	if o.Colour {
		t.Cursor = ink("#8f4f00", "#e0a458").Reverse(true)
	}
	t.Danger = ink("#b3001b", "#ff6b6b").Bold(true)
	t.Hair = ink("#a39c8c", "#5c5749")
	t.KeyCap = r.NewStyle().Bold(true)
	t.KeyText = ink("#5f5a50", "#a8a294")
	return t
}

var lineGlyphs = Glyphs{
	Here: "▸", Done: "✓", Open: "?", Broken: "✗", Note: "·", Hair: "─", Bar: "│", Dot: "•", More: "…",
	Sunrise: "↑", Sunset: "↓", Up: "↑", Down: "↓", Left: "←", Right: "→",
	Eighths: []string{" ", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"}, Line: true,
}

var asciiGlyphs = Glyphs{
	Here: ">", Done: "+", Open: "?", Broken: "x", Note: "-", Hair: "-", Bar: "|", Dot: "*", More: "~",
	Sunrise: "^", Sunset: "v", Up: "^", Down: "v", Left: "<", Right: ">",
	Eighths: []string{" ", ".", "#"}, Line: false,
}
