package draw

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

const gutter = 2 // cells before each row, where the cursor stands

// Row is one line of a page.
type Row struct {
	Text string   // finished and styled, without gutter
	Item int      // the item that it belongs to, counted from 0; -1 is a heading or white space
	Head bool     // a heading that a section starts with
	Raw  bool     // drawn as it is under the cursor too: it is being written in
	Note []string // paragraphs for the margin while the cursor is on the item; of its first row

	Spare int // of the last paragraphs of Note, how many give way to Figure

	Figure []string // lines of a drawing over the note where the margin is at the right and has room for both
}

// Leaf is a page of the notebook: a head that stays, rows that scroll under a cursor, and a margin
// with what follows from the row that the cursor is on.
type Leaf struct {
	Theme theme.Theme
	Head  []string // stays above the rows
	Aside []string // stands at the top of the margin
	rows  []Row
	first []int // first row of each item
	w, h  int
	at    int // item under the cursor
	top   int // first row shown
}

// SetSize gives the leaf its room in cells.
func (l *Leaf) SetSize(w, h int) {
	l.w, l.h = max(w, 0), max(h, 0)
	l.show()
}

// SetRows replaces the rows; the cursor stays on its item as far as it can.
func (l *Leaf) SetRows(rows []Row) {
	l.rows, l.first = rows, l.first[:0]
	for i, r := range rows {
		if r.Item == len(l.first) {
			l.first = append(l.first, i)
		}
	}
	l.Go(l.at)
}

// Items is how many there are.
func (l *Leaf) Items() int { return len(l.first) }

// At is the item under the cursor, -1 when there is none.
func (l *Leaf) At() int {
	if len(l.first) == 0 {
		return -1
	}
	return l.at
}

// Wide tells whether the margin is at the right; else it folds below.
func (l *Leaf) Wide() bool { return l.w >= layout.MarginFrom }

// Inner is the width that a row's text may take.
func (l *Leaf) Inner() int { return max(l.pageWidth()-gutter, 1) }

// MarginWidth is the width of a margin's text.
func (l *Leaf) MarginWidth() int {
	if _, m := layout.Columns(l.w); m > 0 {
		return m
	}
	return max(l.w-gutter, 1)
}

func (l *Leaf) pageWidth() int {
	w, _ := layout.Columns(l.w)
	return w
}

// Fold is the height of the folded margin with its hair rule.
func (l *Leaf) Fold() int {
	switch {
	case l.Wide() || l.h < 8:
		return 0
	case l.h < 16:
		return 2
	case l.h < 22:
		return 3
	}
	return 4
}

// Body is how many rows are seen at once.
func (l *Leaf) Body() int { return max(l.h-len(l.Head)-l.Fold(), 0) }

// Go puts the cursor on an item, or on the nearest that exists.
func (l *Leaf) Go(item int) {
	l.at = max(min(item, len(l.first)-1), 0)
	l.show()
}

// Move moves the cursor by items. Beyond the last one it scrolls on, so that what stands below is seen,
// and back again.
func (l *Leaf) Move(by int) {
	last := len(l.first) - 1
	switch {
	case last < 0 || by > 0 && l.at == last:
		l.Wheel(by)
	case by < 0 && l.first[l.at] < l.top:
		l.top--
	default:
		l.Go(l.at + by)
	}
}

// End goes to the last item and to what stands below it.
func (l *Leaf) End() {
	l.Go(len(l.first) - 1)
	l.Wheel(len(l.rows))
}

// Page moves the cursor by about a screenful.
func (l *Leaf) Page(by int) {
	if len(l.first) == 0 {
		l.Wheel(by * max(l.Body()-1, 1))
		return
	}
	want := l.first[l.at] + by*max(l.Body()-1, 1)
	item := l.at
	for item+by >= 0 && item+by < len(l.first) && (l.first[item+by]-want)*by <= 0 {
		item += by
	}
	if item == l.at && by > 0 && item == len(l.first)-1 {
		l.Wheel(max(l.Body()-1, 1))
		return
	}
	if item == l.at {
		item += by
	}
	l.Go(item)
}

// Section moves the cursor to the first item under the next heading, or under the one before.
func (l *Leaf) Section(by int) {
	if len(l.first) == 0 {
		return
	}
	starts := []int{0}
	for i, r := range l.rows {
		if !r.Head {
			continue
		}
		for i < len(l.rows) && l.rows[i].Item < 0 {
			i++
		}
		if i < len(l.rows) && l.rows[i].Item > starts[len(starts)-1] {
			starts = append(starts, l.rows[i].Item)
		}
	}
	at := 0
	for at+1 < len(starts) && starts[at+1] <= l.at {
		at++
	}
	if by < 0 && l.at > starts[at] {
		by = 0 // to the start of this one first
	}
	l.Go(starts[max(min(at+by, len(starts)-1), 0)])
}

// Wheel scrolls the rows; the cursor comes along when it would leave the screen.
func (l *Leaf) Wheel(by int) {
	l.top = max(min(l.top+by, len(l.rows)-l.Body()), 0)
	if len(l.first) == 0 {
		return
	}
	for l.at+1 < len(l.first) && l.first[l.at] < l.top {
		l.at++
	}
	for l.at > 0 && l.first[l.at] >= l.top+l.Body() {
		l.at--
	}
}

// Click puts the cursor on the item at a cell of the leaf and tells whether there is one.
func (l *Leaf) Click(x, y int) bool {
	y -= len(l.Head)
	if x < 0 || x >= l.pageWidth() || y < 0 || y >= l.Body() || l.top+y >= len(l.rows) {
		return false
	}
	item := l.rows[l.top+y].Item
	if item < 0 {
		return false
	}
	l.at = item
	return true
}

