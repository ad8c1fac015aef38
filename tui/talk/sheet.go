package talk

import (
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

// sheet collects the lines of a page with what a click on each means.
type sheet struct {
	lines  []string
	hits   []int
	right  map[int]int // what a click on the right half of a line means, where that is something else
	asides map[int]bool
	focus  int // the line that must be seen
}

func (s *sheet) put(hit int, lines ...string) {
	for _, l := range lines {
		s.lines = append(s.lines, l)
		s.hits = append(s.hits, hit)
	}
}

// aside puts a line that is left out where there is no room for it.
func (s *sheet) aside(line string) {
	if s.asides == nil {
		s.asides = map[int]bool{}
	}
	s.asides[len(s.lines)] = true
	s.put(-1, line)
}

// tighten makes a page fit h lines if it can: white space goes first, then the asides.
func (s *sheet) tighten(h int) {
	for _, drop := range []func(i int) bool{
		func(i int) bool { return s.lines[i] == "" },
		func(i int) bool { return s.asides[i] },
	} {
		if len(s.lines) <= h {
			return
		}
		var kept sheet
		kept.focus = s.focus
		kept.right, kept.asides = map[int]int{}, map[int]bool{}
		for i, l := range s.lines {
			if drop(i) {
				if i < s.focus {
					kept.focus--
				}
				continue
			}
			n := len(kept.lines)
			if r, ok := s.right[i]; ok {
				kept.right[n] = r
			}
			kept.asides[n] = s.asides[i]
			kept.put(s.hits[i], l)
		}
		*s = kept
	}
}

// seen cuts the page to h lines with its focus among them, and says in the last one when more follows.
func (s *sheet) seen(t theme.Theme, top *int, h int) {
	if len(s.lines) <= h {
		*top = 0
		return
	}
	room := max(h-1, 1)
	*top = layout.Scroll(*top, s.focus, room, len(s.lines))
	rest := len(s.lines) - *top - room
	s.lines, s.hits = s.lines[*top:*top+room], s.hits[*top:*top+room]
	right := map[int]int{}
	for i, hit := range s.right {
		right[i-*top] = hit
	}
	s.right = right
	if rest > 0 && h > 1 {
		s.put(-1, t.Faint.Render("  "+t.Glyphs.Down+" more below"))
	}
}
