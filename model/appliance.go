package model

// StaysOn reports whether a rule must never switch the appliance off, by its mark or by its kind.
func (a Appliance) StaysOn() bool { return a.MustStayOn || KindStaysOn(a.Kind) }

// Heats reports whether the appliance gets hot, so that a rule may only ever switch it off.
func (a Appliance) Heats() bool { return KindHeats(a.Kind) }
