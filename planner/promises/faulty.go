package promises

import (
	"example.org/roombrief/planner/rules"
)

// survives says which faults a promise has to survive. What it means to survive is the promise itself: it goes on
// to hold once the power is back, the controller runs, and whatever sensors are left report. A promise that no
// rule could keep without the thing that failed isn't asked: nobody can light a room for somebody whom no sensor
// sees, or tell of water that no probe feels. There the caution is to change batteries in time.
var survives = map[Kind][]FaultKind{
	LightOnEntry:   {PowerCut, Restart, ClockChange},
	NeverDark:      {PowerCut, Restart, ClockChange, BatteryDead}, // light on rather than dark on someone
	NotLeftBurning: {PowerCut, Restart, ClockChange},              // no wait lost with the lamp on
	AsAsked:        {ClockChange},
	NotBlinding:    {PowerCut, Restart, ClockChange, BatteryDead},
	Aired:          {PowerCut, Restart},
	WishKept:       {ClockChange},
	NotForEver:     {PowerCut, Restart, BatteryDead},
	Quiet:          {PowerCut, Restart, ClockChange, BatteryDead},
	Told:           {PowerCut, Restart, InternetGone}, // alert rather than silence
	ToldAgain:      {PowerCut, Restart},
	WaterShut:      {PowerCut, Restart, InternetGone},
	CutOff:         {PowerCut, Restart, InternetGone},
	OffWhenIdle:    {PowerCut, Restart, InternetGone},
	NeverOn:        {PowerCut, Restart},
	Own:            {PowerCut, Restart, ClockChange},
}

// Faulty lists the promise once for each single fault that it has to survive.
func (p Promise) Faulty(ix *Index) []Promise {
	if p.fixed != nil || p.Fault.Kind != NoFault {
		return nil
	}
	var out []Promise
	with := func(f Fault) {
		q := p
		q.Fault = f
		q.ID += "/" + slug(string(f.Kind))
		if f.Thing != "" {
			q.ID += "/" + f.Thing
		}
		out = append(out, q)
	}
	for _, k := range survives[p.Kind] {
		if k == InternetGone && p.Kind == Told && !p.sounds {
			continue // messages are all there is
		}
		if k != BatteryDead {
			with(Fault{Kind: k})
			continue
		}
		for _, t := range p.sensors(ix) {
			with(Fault{Kind: k, Thing: t.ID, Name: t.Name})
		}
	}
	return out
}

// sensors of the promise's slice.
func (p Promise) sensors(ix *Index) []rules.Thing {
	var out []rules.Thing
	seen := map[string]bool{}
	for _, f := range p.facets {
		f.room = p.Room
		sheet, _, _ := ix.slice(f.want)
		for _, t := range sheet.Things {
			switch t.Kind {
			case rules.Motion, rules.Presence, rules.Door, rules.Hygrometer:
				if !seen[t.ID] {
					seen[t.ID] = true
					out = append(out, t)
				}
			}
		}
	}
	return out
}
