package layout

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// draw fills a window with a letter for each part, so that a layout can be looked at.
func draw(w, h int, parts map[byte]Rect) string {
	grid := make([][]byte, h)
	for y := range grid {
		grid[y] = []byte(strings.Repeat(".", w))
	}
	for letter, r := range parts {
		for y := r.Y; y < r.Y+r.H; y++ {
			for x := r.X; x < r.X+r.W; x++ {
				grid[y][x] = letter
			}
		}
	}
	lines := make([]string, h)
	for y, l := range grid {
		lines[y] = string(l)
	}
	return strings.Join(lines, "\n")
}

func parts(f Frame) map[byte]Rect {
	return map[byte]Rect{'H': f.Header, '-': f.Upper, 'b': f.Body, '_': f.Lower, 's': f.Status, 'f': f.Footer}
}

func TestWindowLooksAsDrawn(t *testing.T) {
	got := draw(40, 12, parts(Window(40, 12)))
	want := strings.TrimSpace(`
.HHHHHHHHHHHHHHHHHHHHHHHHHHHHHHHHHHHHHH.
.--------------------------------------.
.bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb.
.bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb.
.bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb.
.bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb.
.bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb.
.bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb.
.bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb.
.______________________________________.
.ssssssssssssssssssssssssssssssssssssss.
.ffffffffffffffffffffffffffffffffffffff.`)
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestWindowCoversEveryLineOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(0, 300).Draw(t, "w"), rapid.IntRange(0, 120).Draw(t, "h")
		f := Window(w, h)
		if f.TooSmall {
			if w >= LeastWidth && h >= LeastHeight {
				t.Fatalf("%d by %d is refused", w, h)
			}
			return
		}
		seen := make([]int, h)
		for _, r := range parts(f) {
			if r.X < 0 || r.W <= 0 || r.X+r.W > w {
				t.Fatalf("%+v leaves %d by %d", r, w, h)
			}
			for y := r.Y; y < r.Y+r.H; y++ {
				seen[y]++
			}
		}
		for y, n := range seen {
			if n != 1 {
				t.Fatalf("line %d of %d by %d is drawn %d times", y, w, h, n)
			}
		}
	})
}

func TestColumns(t *testing.T) {
	for _, c := range []struct{ w, body, margin int }{
		{76, 76, 0}, {95, 95, 0}, {96, 61, 32}, {116, 75, 38}, {200, 153, 44},
	} {
		if body, margin := Columns(c.w); body != c.body || margin != c.margin {
			t.Errorf("Columns(%d) = %d, %d; want %d, %d", c.w, body, margin, c.body, c.margin)
		}
	}
}

func TestScrollKeepsTheLineInSight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total := rapid.IntRange(1, 200).Draw(t, "total")
		at := rapid.IntRange(0, total-1).Draw(t, "at")
		n := rapid.IntRange(1, 60).Draw(t, "n")
		old := rapid.IntRange(-5, 220).Draw(t, "old")
		first := Scroll(old, at, n, total)
		if first < 0 || at < first || at >= first+n {
			t.Fatalf("line %d is out of sight: %d lines from %d", at, n, first)
		}
		if total >= n && first > total-n {
			t.Fatalf("scrolled past the end: %d lines of %d from %d", n, total, first)
		}
	})
}

func TestFitAndEndsAreExactlyAsWide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.StringMatching(`[a-zA-Zà-ÿ日本語“”·£… ]{0,80}`).Draw(t, "a")
		b := rapid.StringMatching(`[a-z £→]{0,12}`).Draw(t, "b")
		w := rapid.IntRange(1, 60).Draw(t, "w")
		if got := Width(Fit(a, w, "…")); got != w {
			t.Fatalf("Fit(%q, %d) is %d wide", a, w, got)
		}
		if got := Width(Ends(a, b, w, "…")); got != w {
			t.Fatalf("Ends(%q, %q, %d) is %d wide", a, b, w, got)
		}
	})
}

func TestFillNeverGivesMoreThanItMay(t *testing.T) {
	got := Fill([]string{"one", "a longer line", "three"}, 5, 2, "…")
	if len(got) != 2 || got[0] != "one" || got[1] != "a lo…" {
		t.Errorf("Fill = %q", got)
	}
	if got := Fill(nil, 5, 3, "…"); len(got) != 3 {
		t.Errorf("Fill of nothing has %d lines", len(got))
	}
	if got := Fill([]string{"x"}, 5, -1, "…"); len(got) != 0 {
		t.Errorf("Fill into no height has %d lines", len(got))
	}
}

func TestASCIIIsASCIIAndAsWide(t *testing.T) {
	for in, want := range map[string]string{
		"“Yes, that” · 6 m²": `"Yes, that" - 6 m2`,
		"Zoë’s room → hall":  "Zoe's room > hall",
		"日本":                 "????",
	} {
		if got := ASCII(in); got != want || Width(got) != Width(in) {
			t.Errorf("ASCII(%q) = %q, want %q", in, got, want)
		}
	}
}
