package rules

import "fmt"

// EventKind is what can happen to a program from outside, or by time.
type EventKind int

const (
	Reported     EventKind = iota // sensor Thing (motion, presence, door, probe) reports Value.On; a report that repeats the last one counts too
	ReadingIs                     // the reading of Thing is Value.Level
	HandSet                       // somebody sets Thing to Value at the device; a lamp On at level 0 is switched on without naming a level
	ButtonPress                   // Press on button Thing
	PowerFails                    // the mains go
	PowerReturns                  // the mains come back
	ClockMoves                    // the wall clock is put forward by Seconds, or back by -Seconds; no time passes
	TimePasses                    // up to Seconds pass, no further than to the next second in which something is due
	ClockStrikes                  // the clock edge that is due
	WaitEnds                      // Wait, which is due
	StayEnds                      // the StaysUnder numbered Wait, which is due
	Fails                         // Thing, a device, obeys no rule any more, and what is done at it is heard by none
)

// Event is one of them.
type Event struct {
	Kind    EventKind
	Thing   int
	Wait    int
	Value   Value
	Press   Press
	Seconds int
}

// HappeningKind is what a step did.
type HappeningKind int

const (
	Came         HappeningKind = iota // the event itself; Seconds is how many passed
	Unheard                           // the event came in a power cut: no rule hears it
	Ignored                           // the event makes no sense here: nothing of that number, or nothing due
	Acted                             // Rule carries out its effects
	Declined                          // Rule had its cause, but its guard didn't hold
	Changed                           // Thing went From to To, by Rule or by what came (Rule -1)
	WaitStarted                       // Wait has Seconds left, by Rule
	WaitStopped                       // by Rule
	WaitEnded                         // it ran out
	WaitHeld                          // its hold keeps it from now on
	WaitReleased                      // its hold fell; it has Seconds left
	Told                              // effect number Effect of Rule told people
	Deaf                              // Rule's order to Thing isn't carried out: the thing has failed, or its mains are off
	Endless                           // the cascade went on for longer than any that ends; the rest of it was dropped
)

// Happening is one entry of the record of a step, in the order in which things came about. Numbers that don't apply are -1.
type Happening struct {
	Kind     HappeningKind
	Rule     int
	Thing    int
	Wait     int
	Effect   int
	Seconds  int
	From, To Value
}

// Say puts a happening in words. Came is worded by what it did, so it says nothing.
func (p *Program) Say(h Happening) string {
	w := Wording{}
	switch h.Kind {
	case Unheard:
		return "nothing hears it in a power cut"
	case Ignored:
		return "nothing comes of it"
	case Acted:
		return p.sheet.Rules[h.Rule].Purpose
	case Declined:
		return "not now: " + p.sheet.Rules[h.Rule].Purpose
	case Changed:
		return p.changed(h)
	case WaitStarted:
		return fmt.Sprintf("wait %s has %s left", waitName(p.waits[h.Wait]), clockSpan(h.Seconds))
	case WaitStopped:
		return fmt.Sprintf("wait %s stops", waitName(p.waits[h.Wait]))
	case WaitEnded:
		return fmt.Sprintf("wait %s runs out", waitName(p.waits[h.Wait]))
	case WaitHeld:
		return fmt.Sprintf("wait %s is held", waitName(p.waits[h.Wait]))
	case WaitReleased:
		return fmt.Sprintf("wait %s starts over, %s left", waitName(p.waits[h.Wait]), clockSpan(h.Seconds))
	case Told:
		return w.Effect(p.sheet.Rules[h.Rule].Effects[h.Effect], Restart)
	case Deaf:
		return "the " + p.sheet.Things[h.Thing].Name + " doesn't obey"
	case Endless:
		return "the rules set each other off without end"
	}
	return ""
}

func (p *Program) changed(h Happening) string {
	t := p.sheet.Things[h.Thing]
	switch t.Kind {
	case Motion, Presence, Door, Probe:
		return report(t, h.To.On)
	case Hygrometer, Meter:
		return fmt.Sprintf("%s is %d%s", t.Name, h.To.Level, unitOf(t.Kind))
	}
	return setWords(t, h.To)
}

func clockSpan(seconds int) string {
	switch {
	case seconds >= 3600:
		return fmt.Sprintf("%dh%02dm%02ds", seconds/3600, seconds/60%60, seconds%60)
	case seconds >= 60:
		return fmt.Sprintf("%dm%02ds", seconds/60, seconds%60)
	}
	return fmt.Sprintf("%ds", seconds)
}
