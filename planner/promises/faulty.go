package promises

import (
	"slices"

	"example.org/roombrief/planner/rules"
)

// survives says which faults a promise has to survive. What that means is the promise itself, with its times counted
// anew from when the power is back or the controller runs again:
//   - light on rather than dark on someone: in the instant in which the power comes back, a room that is lit on request
//     goes dark, because its lamps may have come on by themselves; after that, and with any one sensor dead, nobody
//     inside is left in the dark;
//   - no wait lost with a lamp or a fan on, and no lamp at its full light at night after a cut;
//   - alert rather than silence: water that stands when the power returns is told, and told again; with the internet
//     gone a sounder is heard where one was asked for;
//   - in the hour about a change of the clock the light may be that of the hour before or after.
//
// With a device that doesn't obey, the others have to go on: the other lamps of a room are lit and go off, and water is told of
// though the valve is stuck.
//
// A promise that no rule could keep without the thing that failed isn't asked: nobody can light a room for somebody
// whom no sensor sees, tell of water that no probe feels, or switch a relay that is stuck. There the caution is to change batteries in
// time, and to look when something doesn't answer.
var survives = map[Kind][]FaultKind{
	LightOnEntry:   {PowerCut, Restart, ClockChange, DeviceGone},
	NeverDark:      {PowerCut, Restart, ClockChange, BatteryDead}, // light on rather than dark on someone
	NotLeftBurning: {PowerCut, Restart, ClockChange, DeviceGone},  // no wait lost with the lamp on
	AsAsked:        {ClockChange},
	NotBlinding:    {PowerCut, Restart, ClockChange, BatteryDead},
	Aired:          {PowerCut, Restart},
	WishKept:       {ClockChange},
	NotForEver:     {PowerCut, Restart, BatteryDead},
	Quiet:          {PowerCut, Restart, BatteryDead},
	Told:           {PowerCut, Restart, DeviceGone, InternetGone}, // alert rather than silence
	ToldAgain:      {PowerCut, Restart, DeviceGone},
	ToldOfWater:    {PowerCut},
	WaterShut:      {PowerCut, Restart, DeviceGone, InternetGone},
	CutOff:         {PowerCut, Restart, InternetGone},
	OffWhenIdle:    {PowerCut, Restart, InternetGone},
	NeverOn:        {PowerCut, Restart},
	Own:            {PowerCut, Restart},
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
		if k == DeviceGone {
			out = append(out, p.besides(ix)...)
			continue
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

// besides is the promise about everything else, once for each device of its slices that obeys no more.
func (p Promise) besides(ix *Index) []Promise {
	var out []Promise
	at := map[string]int{}
	for _, f := range p.facets {
		sheet := p.nearly(ix, f)
		for _, t := range sheet.Things {
			switch t.Kind {
			case rules.Lamp, rules.Fan, rules.Valve, rules.Plug, rules.Sounder:
			default:
				continue
			}
			if slices.Contains(f.things, t.ID) {
				continue
			}
			i, ok := at[t.ID]
			if !ok {
				i = len(out)
				at[t.ID] = i
				q := p
				q.Fault, q.facets = Fault{Kind: DeviceGone, Thing: t.ID, Name: t.Name}, nil
				q.ID += "/" + slug(string(DeviceGone)) + "/" + t.ID
				out = append(out, q)
			}
			out[i].facets = append(out[i].facets, f)
		}
	}
	return out
}

// nearly is the slice of a facet with nothing free but what it is nothing to in its meaning: what may fail in it is asked about.
func (p Promise) nearly(ix *Index, f facet) rules.Sheet {
	w := f.want
	w.room, w.free, w.heard = p.Room, f.less, nil
	if p.Kind == NotBlinding || p.Kind == Own {
		w.free = nil
	}
	sheet, _, _ := ix.slice(w)
	return sheet
}

// sensors of the promise's slice.
func (p Promise) sensors(ix *Index) []rules.Thing {
	var out []rules.Thing
	seen := map[string]bool{}
	for _, f := range p.facets {
		sheet := p.nearly(ix, f)
		for _, t := range sheet.Things {
			switch t.Kind {
			case rules.Motion, rules.Presence, rules.Door, rules.Hygrometer:
				if _, real := ix.thing[t.ID]; real && !seen[t.ID] {
					seen[t.ID] = true
					out = append(out, t)
				}
			}
		}
	}
	return out
}
