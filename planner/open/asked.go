package open

import (
	"context"
	"errors"
	"strings"

	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
)

// asking plans the answers to a parked question that is no fact: each choice that the interview offers, or what is usual where it
// offers none.
func (w *Weighing) asking(ctx context.Context, x *weighed) error {
	qn, ok := w.question(x.Point)
	if !ok {
		x.Why = "the interview doesn't ask for it now"
		return nil
	}
	if qn.Parked && qn.AskWho != "" && x.Ask == "" {
		x.Ask = qn.AskWho
	}
	x.Asks = qn.Ask
	offered := qn.Choices
	switch {
	case qn.Kind == interview.Several || len(offered) == 0:
		offered = []interview.Choice{{Label: "what is usual: " + qn.DefaultAs, Value: qn.Default}}
		x.Why = "only what is usual was planned; any other answer is possible"
	case qn.Kind != interview.YesNo && takesMore(qn):
		x.Why = "answers beyond those that are offered were not planned"
	}
	for _, c := range offered {
		if c.Value == "unknown" || c.Value == "" && qn.Kind != interview.Several && len(qn.Choices) > 0 {
			continue
		}
		world, err := w.answered(ctx, qn, c.Value)
		if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
			return err
		}
		if err != nil {
			x.Why = "not every answer could be planned: " + err.Error()
			continue
		}
		a := w.differs(world, x.Room)
		a.Words = c.Label
		x.values, x.worlds, x.each = append(x.values, value{nil, c.Label}), append(x.worlds, world), append(x.each, a)
	}
	return nil
}

// takesMore reports whether a question takes an answer that isn't among its choices.
func takesMore(qn interview.Question) bool { return qn.Example != "" }

// question is the one that a point is the answer to.
func (w *Weighing) question(x Point) (interview.Question, bool) {
	for _, qn := range interview.All(w.doc, x.Room) {
		if strings.TrimPrefix(qn.Path, "rooms/") == x.At {
			return qn, true
		}
	}
	return interview.Question{}, false
}

// answered plans the home with a question answered. Where all else in its chapter has been answered, what the answer brings up
// there gets what is usual.
func (w *Weighing) answered(ctx context.Context, qn interview.Question, text string) (*planned, error) {
	left := unanswered(w.doc, qn)
	doc, err := interview.Answer(w.doc, qn, text)
	if err == nil && left == 0 {
		doc, err = interview.AcceptChapter(doc, qn.Room, qn.Chapter)
	}
	if err != nil {
		return nil, err
	}
	made, _, err := planner.Soon(ctx, doc.Project(), w.shelf)
	if err != nil {
		return nil, err
	}
	w.tried.Plans++
	return &planned{project: doc.Project(), plan: made}, nil
}

// unanswered counts the other questions of a chapter that are neither answered nor parked.
func unanswered(d *projectfile.Document, qn interview.Question) (n int) {
	for _, x := range interview.All(d, qn.Room) {
		if x.Chapter == qn.Chapter && x.ID != qn.ID && !x.Answered && !x.Parked {
			n++
		}
	}
	return n
}
