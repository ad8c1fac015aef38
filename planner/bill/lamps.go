package bill

import (
	"fmt"

	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
)

// DimmerThan is how much less light a replacement may give than the lamp before it: a tenth, which
// nobody sees.
const DimmerThan = 0.10

// serveLamps fills in how an article serves a lamp circuit: an in-box relay or dimmer, or lamps that
// listen, with a guard for the wall switch that would cut them off.
func (s *shelf) serveLamps(v *serving, sp spot, want catalogue.Ability) (ok bool, why []refusal) {
	if v.Place == "lamp" || v.Place == "fitting" {
		why = append(fitsLampholder(v.article, sp), sealedFitting(v.article, sp)...)
		v.n = lampsOf(sp)
		if g := s.guard(); g != nil {
			v.extras = []extra{{g, 1}}
		}
		return len(why) == 0, why
	}
	why = s.boxed(v.article, sp)
	if !does(v.Part, catalogue.DimLamp) {
		why = append(why, s.carries(v.article, sp.Load, loadKind(sp, want))...)
		return len(why) == 0, why
	}
	lamps, asIs, lampWhy := s.lampsUnder(v.article, sp, want)
	switch {
	case asIs:
		return len(why) == 0, why
	case lamps != nil:
		v.extras = []extra{*lamps}
		if len(why) == 0 {
			return true, lampWhy
		}
		for _, w := range lampWhy {
			if w.assumed != nil {
				why = append(why, w) // were the box better, this would still matter
			}
		}
		return false, why
	}
	return false, append(why, lampWhy...)
}

// lampsUnder says which lamps a dimmer gets: those that are there, when they are known to dim, or the
// cheapest plain ones that do and that it can carry. why says what is wrong with those that are there.
func (s *shelf) lampsUnder(a *article, sp spot, want catalogue.Ability) (lamps *extra, asIs bool, why []refusal) {
	dims, known := sp.Dimmable.Get()
	switch {
	case !known:
		why = append(why, refusal{text: "dims, and nobody knows whether these lamps can be dimmed",
			remedy:  "read what is printed on a lamp",
			assumed: worst("dimmable", "whether the lamps can be dimmed", "not dimmable"),
		})
	case !dims:
		why = append(why, refusal{text: "dims, and these lamps can't be dimmed", remedy: "change the lamps"})
	}
	load := s.carries(a, sp.Load, loadKind(sp, want))
	why = append(why, load...)
	if len(why) == 0 {
		return nil, true, nil
	}
	n := lampsOf(sp)
	for _, l := range s.articles {
		if !l.Dimmable || l.slots.kit() != 0 || l.avoided || l.lacks != "" || !s.forMains(l) {
			continue
		}
		if len(fitsLampholder(l, sp))+len(sealedFitting(l, sp)) > 0 ||
			len(s.carries(a, l.Uses*q.Power(n), catalogue.LED)) > 0 {
			continue
		}
		if lamps == nil || l.cost < lamps.cost || l.cost == lamps.cost && l.count < lamps.count {
			lamps = &extra{l, n}
		}
	}
	return lamps, false, why
}

// sealedFitting asks for an ingress class only of a whole fitting: a lamp is sealed by the fitting around
// it, which stays.
func sealedFitting(a *article, sp spot) []refusal {
	if a.Place != "fitting" {
		return nil
	}
	return sealed(a, sp)
}

// fitsLampholder says what keeps a lamp or fitting from taking the place of those that are there. A
// fitting is changed only where the lamp is part of it.
func fitsLampholder(a *article, sp spot) (why []refusal) {
	built := sp.Base == "integrated"
	switch {
	case a.Place == "fitting" && !built && sp.Base != "" && sp.forced == "":
		why = append(why, refusal{text: "is a whole fitting, and here only the lamps need changing"})
	case a.Place != "fitting" && built:
		why = append(why, refusal{text: "is a lamp, and here lamp and fitting are one", remedy: "change the fitting"})
	case a.Place != "fitting" && sp.Base == "":
		why = append(why, refusal{text: "has a " + a.Base + " base, and nobody knows what the fitting takes",
			remedy:  "read the base of a lamp",
			assumed: worst("base", "which base the lamps have", "not changeable"),
		})
	case a.Place != "fitting" && a.Base != sp.Base:
		why = append(why, refusal{text: "has a " + a.Base + " base, and the fitting takes " + sp.Base})
	}
	if least := float64(sp.Flux) * (1 - DimmerThan); sp.Flux > 0 && float64(a.Flux) < least {
		why = append(why, refusal{text: fmt.Sprintf("gives %.0f lm, and the lamp there gives %.0f lm", float64(a.Flux), float64(sp.Flux))})
	}
	return why
}

// lampsOf is how many lamps the circuit has; a circuit has at least one.
func lampsOf(sp spot) int { return max(sp.Lamps, 1) }

// guard is the cheapest plate that keeps a wall switch from being used, nil when the shelf has none.
func (s *shelf) guard() *article {
	if s.guardKnown {
		return s.guardPlate
	}
	for _, a := range s.articles {
		if a.Kind == GuardKind && !a.avoided && a.lacks == "" && (s.guardPlate == nil || a.cost < s.guardPlate.cost) {
			s.guardPlate = a
		}
	}
	s.guardKnown = true
	return s.guardPlate
}

// GuardKind is the shelf's family of plates that guard a wall switch.
const GuardKind = "guard plate"
