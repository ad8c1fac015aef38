package bill

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/physics"
)

// SwitchBack is how much of a box's depth the switch in front of an in-box part takes, with its
// conductors, in metres. A part that replaces the switch has the whole depth.
const SwitchBack = 0.015

// Worst cases for a box that nobody has opened, in metres: the shallowest in common use for switches
// (25 mm on 230 V; 1 1/2 in on 120 V).
const (
	shallow230 = 0.025
	shallow120 = 0.038
)

// spot is a need with what its group has to know.
type spot struct {
	needs.Need
	needs.Facts
	order  int     // in the needs
	key    string  // spots with one key may share a part
	sig    string  // everything that decides which parts serve it
	forced string  // part that the project says to use
	spacer float64 // metres that a spacer adds to the switch box
}

// serving is a way for one article to serve one spot.
type serving struct {
	*article
	n      int     // how many of the article, when it serves this spot alone
	extras []extra // for this spot: lamps, a guard for the wall switch
	rank   int     // in the spot's wants
}

// refusal says why an article can't serve a spot.
type refusal struct {
	text    string // "needs a neutral, and the box has none"
	remedy  string // "" when there is none
	assumed *unknown
	who     *article // of the first refusal
}

// unknown is a fact that nobody knows, and the worst case that it is taken for.
type unknown struct{ fact, asked, as string }

func worst(fact, asked, as string) *unknown { return &unknown{fact, asked, as} }

// served is what servings found for spots alike.
type served struct {
	all     []serving
	near    []refusal
	assumed []unknown
}

// served remembers the servings of a spot with a spacer in its box, nil for none.
func (s *shelf) served(sp spot, spacer *article, spoken int) *served {
	key := sp.sig
	if spacer != nil {
		key += spacer.ID
		sp.spacer = float64(spacer.Depth)
	}
	if known := s.known[key]; known != nil {
		return known
	}
	var r served
	r.all, r.near, r.assumed = s.servings(sp, spoken)
	s.known[key] = &r
	return &r
}

// usefulSpacers lists the spacers that change what serves a group in any way, after nil for none.
func (s *shelf) usefulSpacers(g *group, spoken int) []*article {
	useful := []*article{nil}
	for _, spacer := range s.spacers {
		for _, t := range g.types {
			if family(firstWant(t.spots[0])) != inBox {
				continue
			}
			if with, plain := s.served(t.spots[0], spacer, spoken), s.served(t.spots[0], nil, spoken); !sameServings(with.all, plain.all) {
				useful = append(useful, spacer)
				break
			}
		}
	}
	return useful
}

func sameServings(a, b []serving) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].article != b[i].article || a[i].rank != b[i].rank || !slices.Equal(a[i].extras, b[i].extras) {
			return false
		}
	}
	return true
}

// servings finds every article that serves the spot with the best want that can be served. With none,
// near says what stood in the way of the article that came closest. Assumed are the unknown facts that
// shut an article out, or made it dearer.
func (s *shelf) servings(sp spot, spoken int) (all []serving, near []refusal, assumed []unknown) {
	for rank, want := range sp.Wants {
		closest := near
		for _, a := range s.articles {
			if !does(a.Part, want) || sp.forced != "" && a.ID != sp.forced {
				continue
			}
			v, ok, why := s.serve(a, sp, want, spoken)
			assumed = append(assumed, onlyAssumed(why)...)
			if ok {
				v.rank = rank
				all = append(all, v)
			} else if closest == nil || len(why) < len(closest) {
				closest = why
				closest[0].who = a
			}
		}
		if len(all) > 0 {
			break // near is of the wants before this one
		}
		near = closest
	}
	return all, near, assumed
}

// onlyAssumed gives the assumptions behind refusals when nothing else stands in the way: then
// finding out the fact may change the bill.
func onlyAssumed(why []refusal) []unknown {
	var as []unknown
	for _, w := range why {
		if w.assumed == nil {
			return nil
		}
		as = append(as, *w.assumed)
	}
	return as
}

