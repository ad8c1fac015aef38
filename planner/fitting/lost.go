package fitting

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/planner/rules"
)

// promiseOf is the promise that a rule serves: what is lost without it.
func promiseOf(r rule) string {
	if slices.ContainsFunc(r.effs, func(e eff) bool { return e.Kind == rules.Start && strings.HasSuffix(e.Wait, "/fan-people") }) {
		return "fan for people"
	}
	for _, e := range r.effs {
		if e.Kind == rules.Set && !strings.Contains(e.Thing, "note-") {
			if p := promiseOfOrder(r.Goal, e.Value.On); p != "" {
				return p
			}
		}
	}
	switch {
	case slices.ContainsFunc(r.effs, func(e eff) bool { return e.Kind == rules.Tell }):
		return map[bool]string{true: "cut off", false: "told"}[r.Goal == "shutoff"]
	case len(r.Hold) > 0:
		return "never dark on someone"
	}
	switch r.Goal {
	case "lighting":
		return "not left burning"
	case "ventilation":
		return "aired"
	case "leak":
		return "told"
	case "shutoff":
		return "cut off"
	}
	return "wish kept"
}

func promiseOfOrder(goal string, on bool) string {
	switch goal {
	case "lighting":
		return map[bool]string{true: "light on entry", false: "not left burning"}[on]
	case "ventilation":
		return map[bool]string{true: "aired", false: "not for ever"}[on]
	case "leak":
		return map[bool]string{true: "water shut", false: "told"}[on]
	case "shutoff":
		return map[bool]string{true: "never on", false: "cut off"}[on]
	case "buttons":
		return map[bool]string{true: "wish kept", false: "as asked"}[on]
	}
	return ""
}

// promiseOfHold is what a wait that isn't held costs.
func promiseOfHold(r rule) string {
	if r.Goal == "ventilation" {
		return "wish kept"
	}
	return "never dark on someone"
}

// promiseOfGuard is what it costs that a guard can't be looked at: the rule itself, or what the guard protects.
func promiseOfGuard(r rule, dropped bool, kind map[string]rules.ThingKind) string {
	if dropped {
		return promiseOf(r)
	}
	for _, e := range r.effs {
		if e.Kind != rules.Set {
			continue
		}
		switch {
		case kind[e.Thing] == rules.Lamp && e.Value.On:
			return "as asked"
		case kind[e.Thing] == rules.Fan && !e.Value.On:
			return "wish kept"
		case kind[e.Thing] == rules.Plug:
			return "stays on"
		}
	}
	return "one voice"
}

// after are the notes on limits that no rule can be rewritten for.
func (f *fitter) after() {
	if !f.lim.Offline {
		for _, p := range f.safety() {
			f.lose(Lost{Limit: "offline", Text: "While the internet is away the controller does nothing, also nothing of this: " + p[1], Rule: p[0], Promise: p[2],
				Remedy: "Put these rules on a controller that works without the internet."})
		}
		f.note("offline", "", "The controller does nothing while the internet is away.", "Every promise of the room stops then.")
	}
	if l := f.lim.Latency; l > 0 && f.lim.SeesOthers {
		f.note("latency", "", fmt.Sprintf("What another controller sees comes up to %s late.", l), "Rules that look at it act that much later.")
	}
	if f.lim.RestoresWaits {
		f.note("restores_waits", "", "Running waits survive a restart of the controller.", "")
		return
	}
	f.note("restores_waits", "", "A restart or a power cut loses all running waits; the rules for the power's return set things right.", "")
	f.waitsLost()
}

// safety are the rules that guard against harm: told of water, valve shut, heat switched off.
func (f *fitter) safety() (out [][3]string) {
	for _, r := range f.rules {
		if (r.Goal == "leak" || r.Goal == "shutoff") && r.Cause.Kind != rules.PowerBack {
			p := promiseOf(r)
			if !slices.ContainsFunc(out, func(o [3]string) bool { return o[0] == r.from[0] }) {
				out = append(out, [3]string{r.from[0], r.Purpose, p})
			}
		}
	}
	return out
}

// waitsLost adds a rule for the power's return where a wait would have switched something off and no rule of the sheet sees
// to it: nobody else ever would.
func (f *fitter) waitsLost() {
	if !f.states() {
		return
	}
	var more []rule
	seen := f.afterPower()
	for _, r := range f.rules {
		if r.Cause.Kind != rules.Ended {
			continue
		}
		for _, e := range r.effs {
			if e.Kind != rules.Set || e.Value.On || f.kind[e.Thing] == rules.Flag || seen[e.Thing] {
				continue
			}
			seen[e.Thing] = true
			x := r.doing(set(e.Thing, false))
			x.Purpose = fmt.Sprintf("The wait that would switch the %s off is lost in a power cut, so it goes off when the power is back.", f.name[e.Thing])
			x.Cause, x.Guard = rules.Cause{Kind: rules.PowerBack}, nil
			if f.toggled(e.Thing) {
				x.Guard = []rules.Literal{is(e.Thing)}
			}
			more = append(more, x)
			f.note("restores_waits", r.from[0], x.Purpose, "")
		}
	}
	f.rules = append(f.rules, more...)
}

// afterPower are the things that rules see to when the power is back.
func (f *fitter) afterPower() map[string]bool {
	seen := map[string]bool{}
	for _, r := range f.rules {
		for _, e := range r.effs {
			if r.Cause.Kind == rules.PowerBack && e.Kind == rules.Set {
				seen[e.Thing] = true
			}
		}
	}
	return seen
}

// waitName is the printed name of a wait: shower-room/fan-asked is "fan asked".
func waitName(id string) string {
	if _, last, ok := strings.Cut(id, "/"); ok {
		id = last
	}
	return `"` + strings.ReplaceAll(id, "-", " ") + `"`
}
