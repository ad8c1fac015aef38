package catalogue

import (
	"slices"
	"strings"

	"example.org/roombrief/model/reading"
)

// part looks at one part on its own and in its place on the shelf.
func (k *checker) part(p *Part, s spot) {
	p.checkPrice(s)
	p.checkSupply(s)
	p.checkRadio(s)
	p.checkLoads(s)
	p.checkLamp(s)
	p.checkKeys(s)
	p.checkHost(s)
	if p.Supply == "battery" && p.Battery.Cell != "" {
		if _, ok := k.Cell(p.Battery.Cell); !ok {
			s.fail("battery", "no battery cell "+reading.Quote(p.Battery.Cell)+" is on the shelf", "add a part of the kind "+CellKind+" with this cell")
		}
	}
	if k.comesWithItself(p.ID, p, map[string]bool{}) {
		s.fail("also", "the part comes with itself, directly or by another part", "break the circle")
	}
	if p.Ingress != "" && !isIngress(p.Ingress) {
		s.fail("ingress", reading.Quote(p.Ingress)+" is not an ingress class", "accepted: IP and two digits, as in IP44")
	}
}

func (p *Part) checkPrice(s spot) {
	for _, c := range Currencies {
		if v, ok := p.Price[c]; !ok {
			s.fail("price", "the part has no price in "+c, "every part has one in "+strings.Join(Currencies, ", "))
		} else if v <= 0 {
			s.fail("price", "the price in "+c+" is not above zero", "write what one costs, without tax")
		}
	}
	for _, c := range sorted(p.Price) {
		if !slices.Contains(Currencies, c) {
			s.fail("price", reading.Quote(c)+" is not a currency of the catalogue", "accepted: "+strings.Join(Currencies, ", "))
		}
	}
}

func (p *Part) checkSupply(s spot) {
	cells := p.Battery.Cell != "" && p.Battery.Count > 0
	switch {
	case p.Supply == "battery" && (!cells || p.Battery.Years <= 0):
		s.fail("battery", "a battery part doesn't say which cells it takes and how long they last", "battery: {cell: AAA, count: 2, years: 2}")
	case p.Supply != "battery" && p.Battery.Cell != "" && p.Kind != CellKind:
		s.fail("battery", "the part has cells but its supply is not battery", "supply: battery, or no battery")
	case len(p.Does) > 0 && (p.Supply == "" || p.Supply == "none"):
		s.fail("supply", "the part does something but nothing powers it", "supply: mains, battery or low voltage")
	case p.Kind == CellKind && !cells:
		s.fail("battery", "a battery cell doesn't say its size", "battery: {cell: AAA, count: 1}")
	}
}

// quiet abilities need no radio of the part's own.
func quiet(a Ability) bool { return a == Host || a == Speak }

func (p *Part) checkRadio(s spot) {
	speaks := slices.ContainsFunc(p.Does, func(a Ability) bool { return !quiet(a) })
	switch {
	case speaks && p.Radio == "":
		s.fail("does", "the part does something that rules see or move, but has no radio", "radio: zigbee, thread, wifi, ble or wired")
	case p.Radio == "wired" && p.Supply == "battery":
		s.fail("radio", "a wired part runs on a battery", "its cable can feed it: supply: low voltage")
	case p.Repeats && (p.Radio == "wifi" || p.Radio == "wired" || p.Radio == ""):
		s.fail("repeats", "the part repeats, but its radio has no repeaters", "zigbee, thread and ble have them")
	case p.Repeats && p.Supply == "battery":
		s.fail("repeats", "the part repeats and runs on a battery", "a repeater listens always; feed it from the mains or low voltage")
	case p.Can(Repeat) && !p.Repeats:
		s.fail("does", "the part is there to repeat but says nowhere that it repeats", "repeats: yes")
	}
}

// moves are the abilities of what a rule can set.
var moves = []Ability{SwitchLamp, DimLamp, TuneLamp, SwitchFan, CutPlug, CutFixed, Sound, ShutWater}

// rated says what load a switching ability needs a rating for.
var rated = map[Ability]LoadKind{SwitchLamp: LED, DimLamp: LED, SwitchFan: Motor, CutPlug: Resistive, CutFixed: Resistive}

