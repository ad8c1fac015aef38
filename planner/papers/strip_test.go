package papers

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"

	"example.org/roombrief/planner/story"
)

// told is a story of so many lines and tracks.
func told(lines, tracks int) story.Story {
	s := story.Story{Broke: "Somebody is inside & it is dark."}
	for i := range lines {
		s.Lines = append(s.Lines, story.Line{At: 60 * i, Clock: 3600 + 60*i, Text: "something"})
	}
	shapes := []story.Shape{story.Level, story.Switch, story.Wait, story.Mark, story.Count}
	for k := range tracks {
		t := story.Track{Name: fmt.Sprint("<track> ", k), Shape: shapes[k%len(shapes)], Most: 100}
		for i := range lines + 1 {
			t.Values = append(t.Values, story.Value{N: 60 * (i % 2), Text: fmt.Sprint("v", i)})
		}
		s.Tracks = append(s.Tracks, t)
	}
	return s
}

// Every line of a story and every change of a track is in its picture, which is well-formed, the same each time, without a script, and
// fits a sheet of paper; what doesn't fit has none.
func TestAStoryIsDrawnOnASheet(t *testing.T) {
	for _, c := range []struct {
		lines, tracks int
		drawn         bool
	}{{1, 1, true}, {7, 5, true}, {8, 6, true}, {15, 5, true}, {40, 10, false}, {0, 2, false}} {
		s := told(c.lines, c.tracks)
		got := storyPicture(s, "The light in the <den> stays on")
		if (got != nil) != c.drawn || !bytes.Equal(got, storyPicture(s, "The light in the <den> stays on")) {
			t.Errorf("%d lines and %d tracks: drawn %v", c.lines, c.tracks, got != nil)
		}
		if got == nil {
			continue
		}
		d, texts, height := xml.NewDecoder(bytes.NewReader(got)), "", 0.0
		for {
			x, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			switch x := x.(type) {
			case xml.StartElement:
				if x.Name.Local == "script" {
					t.Error("a script")
				}
				for _, a := range x.Attr {
					if x.Name.Local == "svg" && a.Name.Local == "height" {
						_, _ = fmt.Sscanf(a.Value, "%fmm", &height)
					}
				}
			case xml.CharData:
				texts += string(x) + "\n"
			}
		}
		if height <= 0 || height > sheetH {
			t.Errorf("%d lines are %v mm high", c.lines, height)
		}
		for i := range c.lines {
			if !strings.Contains(texts, fmt.Sprintf("\n%d. ", i+1)) || !strings.Contains(texts, fmt.Sprintf("\nv%d\n", i+1)) {
				t.Errorf("line %d of %d is missing", i+1, c.lines)
			}
		}
		if !strings.Contains(texts, s.Broke) {
			t.Error("it doesn't say what broke")
		}
	}
}

func TestThePaperNamesItsPictures(t *testing.T) {
	got := promisePaper(t, nil)
	if !strings.Contains(got, "](promise-story-1.svg)") {
		t.Errorf("no picture in\n%s", got)
	}
}
