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

// tone is one ink on terminals of 16 million, 256 and 16 colours. The sixteen are chosen by hand: the
// nearest by number would print faint notes in the colour of the thing that you are on.
type tone struct{ full, some, few string }

func (c tone) colour() lipgloss.TerminalColor {
	return lipgloss.CompleteColor{TrueColor: c.full, ANSI256: c.some, ANSI: c.few}
}

// New builds a theme on a renderer.
func New(r *lipgloss.Renderer, o Options) Theme {
	t := Theme{R: r, Colour: o.Colour, Dark: o.Dark, Glyphs: lineGlyphs}
	if o.ASCII {
		t.Glyphs = asciiGlyphs
	}
	ink := func(light, dark tone) lipgloss.Style {
		s := r.NewStyle()
		if !o.Colour {
			return s
		}
		if o.Dark {
			return s.Foreground(dark.colour())
		}
		return s.Foreground(light.colour())
	}
	faint := ink(tone{"#5f5a50", "59", "8"}, tone{"#a8a294", "144", "7"})
	warm := ink(tone{"#8f4f00", "94", "3"}, tone{"#e0a458", "179", "11"})
	t.Text = r.NewStyle()
	t.Strong = r.NewStyle().Bold(true)
	t.Faint = faint
	t.Accent = warm.Bold(true)
	t.Picked = warm.Bold(true)
	t.Cursor = r.NewStyle()
	if o.Colour {
		t.Cursor = warm.Reverse(true)
	}
	t.Danger = ink(tone{"#b3001b", "124", "1"}, tone{"#ff6b6b", "203", "9"}).Bold(true)
	t.Hair = ink(tone{"#a39c8c", "144", "7"}, tone{"#5c5749", "59", "8"})
	t.KeyCap = r.NewStyle().Bold(true)
	t.KeyText = faint
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
