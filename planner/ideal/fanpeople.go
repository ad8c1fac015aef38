package ideal

import (
	"fmt"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// fanForPeople runs the fan while the room is used: once somebody has been in for long enough, whoever is seen starts it, and a note
// that somebody has keeps a visit that pauses from being counted anew. A sensor for still people sees when a visit ends, so that there
// each visit counts by itself, and who was let wait by the quiet hours needs no new report.
func (r *room) fanForPeople() {
	f := &r.fan
	on := max(f.brief.WithPeople.RunOn-r.sense.after, q.Span(time.Second)) // the room counts as empty its stop time after the last sign of somebody
	run := append(r.turnFans(true), start(f.people, on))
	if f.brief.WithPeople.After > 0 {
		r.settle(run)
	} else {
		r.add("people-in", rules.Rule{Purpose: "The fan runs for people.", Cause: r.seen(), Guard: r.allowed("people"), Effects: run})
	}
	if r.sense.mode == byStill && r.quiet() {
		guard := lits(is(r.sense.sensor))
		if f.settled != "" {
			guard = append(guard, is(f.settled))
		}
		r.add("people-after-quiet", rules.Rule{Purpose: "Whoever is in at the end of the quiet hours has the fan then.",
			Cause: rules.Cause{Kind: rules.Clock, At: f.brief.Quiet.To}, Guard: guard, Effects: run})
	}
	r.add("people-off", rules.Rule{Purpose: "The fan stops once people have gone and its run-on is over, unless another wish runs it.",
		Cause: ended(f.people), Guard: r.without(f.people), Effects: r.turnFans(false), Hold: lits(running(r.sense.empty)), HoldFor: on})
}

// settle waits until somebody has been in for long enough, before it runs the fan.
func (r *room) settle(run []rules.Effect) {
	f := &r.fan
	f.in, f.settled = r.wait("fan-settling"), r.thing(rules.Flag, "settled", "flag", "somebody in for long enough")
	after := f.brief.WithPeople.After
	var there []rules.Literal
	if r.sense.mode == byStill {
		there = lits(is(r.sense.sensor))
	}
	r.add("people-settle", rules.Rule{Purpose: fmt.Sprintf("The fan waits until somebody has been in for %s.", after), Cause: r.seen(),
		Guard: lits(isNot(f.settled)), Effects: []rules.Effect{start(f.in, after)}, Again: rules.Keep})
	r.add("people-settled", rules.Rule{Purpose: "Somebody has been in for long enough.", Cause: ended(f.in), Guard: there, Effects: []rules.Effect{note(f.settled)}})
	r.add("people-in", rules.Rule{Purpose: "The fan runs for people who are still there.", Cause: ended(f.in),
		Guard: guards(lits(is(r.sense.sensor)), r.allowed("people")), Effects: run})
	if r.sense.inside != "" {
		r.add("people-still-in", rules.Rule{Purpose: "The fan runs for people who keep still.", Cause: ended(f.in),
			Guard: guards(lits(is(r.sense.inside)), r.allowed("people")), Effects: run})
	}
	r.add("people-seen", rules.Rule{Purpose: "The fan runs for people who are seen again.", Cause: r.seen(),
		Guard: guards(lits(is(f.settled)), r.allowed("people")), Effects: run})
	r.add("people-gone", rules.Rule{Purpose: "The next to come in have not been in for long.", Cause: ended(r.sense.empty), Effects: []rules.Effect{stop(f.in), forget(f.settled)}})
}
