package rules

import "slices"

// Exploring looks at a program with its waits abstracted: what is left of a wait is kept outside the state, as
// a deadline, and the state only says that the wait runs. These methods pose such a state for one event and
// read what became of it; what the event does is still done by Do alone.

// Posed is what a wait or StaysUnder that runs is posed with: more than any rule starts one for.
const Posed = MaxWait / 2

// PutWait poses a wait with seconds left; negative is not running. A held wait stays held.
func (p *Program) PutWait(s *State, wait, left int) {
	if at := &s.words[p.waitsAt+wait]; *at != held {
		*at = int32(max(left, -1)) + 1
	}
}

// Held reports whether a wait is held.
func (p *Program) Held(s State, wait int) bool { return s.words[p.waitsAt+wait] == held }

// Stays is the number of StaysUnder clocks.
func (p *Program) Stays() int { return len(p.stays) }

// StaySeconds is how long a StaysUnder has to stay.
func (p *Program) StaySeconds(stay int) int { return int(p.stays[stay].seconds) }

// StayLeft is how many seconds a StaysUnder has left, and whether it runs.
func (p *Program) StayLeft(s State, stay int) (int, bool) {
	w := s.words[p.staysAt+stay]
	return int(w - 1), w != 0
}

// PutStay poses a StaysUnder with seconds left; negative is not running.
func (p *Program) PutStay(s *State, stay, left int) {
	s.words[p.staysAt+stay] = int32(max(left, -1)) + 1
}

// ForgetRises empties the windows of Rises causes, as a long time without a change would.
func (p *Program) ForgetRises(s *State) { clear(s.words[p.risesAt:]) }

// Moments are the seconds of the day at which something that the rules look at changes: clock causes, and the
// beginnings and ends of windows. Between two of them all seconds are alike to every rule.
func (p *Program) Moments() []int {
	var out []int
	for _, s := range p.second {
		out = append(out, int(s))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// PutClock sets the clock without striking.
func (p *Program) PutClock(s *State, second int) {
	s.words[clockWord] = int32(((second % DaySeconds) + DaySeconds) % DaySeconds)
	s.words[bitsWord] &^= strikeBit
}

// PutStrike sets the clock to a second and makes its edge due, if it has one; it reports whether.
func (p *Program) PutStrike(s *State, second int) bool {
	p.PutClock(s, second)
	if p.edgeAt(s.words[clockWord]) == nil {
		return false
	}
	s.words[bitsWord] |= strikeBit
	return true
}

// PutValue poses a thing at a value without anything being caused by it.
func (p *Program) PutValue(s *State, thing int, v Value) {
	s.words[thingsAt+thing] = normal(p.sheet.Things[thing].Kind, v)
}

// Hash mixes the state into h: equal states give equal numbers, and few others do.
func (s State) Hash(h uint64) uint64 {
	for _, w := range s.words {
		h = (h ^ uint64(uint32(w))) * 0x9E3779B97F4A7C15
		h ^= h >> 29
	}
	return h
}
