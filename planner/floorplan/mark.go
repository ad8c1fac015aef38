package floorplan

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/caution"
)

// Mark is a letter of the plan with what it stands for.
type Mark struct {
	Letter rune
	Means  string
	does   []catalogue.Ability
}

// Marks are the letters in the order in which a legend lists them. A part that does several things has the first that fits.
var Marks = []Mark{
	{'C', "controller", []catalogue.Ability{catalogue.Host}},
	{'s', "sees still people", []catalogue.Ability{catalogue.SenseStill}},
	{'m', "sees motion", []catalogue.Ability{catalogue.SenseMotion}},
	{'d', "door contact", []catalogue.Ability{catalogue.SenseDoor}},
	{'h', "humidity", []catalogue.Ability{catalogue.SenseHumidity}},
	{'w', "water probe", []catalogue.Ability{catalogue.SenseWet}},
	{'v', "water valve", []catalogue.Ability{catalogue.ShutWater}},
	{'l', "lamps", []catalogue.Ability{catalogue.SwitchLamp, catalogue.DimLamp, catalogue.TuneLamp}},
	{'f', "fan", []catalogue.Ability{catalogue.SwitchFan}},
	{'p', "plug or appliance", []catalogue.Ability{catalogue.CutPlug, catalogue.CutFixed}},
	{'b', "button", []catalogue.Ability{catalogue.Press}},
	{'a', "sounder", []catalogue.Ability{catalogue.Sound}},
	{'r', "repeats radio", []catalogue.Ability{catalogue.Repeat, catalogue.Speak}},
	{'o', "other", nil},
}

func markOf(p catalogue.Part) rune {
	for _, m := range Marks {
		for _, a := range m.does {
			if p.Can(a) {
				return m.Letter
			}
		}
	}
	return Marks[len(Marks)-1].Letter
}

// Legend is the marks that a floor has need of.
func (f *Floor) Legend() []Mark {
	has := map[rune]bool{}
	for _, r := range f.All() {
		has['C'] = has['C'] || len(r.Controllers) > 0
		for _, d := range r.Devices {
			has[d.Mark] = true
		}
	}
	var out []Mark
	for _, m := range Marks {
		if has[m.Letter] {
			out = append(out, m)
		}
	}
	return out
}

// Cautions are those of the devices of a floor, each once.
func (f *Floor) Cautions() []string {
	var out []string
	for _, kind := range caution.Kinds {
		if slices.ContainsFunc(f.All(), func(x *Room) bool { return x.touches(kind) }) {
			out = append(out, caution.Text(kind))
		}
	}
	return out
}

// Cautions are those of the devices of a room, each once.
func (x *Room) Cautions() []string {
	var out []string
	for _, kind := range caution.Kinds {
		if x.touches(kind) {
			out = append(out, caution.Text(kind))
		}
	}
	return out
}

func (x *Room) touches(kind string) bool {
	return slices.ContainsFunc(x.Devices, func(d Device) bool { return d.Part.Caution == kind })
}

// Letters are those of a room's devices, with how many there are of each: "m l3 b2".
func (x *Room) Letters() string {
	var words []string
	for _, m := range Marks {
		n := 0
		for _, d := range x.Devices {
			if d.Mark == m.Letter {
				n += d.Count
			}
		}
		switch {
		case n == 1:
			words = append(words, string(m.Letter))
		case n > 1:
			words = append(words, fmt.Sprintf("%c%d", m.Letter, n))
		}
	}
	return strings.Join(words, " ")
}
