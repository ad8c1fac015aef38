package rules

// hour is a note of the hour: nothing but the clock makes and forgets it, each at one time and whatever else is so.
type hour struct{ thing, from, to int32 } // from and to are places in Program.second

// findHours finds the notes of the hour.
func (p *Program) findHours() {
	type found struct {
		on, off int32 // places in Program.second, -1 for none
		other   bool
	}
	notes := map[int32]*found{}
	for i := range p.rules {
		r := &p.rules[i]
		for _, e := range r.effects {
			if e.kind != Set || p.sheet.Things[e.thing].Kind != Flag {
				continue
			}
			n := notes[e.thing]
			if n == nil {
				n = &found{on: -1, off: -1}
				notes[e.thing] = n
			}
			at := &n.off
			if e.value&1 != 0 {
				at = &n.on
			}
			n.other = n.other || r.kind != Clock || len(r.guard) > 0 || *at >= 0
			*at = r.time
		}
	}
	for i := range p.sheet.Things {
		if n := notes[int32(i)]; n != nil && !n.other && n.on >= 0 && n.off >= 0 {
			p.hours = append(p.hours, hour{int32(i), n.on, n.off})
		}
	}
}
