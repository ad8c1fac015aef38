package tui

import "example.org/roombrief/model/projectfile"

// history is the documents since the opening. Documents never change, so undo is a step back.
type history struct {
	steps []step
	at    int // the step that is shown
}

type step struct {
	doc   *projectfile.Document
	label string // what was done to get here; "" for the opening
	at    string // what on the page it was done to
	where place  // where it was done
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
		return
	}
	h.steps = append(h.steps[:h.at+1], s)
	h.at++
}

// undo steps back and answers the step that was taken back.
func (h *history) undo() (step, bool) {
	if h.at == 0 {
		return step{}, false
	}
	h.at--
	return h.steps[h.at+1], true
}

// redo steps forward and answers the step that was made again.
func (h *history) redo() (step, bool) {
	if h.at == len(h.steps)-1 {
		return step{}, false
	}
	h.at++
	return h.steps[h.at], true
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
