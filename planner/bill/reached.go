package bill

import (
	"fmt"
	"math"
	"slices"

	"example.org/roombrief/model/english"
	"example.org/roombrief/planner/site"
)

// addRepeaters puts the repeaters on their lines, with what they carry, and says what the routes lean on.
func (w *writer) addRepeaters() {
	k := w.h.routed
	if k == nil {
		w.unplaced()
		return
	}
	r := w.h.router
	for i, a := range k.added {
		room := r.rooms[a.room]
		without := r.listen(k.taken, slices.Delete(slices.Clone(k.added), i, i+1), k.hosts, k.hosted)
		var covered []*spot
		straight, by, wanted := math.Inf(1), math.Inf(1), site.UsualMargin
		for _, l := range without.missingOn(a.radio) {
			if slices.Contains(k.given, repeaterAt{l.room, l.radio}) {
				continue
			}
			covered = append(covered, w.onAir(l)...)
			if l.alarm {
				wanted = site.AlarmMargin
			}
			best := math.Inf(-1)
			for _, c := range without.speak[l.radio] {
				best = max(best, r.over(l.room, c, l.radio))
			}
			straight, by = min(straight, best), min(by, k.heard.best(l.room, l.radio))
		}
		article := k.passed[i]
		w.bill.Devices = append(w.bill.Devices, Device{ID: room + "/" + article.ID, Part: article.ID, Room: room, Covers: []string{}})
		e := w.add(room, article, 1, itself, nil, covered)
		e.repeater = true
		e.carries = fmt.Sprintf("Carries %s to a controller: %s to spare on the way to what hears it, where straight to a controller it is %s, and %.0f dB are wanted.",
			named(covered), spare(by), spare(straight), wanted)
	}
	w.routesSay()
}

// onAir lists the spots of a room that a way on a radio covers, or only the alarms among them.
func (w *writer) onAir(l lost) (all []*spot) {
	for g, room := range w.h.router.room {
		pt := w.taken[g]
		if room != l.room || pt.slots[l.radio] == 0 || l.alarm && pt.alarms()>>l.radio&1 == 0 {
			continue
		}
		for t := range w.h.groups[g].types {
			ty := &w.h.groups[g].types[t]
			for i := range ty.spots {
				if ty.best != unserved {
					all = append(all, &ty.spots[i])
				}
			}
		}
	}
	return all
}

// best is the most that a room's messages have to spare on their first way: to a controller, or to what passes them on.
func (h *hearing) best(room, radio int) float64 {
	best := math.Inf(-1)
	for _, c := range h.speak[radio] {
		best = max(best, h.net.over(room, c, radio))
	}
	for q, passes := range h.routers[radio] {
		if passes {
			best = max(best, h.net.over(room, q, radio))
		}
	}
	return best
}

func spare(db float64) string {
	if db < 0 {
		return "out of hearing"
	}
	return fmt.Sprintf("%.0f dB", math.Floor(db))
}

func named(spots []*spot) string {
	var names []string
	for _, sp := range spots {
		if len(names) < 3 {
			names = append(names, sp.Name)
		}
	}
	if n := len(spots) - len(names); n > 0 {
		names = append(names, itoa(n)+" more")
	}
	return english.List(names)
}

