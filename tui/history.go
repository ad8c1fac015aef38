package tui

import (
	"slices"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/store"
)

// near is how many steps to either side of the one that is shown keep their document as it is. Those beyond
// keep only what differs from the step before, so that a long day's work stays small.
const near = 32

// history is the documents since the opening. Documents never change, so undo is a step back.
type history struct {
	steps []step
	at    int // the step that is shown; its document and those near it are there
}

type step struct {
	doc   *projectfile.Document // nil far from the step that is shown
	made  splice                // what makes the bytes of the step before into those of this one
	label string                // what was done to get here; "" for the opening
	at    string                // what on the page it was done to
	where place                 // where it was done
	kept  *store.Kept           // own prices that came with it, beside the project
}

func begin(doc *projectfile.Document) history {
	return history{steps: []step{{doc: doc}}}
}

func (h *history) now() *projectfile.Document { return h.steps[h.at].doc }

// push adds a step and forgets what had been undone. With join, a step with the label of the last one
// replaces it, so that holding an arrow key down is one step.
func (h *history) push(s step, join bool) {
	if join && h.at > 0 && s.label != "" && h.at == len(h.steps)-1 && h.steps[h.at].label == s.label {
		h.steps[h.at].doc = s.doc
		h.steps[h.at].made = spliceOf(h.steps[h.at-1].doc.Source(), s.doc.Source())
		return
	}
	s.made = spliceOf(h.now().Source(), s.doc.Source())
	clear(h.steps[h.at+1:])
	h.steps = append(h.steps[:h.at+1], s)
	h.at++
	h.thin()
}

// undo steps back and answers the step that was taken back.
func (h *history) undo() (step, bool) {
	if h.at == 0 {
		return step{}, false
	}
	left := h.steps[h.at]
	h.at--
	if to := &h.steps[h.at]; to.doc == nil {
		to.doc = projectfile.Parse(left.made.back(left.doc.Source()))
	}
	h.thin()
	return left, true
}

// redo steps forward and answers the step that was made again.
func (h *history) redo() (step, bool) {
	if h.at == len(h.steps)-1 {
		return step{}, false
	}
	from := h.now()
	h.at++
	to := &h.steps[h.at]
	if to.doc == nil {
		to.doc = projectfile.Parse(to.made.forth(from.Source()))
	}
	h.thin()
	return *to, true
}

// thin lets go of the documents that are just out of reach on either side.
func (h *history) thin() {
	for _, i := range []int{h.at - near - 1, h.at + near + 1} {
		if i >= 0 && i < len(h.steps) {
			h.steps[i].doc = nil
		}
	}
}

// splice is one stretch of a file that was replaced.
type splice struct {
	at         int // byte
	gone, come string
}

// spliceOf is the shortest splice that makes old into new.
func spliceOf(old, new []byte) splice {
	head := 0
	for head < len(old) && head < len(new) && old[head] == new[head] {
		head++
	}
	tail := 0
	for tail < len(old)-head && tail < len(new)-head && old[len(old)-1-tail] == new[len(new)-1-tail] {
		tail++
	}
	return splice{head, string(old[head : len(old)-tail]), string(new[head : len(new)-tail])}
}

func (s splice) forth(old []byte) []byte { return replaced(old, s.at, len(s.gone), s.come) }
func (s splice) back(new []byte) []byte  { return replaced(new, s.at, len(s.come), s.gone) }

func replaced(src []byte, at, n int, by string) []byte {
	return slices.Concat(src[:at], []byte(by), src[at+n:])
}

func (h *history) canUndo() string {
	if h.at == 0 {
		return ""
	}
	return label(h.steps[h.at].label)
}

func (h *history) canRedo() string {
	if h.at == len(h.steps)-1 {
		return ""
	}
	return label(h.steps[h.at+1].label)
}

func label(s string) string {
	if s == "" {
		return "the last change"
	}
	return s
}
