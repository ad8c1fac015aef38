package readback

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
)

func (t *teller) shutoff() {
	t.goal = "shutoff"
	g := t.room.Brief.Shutoff
	switch {
	case g.State == model.Declined && len(t.room.Appliances) > 0:
		t.say("Appliances are left to people: none goes off by itself.")
	case g.State == model.Declined:
		t.say("Nothing here goes off by itself.")
	case g.Wanted():
		for _, x := range g.Want {
			t.cutOff(x)
		}
		if len(g.Want) > 0 {
			t.caution("Only a person in the room switches " + they(len(g.Want) == 1, "it", "any of them") + " on again, also after a power cut.")
		}
	}
	t.staysOn()
}

// cutOff tells how one appliance goes off.
func (t *teller) cutOff(x model.Shutoff) {
	name := t.appliance(x.Appliance)
	idle := x.Idle.For > 0
	idleText := ""
	if idle {
		idleText = "when it has used less than " + x.Idle.Below.Show(t.sys) + " for " + span(x.Idle.For)
	}
	switch {
	case x.After > 0 && idle:
		t.say("The ", name, " goes off ", span(x.After), " after it was switched on, and sooner ", idleText, ".")
	case x.After > 0:
		t.say("The ", name, " goes off ", span(x.After), " after it was switched on.")
	case idle:
		t.say("The ", name, " goes off ", idleText, ".")
	default:
		t.say("The ", name, " is to go off by itself, and when is not said yet.")
	}
	switch {
	case x.Warn > 0 && x.Extend == "button":
		t.say("A warning comes ", span(x.Warn), " before; a press of a button gives the ", name, " its full time again.")
	case x.Warn > 0:
		t.say("A warning comes ", span(x.Warn), " before.")
	case x.Extend == "button":
		t.say("A press of a button gives the ", name, " its full time again.")
	}
	if who, one := t.names(x.Tell); who != "" {
		t.say(who, they(one, " is", " are"), " told when the ", name, " was cut off.")
	}
}

// staysOn names what no rule ever cuts.
func (t *teller) staysOn() {
	b := t.room.Brief
	if b.Lighting.State+b.Ventilation.State+b.Leak.State+b.Shutoff.State+b.Buttons.State == model.Unasked {
		return
	}
	var names []string
	for _, a := range t.room.Appliances {
		if a.StaysOn() {
			names = append(names, "the "+t.appliance(a.ID))
		}
	}
	if len(names) > 0 {
		t.say("No rule ever switches ", english.Join(names, "or"), " off.")
	}
}

// appliance names it by its kind, or by its short name when there are two of the kind.
func (t *teller) appliance(id string) string {
	kinds := map[string]int{}
	for _, a := range t.room.Appliances {
		kinds[strings.ToLower(a.Kind)]++
	}
	for _, a := range t.room.Appliances {
		if a.ID == id && a.Kind != "" && kinds[strings.ToLower(a.Kind)] == 1 {
			return a.Kind
		}
	}
	return words(id)
}

func (t *teller) buttons() {
	t.goal = "buttons"
	g := t.room.Brief.Buttons
	if g.State == model.Declined {
		if slices.ContainsFunc(t.room.Brief.Shutoff.Want, func(x model.Shutoff) bool { return x.Extend == "button" }) {
			t.say("Beyond that there are no buttons.") // one gives an appliance its full time again
			return
		}
		t.say("There are no buttons beyond the switches.")
	}
	if !g.Wanted() {
		return
	}
	for _, b := range g.Want {
		name := "the button " + place(b)
		var does []string
		for _, d := range []struct {
			how  string
			deed model.Deed
		}{{"one press of " + name, b.Press}, {"two presses", b.Double}, {"holding it", b.Hold}} {
			if d.deed.Verb != model.Nothing {
				does = append(does, d.how+" "+t.deed(d.deed, strings.HasPrefix(d.how, "two")))
			}
		}
		if len(does) == 0 {
			t.say("What ", name, " does is not said yet.")
			continue
		}
		if b.Press.Verb == model.Nothing {
			does[0] = english.Upper(name) + ": " + does[0]
		}
		t.say(english.Upper(strings.Join(does, "; ")), ".")
	}
}

// place puts an article into "by basin"; other words are left as they were said.
func place(b model.Button) string {
	where := b.Where
	if where == "" {
		where = words(b.ID)
	}
	head, rest, _ := strings.Cut(where, " ")
	switch strings.ToLower(head) {
	case "outside", "upstairs", "downstairs", "next":
		return where
	case "by", "at", "in", "on", "near", "beside", "under", "over", "behind":
	default:
		head, rest = "at", where
	}
	first, _, _ := strings.Cut(rest, " ")
	switch strings.ToLower(first) {
	case "", "the", "a", "an", "my", "our", "each", "every", "both", "either", "this", "that":
		return strings.TrimSpace(head + " " + rest)
	}
	if r, _ := utf8.DecodeRuneInString(rest); unicode.IsUpper(r) {
		return head + " " + rest // somebody's name
	}
	return head + " the " + rest
}

// deed tells what a press does; more than one thing done takes the plural.
func (t *teller) deed(d model.Deed, plural bool) string {
	verb := func(singular, several string) string { return they(!plural, singular, several) }
	switch d.Verb {
	case model.Lights:
		switch d.Level {
		case 0:
			return verb("switches", "switch") + " the lights off"
		case 100:
			return verb("brings", "bring") + " the lights to full"
		}
		return verb("sets", "set") + " the lights to " + d.Level.Show(t.sys)
	case model.LightsAuto:
		return verb("gives", "give") + " the lights back to the room"
	case model.FanRun:
		return verb("runs", "run") + " the fan for " + span(d.Run)
	case model.FanOff:
		return verb("stops", "stop") + " the fan"
	case model.EverythingOff:
		return verb("switches", "switch") + " everything off"
	case model.Extend:
		return verb("gives", "give") + " the " + t.appliance(d.Appliance) + " its full time again"
	case model.Acknowledge:
		return verb("answers", "answer") + " an alert"
	}
	return verb("does", "do") + " nothing"
}
