package rules

// failed reports whether a thing obeys no more.
func (x *run) failed(thing int32) bool { return x.w[bitsWord]>>failedAt == thing+1 }

// unfed reports whether what a thing's mains come through is off.
func (x *run) unfed(thing int32) bool {
	if x.p.fedBy == nil {
		return false
	}
	f := x.p.fedBy[thing]
	return f >= 0 && x.w[thingsAt+f]&1 == 0
}

// feedReturns reports whether a thing has its mains again when the power comes back.
func (x *run) feedReturns(thing int32) bool {
	if x.p.fedBy == nil || x.p.fedBy[thing] < 0 {
		return true
	}
	f := x.p.fedBy[thing]
	up := x.p.sheet.Things[f].PowerUp
	return up == ComesOn || up == AsItWas && x.w[thingsAt+f]&1 != 0
}

// thingFails makes a device obey no more; one does at a time.
func (x *run) thingFails(thing int) {
	if thing < 0 || thing >= len(x.p.sheet.Things) || !accepts(x.p.sheet.Things[thing].Kind, HandSet) {
		x.say(blank(Ignored))
		return
	}
	x.w[bitsWord] = x.w[bitsWord]&(1<<failedAt-1) | int32(thing+1)<<failedAt
}

// feed follows a thing that has changed to those whose mains come through it. What goes dead says nothing any more; what comes back
// says so.
func (x *run) feed(thing int32) {
	if x.p.fedBy == nil {
		return
	}
	on := x.w[thingsAt+thing]&1 != 0
	for i, f := range x.p.fedBy {
		if f != thing {
			continue
		}
		t := &x.p.sheet.Things[i]
		c := cause{thing: int32(i), old: x.w[thingsAt+i]}
		if on {
			c.new = normal(t.Kind, Value{On: t.PowerUp != ComesOff})
		}
		if c.old == c.new {
			continue
		}
		x.w[thingsAt+i] = c.new
		h := blank(Changed)
		h.Thing, h.From, h.To = i, unpack(c.old), unpack(c.new)
		x.say(h)
		if on && len(x.p.byThing[i]) > 0 {
			x.line.push(c)
		}
	}
}