// show scrolls as little as puts the whole item in sight, and coming from below its heading too.
func (l *Leaf) show() {
	body := l.Body()
	if len(l.first) > 0 {
		from, to := l.first[l.at], l.last(l.at)
		if to >= l.top+body {
			l.top = to - body + 1
		}
		if from < l.top || to-from >= body {
			l.top = from
		}
		if from-l.top < headings {
			if head := l.heading(from); to-head < body {
				l.top = min(l.top, head)
			}
		}
	}
	l.top = max(min(l.top, len(l.rows)-body), 0)
}

const headings = 4 // rows of headings and white space that come along with an item

// heading is the first of the rows just above an item that belong to no item.
func (l *Leaf) heading(from int) int {
	head := from
	for head > 0 && from-head < headings && l.rows[head-1].Item < 0 {
		head--
	}
	return head
}

func (l *Leaf) last(item int) int {
	i := l.first[item]
	for i+1 < len(l.rows) && l.rows[i+1].Item == item {
		i++
	}
	return i
}

// View draws the leaf, exactly its height of lines, none wider than it.
func (l *Leaf) View() string {
	if l.h == 0 || l.w == 0 {
		return ""
	}
	lines := make([]string, 0, l.h)
	pw, more := l.pageWidth(), l.Theme.Glyphs.More
	for _, s := range l.Head {
		lines = append(lines, layout.Cut(s, pw, more))
	}
	for y := range l.Body() {
		lines = append(lines, l.row(l.top+y, pw))
	}
	if l.Wide() {
		l.margin(lines, pw)
	} else {
		lines = append(lines, l.folded()...)
	}
	return strings.Join(lines[:min(len(lines), l.h)], "\n")
}

func (l *Leaf) row(i, w int) string {
	if i >= len(l.rows) {
		return ""
	}
	r, t := l.rows[i], l.Theme
	if r.Item < 0 || len(l.first) == 0 || r.Item != l.at {
		return layout.Cut(spaces(gutter)+r.Text, w, t.Glyphs.More)
	}
	mark := spaces(gutter)
	if i == l.first[l.at] {
		mark = t.Glyphs.Here + " "
	}
	if r.Raw {
		return layout.Cut(t.Picked.Render(mark)+r.Text, w, t.Glyphs.More)
	}
	return t.Picked.Render(layout.Cut(mark+ansi.Strip(r.Text), w, t.Glyphs.More))
}

// note is the wrapped margin text of the item under the cursor.
func (l *Leaf) note() []string {
	if len(l.first) == 0 {
		return nil
	}
	return l.wrapped(l.rows[l.first[l.at]].Note)
}

func (l *Leaf) wrapped(note []string) []string {
	var out []string
	for i, p := range note {
		if i > 0 && l.Wide() {
			out = append(out, "")
		}
		out = append(out, Wrap(p, l.MarginWidth())...)
	}
	return out
}

// NoteFits tells whether paragraphs are seen in full where the margin shows them.
func (l *Leaf) NoteFits(paragraphs []string) bool {
	lines := 0
	for _, p := range paragraphs {
		lines += len(Wrap(p, l.MarginWidth()))
	}
	return l.Wide() || lines < l.Fold()
}

// giveWay is the note without as many of its spare paragraphs as it takes to fit some lines.
func (l *Leaf) giveWay(lines int) []string {
	row := l.rows[l.first[l.at]]
	out := l.note()
	for n := 1; n <= row.Spare && len(out) > lines; n++ {
		out = l.wrapped(row.Note[:len(row.Note)-n])
	}
	return out
}

func (l *Leaf) figure() []string {
	if len(l.first) == 0 {
		return nil
	}
	return l.rows[l.first[l.at]].Figure
}

// margin sets the aside at the top and the note beside its row, or as near as it fits.
func (l *Leaf) margin(lines []string, pw int) {
	note, t := l.note(), l.Theme
	side := make([]string, len(lines))
	used := copy(side, l.Aside)
	if f := l.figure(); len(f) > 0 {
		room := len(side) - used - 1 - len(f) - 1
		if short := l.giveWay(room); len(short) > 0 && len(short) <= room {
			note = append(append(slices.Clone(f), ""), short...)
		}
	}
	if len(note) > 0 {
		start := len(l.Head) + l.first[l.at] - l.top
		start = max(min(start, len(side)-len(note)), 0)
		if used > 0 {
			start = max(start, used+1)
		}
		for i, s := range note {
			if start+i < len(side) {
				side[start+i] = s
			}
		}
	}
	bar := t.Hair.Render(t.Glyphs.Bar)
	for i := range lines {
		s := layout.Cut(side[i], l.MarginWidth(), t.Glyphs.More)
		if s != "" {
			s = " " + t.Faint.Render(s)
		}
		lines[i] = strings.TrimRight(layout.Fit(lines[i], pw+1, t.Glyphs.More)+bar+s, " ")
	}
}

// folded is the margin below the page: a hair rule and what fits of the note.
func (l *Leaf) folded() []string {
	n, t := l.Fold(), l.Theme
	if n == 0 {
		return nil
	}
	out := []string{t.Hair.Render(strings.Repeat(t.Glyphs.Hair, l.w))}
	text := l.note()
	if len(text) > n-1 {
		text = text[:n-1]
		text[n-2] = layout.Cut(text[n-2], l.w-gutter-2, "") + " " + t.Glyphs.More
	}
	for len(text) < n-1 {
		text = append(text, "")
	}
	for _, s := range text {
		out = append(out, layout.Cut(spaces(gutter)+t.Faint.Render(s), l.w, t.Glyphs.More))
	}
	return out
}