// routesSay says what the routes lean on, and which devices stay out of reach.
func (w *writer) routesSay() {
	k, r := w.h.routed, w.h.router
	say := func(at, asked, as, text string, args ...any) {
		w.bill.Assumed = append(w.bill.Assumed, Assumption{At: at, Asked: asked, As: as, Text: fmt.Sprintf(text, args...)})
	}
	var bare []string
	wifi := false
	for g, pt := range w.taken {
		on := pt.slots.kit() &^ (1 << radioOf("wired"))
		if id := w.h.groups[g].room; on != 0 && r.room[g] < 0 && id != "" && !slices.Contains(bare, id) {
			bare = append(bare, id)
		}
		wifi = wifi || r.room[g] >= 0 && pt.slots[radioOf("wifi")] > 0
	}
	if len(bare) > 0 {
		var names []string
		for _, id := range bare {
			name := id
			if room, ok := w.p.Room(id); ok {
				name = room.Title()
			}
			names = append(names, name)
		}
		say("rooms/"+bare[0]+"/outline", "whether radio reaches rooms without an outline", "in reach", "No outline is noted for %s, so what is there is taken to be in reach of a controller; draw it to be sure.", english.Few(names, "rooms"))
	}
	if !r.ether.WallsKnown() {
		say("home/walls", "what the inner walls are made of", "concrete", "Nobody noted what the inner walls are made of, so radio is reckoned through concrete; note it, and fewer repeaters may do.")
	}
	if wifi {
		say("controllers", "where Wi-Fi comes from", "where the controllers are", "Wi-Fi is taken to come from where the controllers are; try it where devices go.")
	}
	if k.open.any {
		say("rooms", "whether other routes for radio are better", "no", "%s", k.open.says(w.h.wish, w.h.sh.currency))
	}
	switch w.h.reaching() {
	case unrouted:
		say("rooms", "whether next best parts are in reach", "yes", "This home is so large that next best parts are reckoned as if all were in reach; plan with one of them to be sure.")
	case kept:
		say("rooms", "whether next best parts have better routes for radio", "no", "Next best parts are reckoned with this bill's routes for radio; with routes of their own they may cost a little less.")
	}
}

// unplaced says that nothing is known of reach where rooms are drawn and no controller has a place in them.
func (w *writer) unplaced() {
	drawn, radio := false, false
	for _, r := range w.p.Rooms {
		drawn = drawn || r.Outline.Width > 0 && r.Outline.Depth > 0
	}
	for _, pt := range w.taken {
		radio = radio || pt.slots.kit()&^(1<<radioOf("wired")) != 0
	}
	if drawn && radio && len(w.sol.hosted.seated) > 0 {
		w.bill.Assumed = append(w.bill.Assumed, Assumption{At: "controllers", Asked: "where a controller stands", As: "in reach of all",
			Text: "Nobody noted where a controller stands, so every device is taken to be in reach of it; note its room to be sure."})
	}
}

// outOfReach are needs whose devices no controller hears.
func (w *writer) outOfReach() {
	k, r := w.h.routed, w.h.router
	if k == nil {
		return
	}
	for _, l := range k.heard.missing() {
		if !slices.Contains(k.given, repeaterAt{l.room, l.radio}) {
			continue
		}
		best := math.Inf(-1)
		for _, c := range k.heard.speak[l.radio] {
			best = max(best, r.over(l.room, c, l.radio))
		}
		least := site.UsualMargin
		if l.alarm {
			least = site.AlarmMargin
		}
		reason := fmt.Sprintf("On %s a controller hears it with %s to spare, and %.0f dB are wanted.", RadioName(Radios[l.radio]), spare(best), least)
		if best < 0 {
			reason = fmt.Sprintf("On %s it is out of hearing of every controller, and %.0f dB to spare are wanted.", RadioName(Radios[l.radio]), least)
		}
		for _, sp := range w.onAir(l) {
			w.bill.Unmet = append(w.bill.Unmet, Unmet{Need: sp.ID, Asked: "is in reach of a controller", Got: "is out of reach", Reason: reason,
				Remedy: "Bring a controller nearer, or allow parts that speak another radio or pass this one on."})
		}
	}
}

// whyReach says of a part that another would be cheaper but out of reach, or that it passes messages on; "" otherwise.
func (w *writer) whyReach(g int) string {
	k := w.h.routed
	if k == nil || k.limits[g] == (limit{}) || w.taken[g].cost == w.h.groups[g].front.points[0].cost {
		return ""
	}
	if k.limits[g].pass != 0 {
		return "it passes on the radio of devices that are out of reach of a controller"
	}
	return "the radio of cheaper ones doesn't reach a controller"
}