// serve says whether an article serves a spot, and how. When it does, why holds unknown facts that make
// it dearer; when it doesn't, everything that stands in the way.
func (s *shelf) serve(a *article, sp spot, want catalogue.Ability, spoken int) (v serving, ok bool, why []refusal) {
	v = serving{article: a, n: 1}
	refuse := func(text, remedy string) { why = append(why, refusal{text: text, remedy: remedy}) }
	if a.avoided && sp.forced == "" {
		refuse("is on the list of parts to avoid", "take it off choices/avoid")
	}
	if a.lacks != "" {
		refuse("needs "+a.lacks+", which the shelf hasn't got at a price in "+s.currency, "")
	}
	if a.slots.kit()&^spoken != 0 {
		refuse("speaks "+RadioName(a.Radio)+", and no controller here can", "add a controller that speaks it")
	}
	if !s.forMains(a) {
		refuse(fmt.Sprintf("isn't made for %.0f V", s.volts), "")
	}
	switch want {
	case catalogue.SwitchLamp, catalogue.DimLamp, catalogue.TuneLamp:
		lamp, more := s.serveLamps(&v, sp, want)
		if lamp && len(why) == 0 {
			return v, true, more
		}
		return v, false, append(why, more...)
	case catalogue.SwitchFan:
		why = append(why, s.boxed(a, sp)...)
		why = append(why, s.carries(a, sp.Load, loadKind(sp, want))...)
	case catalogue.CutPlug, catalogue.CutFixed:
		if sp.ComesOff && a.Behaviour.PowerUp != "off" {
			refuse("may come on again after a power cut, and this heats with nobody there", "")
		}
		why = append(why, s.carries(a, sp.Load, loadKind(sp, want))...)
		why = append(why, sealed(a, sp)...)
	case catalogue.Press:
		for _, p := range sp.Presses {
			if !listed(a.Presses, p) {
				refuse("doesn't know the press \""+p+"\"", "ask for fewer kinds of press")
			}
		}
		why = append(why, sealed(a, sp)...)
	case catalogue.ShutWater:
		why = append(why, s.fits(a, sp)...)
		why = append(why, slow(a, sp)...)
	case catalogue.SenseMotion:
		if most := sp.Blind; most > 0 && a.Behaviour.Blind > most {
			refuse("is blind for "+a.Behaviour.Blind.String()+" after each report, and the rules reckon with "+most.String()+" at most", "allow it so long with choices/blind")
		}
		why = append(why, sealed(a, sp)...)
	case catalogue.SenseHumidity, catalogue.SenseWet:
		why = append(why, sealed(a, sp)...)
		why = append(why, slow(a, sp)...)
	default:
		why = append(why, sealed(a, sp)...)
	}
	return v, len(why) == 0, why
}

// slow says that a part takes longer to tell, or to act, than the brief gives for all that follows from it. A reading that
// changes by less than the part's step waits for its next report, a reading that changes by more only for its radio; the
// worst counts. This keeps out parts with which that can't do alone; the proof adds up what all of them on the way take.
func slow(a *article, sp spot) []refusal {
	takes := a.Behaviour.Every + a.Behaviour.Latency
	if sp.Soon == 0 || takes <= sp.Soon {
		return nil
	}
	return []refusal{{text: "may take " + takes.String() + ", and the brief gives " + sp.Soon.String(), remedy: "give it more time in the brief"}}
}

// forMains reports whether a part works on the home's mains: within a tenth of what it is made for.
func (s *shelf) forMains(a *article) bool {
	if len(a.Mains) == 0 {
		return true
	}
	for _, m := range a.Mains {
		if d := float64(m) - s.volts; d <= s.volts/10 && -d <= s.volts/10 {
			return true
		}
	}
	return false
}

// boxed says what keeps a part out of the spot's switch box. What nobody has looked at is taken for
// the worst: no neutral, a shallow box.
func (s *shelf) boxed(a *article, sp spot) (why []refusal) {
	if a.Place == "rail" && sp.forced == "" {
		return []refusal{{text: "sits in the consumer unit, and nothing says that this circuit comes there by itself",
			remedy: "if it does, choose the part with choices/use"}}
	}
	if a.Place != "box" {
		return nil
	}
	if a.Neutral == "needed" {
		has, known := sp.Neutral.Get()
		switch {
		case !known:
			why = append(why, refusal{text: "needs a neutral, and nobody has looked for one in the box",
				remedy:  "look for a neutral in the box",
				assumed: worst("neutral", "whether the switch box has a neutral", "no neutral"),
			})
		case !has:
			why = append(why, refusal{text: "needs a neutral, and the box has none", remedy: "have a neutral brought to the box"})
		}
	}
	takes := a.takes() - sp.spacer
	depth, known := sp.Depth.Get()
	if known && takes > float64(depth)+1e-9 {
		why = append(why, refusal{text: fmt.Sprintf("takes a box %s deep, and this one is %s", s.small(takes), s.small(float64(depth))),
			remedy: "fit a box at least " + s.small(takes) + " deep"})
	}
	if known && len(why) == 0 && s.volts < 200 {
		why = append(why, s.filled(a, sp, float64(depth)+sp.spacer)...)
	}
	shallow := shallow230
	if s.volts < 200 {
		shallow = shallow120
	}
	if !known && takes > shallow+1e-9 {
		why = append(why, refusal{text: fmt.Sprintf("takes a box %s deep, and nobody has measured this one", s.small(takes)),
			remedy:  fmt.Sprintf("measure the box: from %s it would fit", s.small(takes)),
			assumed: worst("depth", "how deep the switch box is", s.small(shallow)),
		})
	}
	return why
}

// takes is the depth of box that a part needs behind the switch, or in its stead, in metres.
func (a *article) takes() float64 {
	if a.Depth > 0 && !strings.HasPrefix(a.Kind, "switch") {
		return float64(a.Depth) + SwitchBack
	}
	return float64(a.Depth)
}

// mostGangs is more gangs than a box of a home has.
const mostGangs = 8

// filledFrom are the depths, in metres, from which boxes have the volume that they must.
func (s *shelf) filledFrom() (out []float64) {
	for gangs := 1; s.volts < 200 && gangs <= mostGangs; gangs++ {
		for _, k := range [][2]bool{{}, {true, false}, {false, true}, {true, true}} {
			if f, err := physics.BoxFill(gangs, k[0], k[1], 0); err == nil {
				out = append(out, f.Deep)
			}
		}
	}
	return out
}

