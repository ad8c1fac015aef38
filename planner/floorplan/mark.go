package floorplan

import "example.org/roombrief/model/catalogue"

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
