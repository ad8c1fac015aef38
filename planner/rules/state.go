package rules

import (
	"encoding/binary"
	"slices"
)

// State is everything that a program remembers between two events: the clock, whether the mains are on, the value of each
// thing, each wait with what is left of it, and what StaysUnder and Rises causes have seen. Times in it are what is left, never
// dates, so states that will behave alike are equal.
//
// A State belongs to the Program that made it, or to the same program on another Day.
type State struct{ words []int32 }

// layout of the words: clock, bits, a value for each thing, a word for each wait, a word for each StaysUnder, windows of
// Rises. Of a wait and of a StaysUnder: 0 doesn't run, n+1 has n seconds left, held is a wait that its hold keeps.
type layout struct{ waitsAt, staysAt, risesAt, size int }

const (
	clockWord = 0
	bitsWord  = 1
	thingsAt  = 2

	held = -1

	outBit    = 1 // the mains are out
	strikeBit = 2 // the clock has reached an edge that hasn't been handled

	failedAt = 2 // the bits from here on are the thing that obeys no more, counted from 1
)

func (p *Program) arrange() {
	p.waitsAt = thingsAt + len(p.sheet.Things)
	p.staysAt = p.waitsAt + len(p.waits)
	p.risesAt = p.staysAt + len(p.stays)
	p.size = p.risesAt
	for i := range p.rises {
		p.rises[i].at = int32(p.size)
		p.size += int(p.rises[i].threshold)
	}
}

// pack puts a value into a word.
func pack(v Value) int32 {
	w := int32(v.Level)<<1 | int32(v.Colour)<<17
	if v.On {
		w |= 1
	}
	return w
}

func unpack(w int32) Value {
	return Value{On: w&1 != 0, Level: int(w >> 1 & MaxReading), Colour: int(w >> 17)}
}

func level(w int32) int32 { return w >> 1 & MaxReading }

// normal makes values of one kind that mean the same equal: what is off has no level, only lamps and readings have one, and a
// lamp that is on at no level is fully on.
func normal(k ThingKind, v Value) int32 {
	clamp := func(n, most int) int { return min(max(n, 0), most) }
	switch k {
	case Hygrometer, Meter:
		return pack(Value{Level: clamp(v.Level, MaxReading)})
	case Lamp:
		if !v.On {
			return 0
		}
		if v.Level <= 0 {
			v.Level = 100
		}
		return pack(Value{On: true, Level: clamp(v.Level, 100), Colour: clamp(v.Colour, MaxColour)})
	case ButtonOf:
		return 0
	}
	return pack(Value{On: v.On})
}

// Start is the state in which everything is off, shut, unseen and reads 0, no wait runs, and the clock shows second of the day.
// Clock causes of that very second have passed. A note that nothing but the clock makes and forgets stands as the hour has it: whoever enters the
// rules sets it so.
func (p *Program) Start(second int) State {
	s := State{make([]int32, p.size)}
	s.words[clockWord] = int32(((second % DaySeconds) + DaySeconds) % DaySeconds)
	for _, h := range p.hours {
		if within(s.words[clockWord], p.second[h.from], p.second[h.to]) {
			s.words[thingsAt+h.thing] = normal(Flag, Value{On: true})
		}
	}
	return s
}

// Put is s with a thing at a value, without anything being caused by it: for beginnings.
func (p *Program) Put(s State, thing int, v Value) State {
	s = s.Clone()
	if thing >= 0 && thing < len(p.sheet.Things) {
		s.words[thingsAt+thing] = normal(p.sheet.Things[thing].Kind, v)
	}
	return s
}

// Clone is a copy that Do may change.
func (s State) Clone() State { return State{slices.Clone(s.words)} }

// CopyFrom makes s what o is, in its own memory.
func (s *State) CopyFrom(o State) { s.words = append(s.words[:0], o.words...) }

// Equal reports whether two states of one program are the same.
func (s State) Equal(o State) bool { return slices.Equal(s.words, o.words) }

// Key is the state as a string: equal keys are equal states, so it serves as a key of exact maps.
func (s State) Key() string { return string(s.AppendKey(nil)) }

// AppendKey appends the bytes of Key.
func (s State) AppendKey(b []byte) []byte {
	for _, w := range s.words {
		b = binary.AppendVarint(b, int64(w)) // as many of them as the program has words, so none runs into the next
	}
	return b
}

// Clock is the time of day in seconds since local midnight.
func (s State) Clock() int { return int(s.words[clockWord]) }

// Powered reports whether the mains are on.
func (s State) Powered() bool { return s.words[bitsWord]&outBit == 0 }

// Value of a thing. In a power cut it is the value that the thing had, or that a sensor has since seen.
func (p *Program) Value(s State, thing int) Value { return unpack(s.words[thingsAt+thing]) }

// Left is how many seconds a wait has left; running is false when it doesn't run. A held wait runs, with -1 left.
func (p *Program) Left(s State, wait int) (seconds int, running bool) {
	switch w := s.words[p.waitsAt+wait]; {
	case w == 0:
		return 0, false
	case w == held:
		return -1, true
	default:
		return int(w - 1), true
	}
}

// Next is in how many seconds something happens by itself: a wait or a StaysUnder ends, or the clock reaches an edge. 0 means that something is due
// now; ok is false when nothing ever will. In a power cut nothing is due.
func (p *Program) Next(s State) (seconds int, ok bool) {
	w := s.words
	if w[bitsWord]&outBit != 0 {
		return 0, false
	}
	if w[bitsWord]&strikeBit != 0 {
		return 0, true
	}
	least := int32(-1)
	for _, n := range w[p.waitsAt:p.risesAt] {
		if n > 0 && (least < 0 || n-1 < least) {
			least = n - 1
		}
	}
	if n, any := p.nextEdge(w[clockWord]); any && (least < 0 || n < least) {
		least = n
	}
	return int(max(least, 0)), least >= 0
}

// nextEdge is how long until the clock, at second now, comes to an edge.
func (p *Program) nextEdge(now int32) (int32, bool) {
	if len(p.edges) == 0 {
		return 0, false
	}
	i, _ := slices.BinarySearchFunc(p.edges, now+1, func(e edge, s int32) int { return int(e.second - s) })
	if i == len(p.edges) {
		return p.edges[0].second + DaySeconds - now, true
	}
	return p.edges[i].second - now, true
}

// Due are the events that have to be handled before time can pass, in the order in which Advance takes them: the clock, waits by number, StaysUnder by
// number. Every order of them, and of what people do in the same second, is possible; whoever explores must try them all.
func (p *Program) Due(s State, into []Event) []Event {
	w := s.words
	if w[bitsWord]&outBit != 0 {
		return into
	}
	if w[bitsWord]&strikeBit != 0 {
		into = append(into, Event{Kind: ClockStrikes})
	}
	for i, n := range w[p.waitsAt:p.staysAt] {
		if n == 1 {
			into = append(into, Event{Kind: WaitEnds, Wait: i})
		}
	}
	for i, n := range w[p.staysAt:p.risesAt] {
		if n == 1 {
			into = append(into, Event{Kind: StayEnds, Wait: i})
		}
	}
	return into
}
