package tui

import (
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/tui/page"
)

// Over a slow line several key presses arrive in one piece.
func TestKeysInOnePieceAreAllPressed(t *testing.T) {
	b := newBench(t, string(fixtures.Homes()[0].Source), 80, 24)
	b.settle()
	b.press("56")
	if b.r.at.page != page.Rules || len(b.r.trail) != 2 {
		t.Errorf("5 and 6 came to %s by way of %v", b.r.at.page, b.r.trail)
	}
	b.press("1?")
	if b.r.at.page != page.Rooms || b.r.over == nil {
		t.Errorf("1 and ? came to %s, keys shown: %v", b.r.at.page, b.r.over != nil)
	}
}

// What is left of a torn escape sequence holds digits and letters that nobody pressed.
func TestATornSequencePressesNothing(t *testing.T) {
	b := newBench(t, string(fixtures.Homes()[0].Source), 80, 24)
	b.settle()
	for _, piece := range []string{"[<0;5;6M", "[5~", "O5P", "[1;5A"} {
		b.press(piece)
		if b.r.at.page != page.Rooms || b.source() != string(fixtures.Homes()[0].Source) {
			t.Errorf("%q came to %s", piece, b.r.at.page)
		}
	}
}

func TestATextFieldTakesAPieceWhole(t *testing.T) {
	b := fresh(t, 80, 24)
	for range 9 {
		if b.r.page.Takes() == page.Text {
			break
		}
		b.press("tab")
	}
	if b.press("Mill 56[q"); b.quit || b.r.at.page != page.Talk {
		t.Fatalf("text was taken for commands, on %s", b.r.at.page)
	}
	b.sees("Mill 56[q")
}

func TestARoomBackTwiceInOnePiece(t *testing.T) {
	b := newBench(t, string(fixtures.Homes()[0].Source), 80, 24)
	b.settle()
	b.press("3", "]", "]", "]")
	at := b.r.at.room
	b.press("[", "[")
	want := b.r.at.room
	b.press("]", "]", "[[")
	if b.r.at.room != want || want == at {
		t.Errorf("[[ came to %s, and [ twice to %s", b.r.at.room, want)
	}
}
