package readback

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
)

func (t *teller) lighting() {
	t.goal = "lighting"
	switch g := t.room.Brief.Lighting; g.State {
	case model.Declined:
		t.say("The light is left to people: nothing switches it on or off by itself.")
	case model.Wanted:
		order := inOrder(g.Want.Periods)
		for i, p := range order {
			t.period(g.Want, p, order[(i+1)%len(order)])
		}
		t.start(g.Want)
		t.stop(g.Want)
		t.keep(g.Want)
	}
}

// inOrder is periods as they follow each other on a day of equal light and dark, from the one on that is written first: each lasts
// until the next one starts, wherever that is written.
func inOrder(periods []model.Period) []model.Period {
	if len(periods) == 0 {
		return nil
	}
	suns := map[q.Sun]time.Duration{q.Dawn: 5*time.Hour + 30*time.Minute, q.Sunrise: 6 * time.Hour, q.Sunset: 18 * time.Hour, q.Dusk: 18*time.Hour + 30*time.Minute}
	const day = 24 * time.Hour
	after := func(p model.Period) time.Duration {
		at := func(t q.DayTime) time.Duration { return suns[t.Sun] + t.Offset }
		return ((at(p.From)-at(periods[0].From))%day + day) % day
	}
	out := slices.Clone(periods)
	slices.SortStableFunc(out, func(a, b model.Period) int { return cmp.Compare(after(a), after(b)) })
	return out
}

// period tells one stretch of the day, until the next begins.
func (t *teller) period(l model.Lighting, p, next model.Period) {
	when := ""
	if len(l.Periods) > 1 {
		when = " between " + p.From.Show(t.sys) + " and " + next.From.Show(t.sys)
	}
	if p.Level == 0 {
		if when == "" {
			when = " at any time"
		}
		t.say(english.Upper(strings.TrimSpace(when)), ", nothing switches ", t.lights(p.Circuits), " on by itself.")
		return
	}
	name, one := t.lights(p.Circuits), t.one(p.Circuits)
	light := p.Level.Show(t.sys)
	if p.Colour > 0 {
		light += ", " + colour(p.Colour) + " (" + p.Colour.Show(t.sys) + ")"
	}
	if l.Start == "on request" {
		t.say("When somebody asks for light", when, ", ", name, " ", they(one, "comes", "come"), " on at ", light, ".")
		return
	}
	t.say("When somebody comes in", when, ", ", name, " ", they(one, "comes", "come"), " on at ", light, ".")
}

func (t *teller) start(l model.Lighting) {
	switch {
	case l.Start == "on request":
		t.say("The room never switches ", t.lights(nil), " on by itself.")
	case l.Start == "on entry" && len(l.Periods) == 0:
		t.say(english.Upper(t.lights(nil)), " ", they(t.one(nil), "comes", "come"), " on when somebody comes in.")
	}
}

func (t *teller) stop(l model.Lighting) {
	one := t.one(nil)
	subject := they(one, "It goes", "They go")
	if len(l.Periods) == 0 && l.Start == "" {
		subject = english.Upper(t.lights(nil)) + they(one, " goes", " go")
	}
	switch {
	case l.Stop.After > 0 && l.Stop.NeverWhile == "moving":
		t.say(subject, " off ", span(l.Stop.After), " after the last movement, also when somebody inside keeps still.")
	case l.Stop.After > 0 && l.Stop.NeverWhile == "occupied":
		t.say(subject, " off ", span(l.Stop.After), " after the room is empty, and not while somebody is still inside.")
	case l.Stop.After > 0:
		t.say(subject, " off ", span(l.Stop.After), " after the room is empty.")
	case l.Stop.NeverWhile == "occupied":
		t.say(strings.TrimSuffix(strings.TrimSuffix(subject, " goes"), " go"), " never ", they(one, "goes", "go"), " off while somebody is inside.")
	}
}

func (t *teller) keep(l model.Lighting) {
	if l.KeepManual {
		t.say("A level set by hand stays until the room is empty.")
		return
	}
	if len(l.Periods) < 2 {
		t.say("A level set by hand lasts until the next movement.")
		return
	}
	t.say("A level set by hand lasts until the next movement or the next stretch of the day.")
}

// lights names circuits: "the ceiling and mirror lights"; none named are all of the room.
func (t *teller) lights(ids []string) string {
	if len(ids) == 0 {
		for _, c := range t.room.Circuits {
			ids = append(ids, c.ID)
		}
	}
	switch {
	case len(ids) == 0:
		return "the light"
	case len(ids) > 3 && len(ids) == len(t.room.Circuits):
		return "all the lights"
	}
	if len(ids) == 1 {
		if last := ids[0][strings.LastIndexByte(ids[0], '-')+1:]; last == "lamp" || last == "light" {
			return "the " + words(ids[0])
		}
	}
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = strings.TrimSuffix(strings.TrimSuffix(words(id), " lights"), " light")
	}
	return "the " + english.Join(names, "and") + they(len(ids) == 1, " light", " lights")
}

// one says whether these circuits are spoken of as one light.
func (t *teller) one(ids []string) bool {
	if len(ids) == 0 {
		return len(t.room.Circuits) < 2
	}
	return len(ids) == 1
}

func (t *teller) between(from, to q.DayTime) string {
	return "between " + from.Show(t.sys) + " and " + to.Show(t.sys)
}
