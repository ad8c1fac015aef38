package papers

import (
	"fmt"

	"example.org/roombrief/planner/story"
)

// Sizes of the picture of a story, in mm. Each line of the story has a column of equal width, as what matters is the order; its time
// stands over it. So many columns make a band, and a longer story goes on in the next one.
const (
	stripName = 34.0 // for the names of the tracks
	stripHead = 12.0 // for the time and the number of a line
	stripRow  = 9.0
	stripCols = 7
	stripText = 2.6
)

// storyPicture draws the tracks of a story; nil where they don't fit a sheet of paper.
func storyPicture(t story.Story, title string) []byte {
	bands := (len(t.Lines) + stripCols - 1) / stripCols
	tall := stripHead + float64(len(t.Tracks))*stripRow + 6
	words := wrapped(title, sheetW, 4)
	top := float64(len(words))*5.2 + 4
	height := top + float64(bands)*tall + 8
	if bands == 0 || height > sheetH {
		return nil
	}
	d := newSVG(sheetW, height, title)
	d.paragraph(0, 4, sheetW, 4, top, title)
	for n := range bands {
		d.band(t, n*stripCols, min(len(t.Lines), (n+1)*stripCols), top+float64(n)*tall)
	}
	d.paragraph(0, height-5, sheetW, 3, height, t.Broke)
	return d.done()
}

// band draws the lines from one to another of a story.
func (s *svg) band(t story.Story, from, to int, y float64) {
	wide := (sheetW - stripName) / stripCols
	bottom := y + stripHead + float64(len(t.Tracks))*stripRow
	for i := from; i < to; i++ {
		x := stripName + float64(i-from)*wide
		s.text(x+0.8, y+4, 3, shortened(fmt.Sprintf("%d. %s", i+1, story.Time(t.Lines[i].Clock)), wide-1, 3), "")
		s.text(x+0.8, y+8, stripText, shortened("after "+story.Since(t.Lines[i].At), wide-1, stripText), "")
		thick, dash := 0.15, `stroke-dasharray="0.8 0.8"`
		if i == len(t.Lines)-1 { // the line that breaks the promise
			thick, dash = 0.7, ""
		}
		s.line(x, y, x, bottom, thick, dash)
	}
	for k, track := range t.Tracks {
		foot := y + stripHead + float64(k+1)*stripRow
		s.line(0, foot, stripName+float64(to-from)*wide, foot, 0.1, "")
		s.text(0, foot-2, 3, shortened(track.Name, stripName-2, 3), "")
		for i := from; i < to; i++ {
			s.step(track, i, from, stripName+float64(i-from)*wide, foot-1, wide)
		}
	}
}

// step draws one track after one line: a bar as high as its value, or a dot for a moment, and in words where it has changed.
func (s *svg) step(t story.Track, i, from int, x, foot, wide float64) {
	v, before := t.Values[i+1], t.Values[i]
	if t.Shape == story.Mark {
		if v.N > 0 {
			s.add(`<circle cx="%s" cy="%s" r="0.9"/>`, mm(x+1.6), mm(foot-1.6))
			s.text(x+3.2, foot-0.8, stripText, shortened(v.Text, wide-4, stripText), "")
		}
		return
	}
	high := 0.0
	switch {
	case t.Shape == story.Level:
		high = float64(min(max(v.N, 0), t.Most)) / float64(max(t.Most, 1))
	case v.N > 0:
		high = 1
	}
	const most = stripRow - 5.4 // the words stand over the bar
	if high > 0 {
		fill := "#c9c4b8"
		if t.Shape == story.Wait {
			fill = "none"
		}
		s.rect(x, foot-high*most, wide, high*most, fmt.Sprintf(`fill="%s" stroke="#22201b" stroke-width="0.2"`, fill))
	}
	if i == from || v.Text != before.Text {
		s.text(x+0.8, foot-most-0.8, stripText, shortened(v.Text, wide-1, stripText), "")
	}
}
