package readback

import (
	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
)

func (t *teller) ventilation() {
	t.goal = "ventilation"
	fan, one := t.fans()
	switch g := t.room.Brief.Ventilation; g.State {
	case model.Declined:
		if len(t.room.Fans) == 0 {
			return
		}
		t.say("The ", fan, they(one, " is", " are"), " left to people: nothing runs ", they(one, "it", "them"), " by itself.")
	case model.Wanted:
		t.damp(g.Want, fan, one)
		t.people(g.Want, fan, one)
		t.requests(g.Want, fan, one)
		t.quiet(g.Want, fan, one)
	}
}

// fans names what moves the air.
func (t *teller) fans() (name string, one bool) {
	if len(t.room.Fans) < 2 {
		return "fan", true
	}
	return "fans", false
}

// dampEnd is what makes a room of this kind damp.
func (t *teller) dampEnd() string {
	switch t.room.Kind {
	case "shower room":
		return "the end of the shower"
	case "bathroom":
		return "the end of the bath or shower"
	case "kitchen":
		return "the end of cooking"
	case "utility room":
		return "the end of washing or drying"
	}
	return "the damp coming to an end"
}

func (t *teller) damp(v model.Ventilation, fan string, one bool) {
	runs := they(one, " runs", " run")
	switch {
	case v.Ceiling.Wanted() && v.Within > 0:
		t.say("When the air is damper than ", t.bound(v.Ceiling), ", the ", fan, runs, " until it is back under that, within ", span(v.Within), " of ", t.dampEnd(), ".")
	case v.Ceiling.Wanted():
		t.say("When the air is damper than ", t.bound(v.Ceiling), ", the ", fan, runs, " until it is back under that.")
	case v.Within > 0:
		t.say("The air is dry again within ", span(v.Within), " of ", t.dampEnd(), ".")
	}
	if v.Ceiling.Wanted() {
		t.say("On days when the whole house is that damp, the ", fan, they(one, " stops", " stop"), " once the room is as dry as the house.")
	}
	if v.AtMost > 0 {
		t.say("When that adds up to more than ", span(v.AtMost.Span()), " in a day, the household hears about it.")
	}
}

// bound is a ceiling in words.
func (t *teller) bound(c model.Ceiling) string {
	if c.Reckoned {
		return "the room's coldest wall bears without mould"
	}
	return c.Stated.Show(t.sys)
}

func (t *teller) people(v model.Ventilation, fan string, one bool) {
	w := v.WithPeople
	runs := they(one, " runs", " run")
	switch {
	case w.After > 0 && w.RunOn > 0:
		t.say("Once somebody has been in for ", span(w.After), ", the ", fan, runs, ", and ", they(one, "runs", "run"), " on for ", span(w.RunOn), " after they leave.")
	case w.After > 0:
		t.say("Once somebody has been in for ", span(w.After), ", the ", fan, runs, " until they leave.")
	case w.RunOn > 0:
		t.say("While somebody is in, the ", fan, runs, ", and ", they(one, "runs", "run"), " on for ", span(w.RunOn), " after they leave.")
	}
}

func (t *teller) requests(v model.Ventilation, fan string, one bool) {
	if len(v.OnRequest) == 0 {
		return
	}
	times := make([]string, len(v.OnRequest))
	for i, r := range v.OnRequest {
		times[i] = span(r.Run)
	}
	t.say("Whoever asks for the ", fan, " gets ", they(one, "it", "them"), " for ", english.Join(times, "or"), " in full, whatever else stops meanwhile.")
}

func (t *teller) quiet(v model.Ventilation, fan string, one bool) {
	if v.Quiet == (model.Quiet{}) || v.Quiet.From == (q.DayTime{}) && v.Quiet.To == (q.DayTime{}) {
		return
	}
	when := english.Upper(t.between(v.Quiet.From, v.Quiet.To))
	it := they(one, "it", "them")
	switch v.Quiet.Except {
	case "humidity":
		t.say(when, ", only damp air may run ", it, ".")
	case "request":
		t.say(when, ", only a person who asks may run ", it, ".")
	case "both":
		t.say(when, ", only damp air or a person who asks may run ", it, ".")
	default:
		t.say(when, ", the ", fan, they(one, " keeps", " keep"), " quiet, whatever the air is like.")
	}
}
