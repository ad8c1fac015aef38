package story

import (
	"fmt"
	"strings"

	"example.org/roombrief/planner/rules"
)

// Shape says how a track is drawn.
type Shape int

// The shapes.
const (
	Count  Shape = iota // a small number: people
	Switch              // on or off, open or shut, seen or clear
	Level               // a height between 0 and the track's Most
	Wait                // runs or doesn't
	Mark                // a moment without length: a press, a message
)

// Track is one thing through a story.
type Track struct {
	Name   string
	Shape  Shape
	Most   int     // of a Level: what full height is
	Values []Value // the first is before the first line; then one after each line
}

// Value of a track at a moment.
type Value struct {
	N    int    // 0 is off, shut, nobody, nothing
	Text string // to print: "4 %", "open", "5m left"
}

// tracks are the things that change in the story or that the promise is about: people first, then what is
// seen, then what is moved, then waits.
func (t teller) tracks() []Track {
	out := []Track{t.people()}
	if m, changes := t.mains(); changes {
		out = append(out, m)
	}
	for _, kinds := range order {
		for _, thing := range t.played.Slice.Things {
			if kinds[thing.Kind] {
				if x, ok := t.thing(thing); ok {
					out = append(out, x)
				}
			}
		}
	}
	out = append(out, t.waits()...)
	if m, some := t.marks("message", "told", t.tells); some {
		out = append(out, m)
	}
	shorten(out)
	return out
}

// shorten leaves the place out of names that are as clear without it: all is in one room, mostly.
func shorten(tracks []Track) {
	short := func(name string) string {
		for _, sep := range []string{" in ", " of "} {
			if head, _, ok := strings.Cut(name, sep); ok {
				return head
			}
		}
		return name
	}
	count := map[string]int{}
	for _, t := range tracks {
		count[short(t.Name)]++
	}
	for i, t := range tracks {
		if s := short(t.Name); count[s] == 1 && !strings.Contains(t.Name, `"`) {
			tracks[i].Name = s
		}
	}
}

type kinds map[rules.ThingKind]bool

var order = []kinds{
	{rules.Door: true}, {rules.Motion: true, rules.Presence: true}, {rules.ButtonOf: true},
	{rules.Hygrometer: true, rules.Probe: true, rules.Meter: true}, {rules.Lamp: true},
	{rules.Fan: true, rules.Valve: true, rules.Plug: true, rules.Sounder: true}, {rules.Flag: true},
}

func (t teller) people() Track {
	out := Track{Name: "people inside", Shape: Count}
	for _, m := range t.moments {
		text := "nobody"
		if m.People > 0 {
			text = fmt.Sprint(m.People)
		}
		out.Values = append(out.Values, Value{m.People, text})
	}
	return out
}

func (t teller) mains() (out Track, changes bool) {
	out = Track{Name: "mains", Shape: Switch}
	for _, m := range t.moments {
		v := Value{1, "on"}
		if !m.State.Powered() {
			v, changes = Value{0, "off"}, true
		}
		out.Values = append(out.Values, v)
	}
	return out, changes
}

// thing is the track of a thing, unless nothing happens to it and the promise isn't about it.
func (t teller) thing(x rules.Thing) (Track, bool) {
	p := t.played.Program
	n, ok := p.Thing(x.ID)
	if !ok {
		return Track{}, false
	}
	if x.Kind == rules.ButtonOf {
		return t.marks(x.Name, "pressed", func(h rules.Happening) bool { return h.Kind == rules.Came && h.Thing == n })
	}
	out := Track{Name: x.Name, Shape: Switch}
	switch x.Kind {
	case rules.Lamp, rules.Hygrometer:
		out.Shape, out.Most = Level, 100
	case rules.Meter:
		out.Shape, out.Most = Level, 1
	}
	changes := false
	for i, m := range t.moments {
		v := p.Value(m.State, n)
		out.Values = append(out.Values, valueOf(x.Kind, v))
		changes = changes || i > 0 && out.Values[i] != out.Values[0]
		if x.Kind == rules.Meter {
			out.Most = max(out.Most, v.Level)
		}
	}
	for _, id := range t.played.About {
		changes = changes || id == x.ID
	}
	return out, changes
}

func valueOf(k rules.ThingKind, v rules.Value) Value {
	onOff := func(on, off string) Value {
		if v.On {
			return Value{1, on}
		}
		return Value{0, off}
	}
	switch k {
	case rules.Lamp:
		if !v.On {
			return Value{0, "off"}
		}
		return Value{v.Level, fmt.Sprintf("%d %%", v.Level)}
	case rules.Hygrometer:
		return Value{v.Level, fmt.Sprintf("%d %%", v.Level)}
	case rules.Meter:
		return Value{v.Level, fmt.Sprintf("%d W", v.Level)}
	case rules.Valve:
		return onOff("shut", "open")
	case rules.Motion:
		return onOff("seen", "clear")
	case rules.Presence:
		return onOff("somebody", "nobody")
	case rules.Door:
		return onOff("open", "shut")
	case rules.Probe:
		return onOff("wet", "dry")
	case rules.Flag:
		return onOff("noted", "no")
	}
	return onOff("on", "off")
}

// waits are those of the slice that run at some time in the story.
func (t teller) waits() []Track {
	p := t.played.Program
	var out []Track
	for n, id := range p.Waits() {
		x := Track{Name: `wait "` + plain(id) + `"`, Shape: Wait}
		ran := false
		for _, m := range t.moments {
			left, runs := p.Left(m.State, n)
			v := Value{}
			switch {
			case runs && left < 0:
				v = Value{1, "held"}
			case runs:
				v = Value{1, Since(left) + " left"}
			}
			ran = ran || runs
			x.Values = append(x.Values, v)
		}
		if ran && t.ids[id] {
			out = append(out, x)
		}
	}
	return out
}

// plain is a wait's name without its room: shower-room/door-check is "door check".
func plain(id string) string {
	if _, last, ok := strings.Cut(id, "/"); ok {
		id = last
	}
	return strings.ReplaceAll(id, "-", " ")
}

// marks are the moments in which something of one sort happens.
func (t teller) marks(name, word string, is func(rules.Happening) bool) (out Track, some bool) {
	out = Track{Name: name, Shape: Mark}
	for _, m := range t.moments {
		v := Value{}
		for _, h := range m.Happened {
			if is(h) {
				v, some = Value{1, word}, true
			}
		}
		out.Values = append(out.Values, v)
	}
	return out, some
}

// tells reports whether somebody of the room's is told something.
func (t teller) tells(h rules.Happening) bool { return h.Kind == rules.Told && t.mine(h) }
