package open

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/physics"
)

// value is a possible value of a fact. Quantities stand for all from this one to the next.
type value struct {
	is    any
	words string
}

// values are the possible values of a fact, and why when they can't be listed.
func (w *Weighing) values(f fact) (all []value, ranged bool, why string) {
	switch {
	case f.inner.Kind() == reflect.Bool:
		yes, no := yesNo(f.key())
		return []value{{true, yes}, {false, no}}, false, ""
	case len(f.field.Enum) > 0:
		for _, e := range f.field.Enum {
			all = append(all, value{e, e})
		}
		return all, false, ""
	case f.field.Ref == "switch":
		r, _ := w.project.Room(strings.Split(f.at(), "/")[0])
		for _, b := range r.Switches {
			all = append(all, value{b.ID, boxWords(b)})
		}
		if len(all) == 0 {
			why = "the room has no switch box yet"
		}
		return all, false, why
	}
	switch f.key() {
	case "depth":
		return w.lengths(f, w.again.Bill().BoxDepths()), true, ""
	case "pipe":
		return w.sizes(f, w.again.Bill().PipeSizes()), false, ""
	case "airflow":
		return w.airflows(f), true, ""
	case "coldest":
		return w.surfaces(f), true, ""
	case "outdoor":
		all, why = w.climates()
		return all, false, why
	}
	return nil, false, "its answers are without number"
}

// yesNo says a fact that is so or not so, as the subject of a sentence.
func yesNo(key string) (yes, no string) {
	switch key {
	case "neutral":
		return "a neutral", "no neutral"
	case "dimmable":
		return "a lamp that dims", "a lamp that doesn't dim"
	}
	return "yes", "no"
}

func boxWords(b model.SwitchBox) string {
	if place := b.Place(); place != "" {
		return "the box " + place
	}
	return spaced(b.ID)
}

// lengths are the stretches between those at which something begins to fit: each is one answer, from its least on.
func (w *Weighing) lengths(f fact, breaks []q.Length) []value {
	all := []value{{w.shallowest(f), ""}}
	for _, b := range breaks {
		if float64(b) > float64(all[0].is.(q.Length))+1e-6 {
			all = append(all, value{b, ""})
		}
	}
	return all
}

// Shallowest wall boxes made, in metres: the plaster-depth box of BS 4662, and the surface box of NEMA OS 1 that takes a device.
const (
	made230 = 0.016
	made120 = 0.03175
)

// shallowest is where the depths of boxes begin.
func (w *Weighing) shallowest(f fact) q.Length {
	least := q.Length(made230)
	if v := w.project.Home.Mains.Voltage; v > 0 && v < 200 || v == 0 && w.units == q.US {
		least = made120
	}
	if f.field.Min != nil && q.Length(f.field.Min.Value) > least {
		least = q.Length(f.field.Min.Value)
	}
	return least
}

// sizes are those that something is made for, and any other.
func (w *Weighing) sizes(f fact, made []q.Length) []value {
	var all []value
	other := q.Length(0.1)
	for _, s := range made {
		all = append(all, value{s, w.size(s)})
		if other-s < 0.002 && s-other < 0.002 {
			other = s + 0.01
		}
	}
	return append(all, value{other, "any other size"})
}

// size of a pipe, as it is called.
func (w *Weighing) size(l q.Length) string {
	if w.units == q.US {
		return strconv.FormatFloat(math.Round(float64(l)/0.0254*1000)/1000, 'f', -1, 64) + " in"
	}
	return strconv.FormatFloat(math.Round(float64(l)*10000)/10, 'f', -1, 64) + " mm"
}

// airflows are those at which a room's air is dry in time: nothing else hangs on a fan's airflow.
func (w *Weighing) airflows(f fact) []value {
	all := []value{{q.Airflow(1), ""}}
	if r, ok := w.project.Room(strings.Split(f.at(), "/")[0]); ok && r.Brief.Ventilation.Wanted() {
		a, err := physics.Air(with(w.project, f, q.Airflow(1)), mustRoom(with(w.project, f, q.Airflow(1)), r.ID))
		if err == nil && !a.OK && a.Needed > 1 {
			all = append(all, value{a.Needed, ""})
		}
	}
	return all
}

func mustRoom(p *model.Project, id string) model.Room {
	r, _ := p.Room(id)
	return r
}

// stretch puts a stretch of quantities in words: from one up to but not including another; nil is without end.
func (w *Weighing) stretch(from, to any, first bool) string {
	switch from := from.(type) {
	case q.Length:
		end, open := to.(q.Length)
		switch {
		case !open && first:
			return "any depth"
		case !open:
			return w.length(from) + " or more"
		case first:
			return "under " + w.length(end)
		}
		return "from " + w.length(from) + " to under " + w.length(end)
	case q.Temperature:
		end, open := to.(q.Temperature)
		switch {
		case !open && first:
			return "any temperature"
		case !open:
			return from.Show(w.units) + " or more"
		case first:
			return "under " + end.Show(w.units)
		}
		return "from " + from.Show(w.units) + " to under " + end.Show(w.units)
	case q.Airflow:
		end, open := to.(q.Airflow)
		switch {
		case !open && first:
			return "any airflow"
		case !open:
			return from.Show(w.units) + " or more"
		case first:
			return "under " + end.Show(w.units)
		}
		return "from " + from.Show(w.units) + " to under " + end.Show(w.units)
	}
	return fmt.Sprint(from)
}

// length of the size of boxes and pipes. It is rounded up, so that what is said to fit does.
func (w *Weighing) length(l q.Length) string {
	if w.units == q.US {
		return fmt.Sprintf("%.2f in", math.Ceil(float64(l)/0.0254*100-1e-6)/100)
	}
	return fmt.Sprintf("%.0f mm", math.Ceil(float64(l)*1000-1e-6))
}

// near are the paths of the things that a fact bears on directly: the box behind a circuit, every box that may be behind it.
// What shares none of them touches the fact only through controllers and their radios.
func near(p *model.Project, f fact) []string {
	steps := strings.Split(f.at(), "/")
	if len(steps) != 4 {
		return []string{f.thing()}
	}
	r, ok := p.Room(steps[0])
	if !ok {
		return []string{f.thing()}
	}
	box := func(s model.Fact[string]) []string {
		if id, known := s.Get(); known {
			return []string{r.ID + "/switches/" + id, f.thing()}
		}
		out := []string{f.thing()}
		for _, b := range r.Switches {
			out = append(out, r.ID+"/switches/"+b.ID)
		}
		return out
	}
	switch steps[1] {
	case "circuits":
		for _, c := range r.Circuits {
			if c.ID == steps[2] {
				return box(c.Switch)
			}
		}
	case "fans":
		for _, x := range r.Fans {
			if x.ID == steps[2] {
				return box(x.Switch)
			}
		}
	}
	return []string{f.thing()}
}