func (p *Part) checkLoads(s spot) {
	if slices.ContainsFunc(p.Does, func(a Ability) bool { return slices.Contains(moves, a) }) {
		if p.Behaviour.Orders == "" {
			s.fail("behaviour", "the part doesn't say how it takes orders", "orders: set or toggle")
		}
		if p.Behaviour.PowerUp == "" {
			s.fail("behaviour", "the part doesn't say what it does when the mains come back", "power_up: off, on or last")
		}
	}
	for _, kind := range sorted(p.Ratings) {
		if kind != LED && kind != Motor && kind != Resistive {
			s.fail("ratings", reading.Quote(string(kind))+" is not a kind of load", "accepted: led, motor, resistive")
		} else if p.Ratings[kind] <= 0 || p.LeastLoad >= p.Ratings[kind] {
			s.fail("ratings", "the rating for "+string(kind)+" loads is not above the least load", "leave out a kind of load that it must not switch")
		}
	}
	for _, a := range p.Does {
		if kind, ok := rated[a]; ok && !p.isLamp() && p.Ratings[kind] == 0 {
			s.fail("ratings", "the part can "+string(a)+" but has no rating for "+string(kind)+" loads", "ratings: {"+string(kind)+": 100 W}")
		}
	}
	if p.Place == "box" && p.Supply == "mains" && len(p.Does) > 0 {
		if p.Neutral == "" {
			s.fail("place", "the part goes into a box and doesn't say whether it needs a neutral", "neutral: needed or not needed")
		}
		if p.Depth <= 0 {
			s.fail("place", "the part goes into a box and doesn't say how deep it is", "depth: 18 mm")
		}
		if p.Caution == "" {
			s.fail("place", "the part is wired to the mains without a caution", "caution: mains")
		}
	}
}

// isLamp reports whether the part is itself what shines.
func (p *Part) isLamp() bool { return p.Place == "lamp" || p.Place == "fitting" }

func (p *Part) checkLamp(s spot) {
	lit := p.Dimmable || p.isLamp() && (p.Can(SwitchLamp) || p.Can(DimLamp) || p.Can(TuneLamp))
	if lit && (p.Base == "" || p.Flux <= 0) {
		s.fail("place", "a lamp doesn't say its base and its light", "base: E27 and flux: 806 lm; base: integrated where there is none")
	}
	if p.Can(TuneLamp) && !p.Can(DimLamp) || p.Can(DimLamp) && !p.Can(SwitchLamp) {
		s.fail("does", "the part lists less than it can", "what tunes lamps also dims them, and what dims them also switches them")
	}
	if p.Can(SenseStill) && !p.Can(SenseMotion) {
		s.fail("does", "the part sees still people but doesn't list that it sees moving ones", "does: [sense still people, sense motion]")
	}
}

func (p *Part) checkKeys(s spot) {
	if p.Can(Press) != (len(p.Presses) > 0) {
		s.fail("does", "presses go with the ability to press, and the other way round", "does: [press] with presses: [press, double, hold]")
	}
	if len(p.Presses) > 0 && !slices.Contains(p.Presses, "press") {
		s.fail("presses", "a button that doesn't know a plain press", "presses: [press]")
	}
}

func (p *Part) checkHost(s spot) {
	host, speak := p.Can(Host), p.Can(Speak)
	if !host && !speak {
		if len(p.Host.Radios) > 0 || p.Host.Limits != "" || len(p.Host.Children) > 0 {
			s.fail("host", "the part neither hosts rules nor adds a radio", "does: [host rules] or [add radio], or no host")
		}
		return
	}
	if len(p.Host.Radios) == 0 {
		s.fail("host", "the part doesn't say which radios it brings", "host: {radios: [zigbee], children: {zigbee: 32}}")
	}
	for _, r := range p.Host.Radios {
		if p.Host.Children[r] <= 0 {
			s.fail("host", "the part doesn't say how many devices it takes on "+r, "children: {"+r+": 32}")
		}
	}
	for _, r := range sorted(p.Host.Children) {
		if !slices.Contains(p.Host.Radios, r) {
			s.fail("host", "children are named for "+reading.Quote(r)+", which is not among its radios", "radios: "+strings.Join(p.Host.Radios, ", "))
		}
	}
	if host && p.Host.Limits == "" {
		s.fail("host", "a controller doesn't say what it can't do", "limits: the name of a set of limits")
	}
	if !host && p.Host.Limits != "" {
		s.fail("host", "only what hosts rules has limits", "remove limits")
	}
}

// comesWithItself follows what comes with a part back to the part.
func (k *checker) comesWithItself(id string, p *Part, seen map[string]bool) bool {
	for _, x := range p.Also {
		if x.Part == id {
			return true
		}
		if other, ok := k.Part(x.Part); ok && !seen[x.Part] {
			seen[x.Part] = true
			if k.comesWithItself(id, &other, seen) {
				return true
			}
		}
	}
	return false
}

// isIngress knows IEC 60529 codes of two digits.
func isIngress(s string) bool {
	return len(s) == 4 && strings.HasPrefix(s, "IP") && s[2] >= '0' && s[2] <= '6' && s[3] >= '0' && s[3] <= '9'
}

// sorted lists a map's keys in order, so that problems come in one order too.
func sorted[K ~string, V any](m map[K]V) []K {
	keys := make([]K, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
