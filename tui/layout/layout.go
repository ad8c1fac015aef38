// Package layout says where the parts of a screen are: pure functions from sizes to rectangles.
package layout

// Rect is a rectangle of cells; X and Y count from the upper left corner of the window.
type Rect struct{ X, Y, W, H int }

// Least size at which pages are drawn; below it one sentence says so.
const (
	LeastWidth  = 40
	LeastHeight = 12
)

// MarginFrom is the body width from which a page has a margin at its right.
const MarginFrom = 96

// Frame is the whole window.
type Frame struct {
	TooSmall bool
	Header   Rect // one line: home, page, where you are
	Upper    Rect // a hair rule
	Body     Rect // the page
	Lower    Rect // a hair rule
	Status   Rect // one line: what follows from the project, or what was just said
	Footer   Rect // one line: keys
}

// Window lays out a window of w by h cells. Header and footer stay in place on every page; side margins
// of two cells appear when there is room for them.
func Window(w, h int) Frame {
	if w < LeastWidth || h < LeastHeight {
		return Frame{TooSmall: true, Body: Rect{0, 0, max(w, 0), max(h, 0)}}
	}
	x := 1
	if w >= 64 {
		x = 2
	}
	in := w - 2*x
	return Frame{
		Header: Rect{x, 0, in, 1},
		Upper:  Rect{x, 1, in, 1},
		Body:   Rect{x, 2, in, h - 5},
		Lower:  Rect{x, h - 3, in, 1},
		Status: Rect{x, h - 2, in, 1},
		Footer: Rect{x, h - 1, in, 1},
	}
}

// Columns splits a body into the page proper and, from MarginFrom cells on, a margin with a gutter of
// three cells before it. The widths are those that SetSize was given; mw is 0 when there is no margin.
func Columns(w int) (body, margin int) {
	if w < MarginFrom {
		return w, 0
	}
	margin = w / 3
	if margin > 44 {
		margin = 44
	}
	return w - margin - 3, margin
}