// filled says whether a box of known depth has room for a part by the volumes that the code of 120 V countries counts.
func (s *shelf) filled(a *article, sp spot, depth float64) []refusal {
	has, known := sp.Neutral.Get()
	f, err := physics.BoxFill(sp.Gangs, has || !known, !strings.HasPrefix(a.Kind, "switch"), depth)
	if err != nil || f.OK {
		return nil
	}
	return []refusal{{text: fmt.Sprintf("would fill the box to %.1f in³ of the code's count, and at its depth it has about %.1f in³", f.Needs, f.Has),
		remedy: "fit a box at least " + s.small(f.Deep) + " deep, or read the volume marked in this one"}}
}

// carries says what is wrong between a part's ratings and a load. A part without ratings of its own may
// come with one that has them, as a meter does with a contactor. A load that nobody noted is carried by
// whatever is rated for its kind.
func (s *shelf) carries(a *article, load q.Power, kind catalogue.LoadKind) []refusal {
	part := *a.Part
	for _, x := range a.with {
		if len(part.Ratings) == 0 {
			part.Ratings = x.Ratings
		}
	}
	held, err := physics.Hold(s.volts, part, max(load, slight), kind)
	if err != nil {
		return []refusal{{text: "can't be held against this load: " + err.Error()}}
	}
	if held.OK || load <= 0 && held.VA <= float64(held.Most) {
		return nil
	}
	return []refusal{{text: held.Why, remedy: held.Do}}
}

// slight stands for a load that nobody noted, in W.
const slight = 0.001

func watts(p q.Power) string { return strconv.FormatFloat(float64(p), 'f', -1, 64) + " W" }

func loadKind(sp spot, want catalogue.Ability) catalogue.LoadKind {
	switch {
	case sp.LoadKind != "":
		return sp.LoadKind
	case want == catalogue.SwitchFan:
		return catalogue.Motor
	case want == catalogue.CutPlug || want == catalogue.CutFixed:
		return catalogue.Resistive
	}
	return catalogue.LED
}

// small shows a length of the size of boxes and pipes.
func (s *shelf) small(metres float64) string {
	if s.us {
		return fmt.Sprintf("%.2f in", metres/0.0254)
	}
	return fmt.Sprintf("%.0f mm", metres*1000)
}

// sealed says whether a part's ingress class is short of the spot's (IEC 60529: both digits count), or its supply
// is none for a basin or tub.
func sealed(a *article, sp spot) (why []refusal) {
	place, move := "the place", "find a place outside the wet zones"
	if sp.Zone != "" {
		place, move = "zone "+sp.Zone, "move it out of zone "+sp.Zone
	}
	if sp.Zone == "0" && a.Supply == "mains" {
		why = append(why, refusal{text: "runs on the mains, and in zone 0 nothing may be but parts of 12 V or less", remedy: move})
	}
	solids, water := ingress(sp.Ingress)
	s, w := ingress(a.Ingress)
	if s >= solids && w >= water {
		return why
	}
	has := "is of ingress class " + a.Ingress
	if a.Ingress == "" {
		has = "states no ingress class"
	}
	return append(why, refusal{text: has + ", and " + place + " asks for " + sp.Ingress, remedy: move + ", or take a sealed part"})
}

// ingress reads IP44 as 4 and 4; X counts as 0.
func ingress(code string) (solids, water int) {
	code = strings.TrimPrefix(strings.ToUpper(code), "IP")
	digit := func(i int) int {
		if i < len(code) && code[i] >= '0' && code[i] <= '9' {
			return int(code[i] - '0')
		}
		return 0
	}
	return digit(0), digit(1)
}

// fits says whether a valve fits a pipe. A pipe that nobody has measured is taken for the largest that
// the shelf has a valve for, unless the valve fits any.
func (s *shelf) fits(a *article, sp spot) []refusal {
	pipe, known := sp.Pipe.Get()
	size := float64(a.Pipe)
	if size == 0 {
		return nil
	}
	if known {
		if d := size - float64(pipe); d < 0.0008 && d > -0.0008 {
			return nil
		}
		return []refusal{{text: fmt.Sprintf("fits a %s pipe, and this one is %s", s.small(size), s.small(float64(pipe)))}}
	}
	largest := size
	for _, o := range s.articles {
		if does(o.Part, catalogue.ShutWater) && !o.avoided {
			largest = max(largest, float64(o.Pipe))
		}
	}
	if size < largest {
		return []refusal{{text: fmt.Sprintf("fits a %s pipe, and nobody has measured this one", s.small(size)),
			remedy:  "measure the pipe",
			assumed: worst("pipe", "how thick the pipe is", s.small(largest)),
		}}
	}
	return nil
}

func listed(list []string, x string) bool {
	for _, y := range list {
		if y == x {
			return true
		}
	}
	return false
}

// RadioName is a radio's name to print.
func RadioName(r string) string { return catalogue.RadioName(r) }
