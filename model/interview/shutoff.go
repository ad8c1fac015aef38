package interview

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

// HeatCaution goes with every appliance that gets hot.
const HeatCaution = "It only ever goes off by itself. Switching it on stays with a person in the room, also after a power cut."

// shutoffAsks are about appliances that go off by themselves. What must stay on is never offered.
func (s *scope) shutoffAsks() {
	var choices []Choice
	var def, now []string
	heats := false
	for _, a := range s.room.Appliances {
		if a.MustStayOn || MustStayOn(a.Kind) {
			continue
		}
		known, _ := applianceOf(a.Kind)
		note := ""
		if known.Off != "" {
			note = "usually " + known.Off
			def = append(def, a.ID)
		}
		heats = heats || known.Heats
		choices = append(choices, Choice{Label: applianceName(a), Value: a.ID, Note: note})
	}
	if len(choices) == 0 {
		return
	}
	goal := s.room.Brief.Shutoff
	for _, x := range goal.Want {
		now = append(now, x.Appliance)
	}
	choices = keyed(choices, "")
	s.whichAsk(choices, def, now, heats, goal)
	for i, x := range goal.Want {
		a := s.appliance(x.Appliance)
		if a.MustStayOn || MustStayOn(a.Kind) {
			continue
		}
		s.oneShutoff(i, x, a)
	}
}

func (s *scope) appliance(id string) model.Appliance {
	for _, a := range s.room.Appliances {
		if a.ID == id {
			return a
		}
	}
	return model.Appliance{ID: id}
}

func (s *scope) whichAsk(choices []Choice, def, now []string, heats bool, goal model.Goal[[]model.Shutoff]) {
	path := s.base + "/brief/shutoff"
	answer := labels(choices, now)
	if goal.State == model.Declined || len(now) == 0 {
		now, answer = []string{"none"}, "none of them"
	}
	qn := Question{
		Chapter: Appliances, Path: path, Kind: Several, Choices: choices, Ask: "Which of these should go off by themselves when forgotten?",
		Why:     "What is cut off can spoil work or start again cold; what isn't can burn. Say none to leave them all to people.",
		Default: noneIf(def, ", "), DefaultAs: noneIf([]string{labels(choices, def)}[:min(len(def), 1)], ""), Now: strings.Join(now, ", "), Answer: answer,
	}
	if heats {
		qn.Caution = "Heating appliances only ever go off by themselves; a person in the room switches them on."
	}
	s.add(ask{Question: qn, write: func(t string) ([]projectfile.Edit, error) {
		picked, more := pickSeveral(choices, t)
		if len(more) > 0 {
			if MustStayOn(more[0]) {
				return nil, fmt.Errorf("%q must stay on and gets no shut-off; accepted: %s, all or none", more[0], offer(choices))
			}
			return nil, fmt.Errorf("%q is no appliance of this room that may go off; accepted: %s, all or none", more[0], offer(choices))
		}
		return s.writeShutoff(path, values(picked), goal.Want), nil
	}})
}

// writeShutoff keeps what is set for those that stay, adds the new ones and takes the others away.
func (s *scope) writeShutoff(path string, ids []string, had []model.Shutoff) []projectfile.Edit {
	if len(ids) == 0 {
		return []projectfile.Edit{projectfile.Set(path, "none")}
	}
	want, there := map[string]bool{}, map[string]bool{}
	for _, id := range ids {
		want[id] = true
	}
	var out []projectfile.Edit
	for i := len(had) - 1; i >= 0; i-- {
		there[had[i].Appliance] = true
		if !want[had[i].Appliance] {
			out = append(out, projectfile.Remove(path+"/"+strconv.Itoa(i)))
		}
	}
	var fresh []item
	for _, id := range ids {
		if !there[id] {
			fresh = append(fresh, item{fields: []field{{"appliance", projectfile.Quote(id)}}})
		}
	}
	if len(had) == 0 {
		return []projectfile.Edit{projectfile.Set(path, blockOf(fresh))}
	}
	var adds []projectfile.Edit
	for _, it := range fresh {
		adds = append(adds, projectfile.Append(path, it.inline()))
	}
	return append(adds, out...)
}

// oneShutoff asks how one appliance goes off.
func (s *scope) oneShutoff(i int, x model.Shutoff, a model.Appliance) {
	base := s.base + "/brief/shutoff/" + strconv.Itoa(i)
	name := applianceName(a)
	known, _ := applianceOf(a.Kind)
	id := "shutoff/" + x.Appliance
	caution := ""
	if known.Heats {
		caution = HeatCaution
	}
	def := known.Off
	if def == "" {
		def = "2h"
	}
	s.add(ask{
		Question: Question{
			ID: id + "/when", Chapter: Appliances, Path: base + "/after", Kind: Text, Unit: "min", Ask: "When should the " + name + " go off?",
			Why:     "After its longest time on, when it has stood idle, or whichever comes first. A thermostat rests between bursts, so idle needs minutes.",
			Default: def, Example: "25m or idle under 20 W for 8m", Now: offText(x), Caution: caution,
		},
		done:  func() bool { return s.d.Has(base+"/after") || s.d.Has(base+"/idle") },
		write: func(t string) ([]projectfile.Edit, error) { return s.writeOff(base, t) },
	})
	s.warnAsk(base, id, name, known, x)
	choices := yesOrNo("the full time again", "it just goes off")
	s.add(ask{
		Question: Question{
			ID: id + "/extend", Chapter: Appliances, Path: base + "/extend", Kind: YesNo, Choices: choices, Ask: "Should a button give the " + name + " its full time again?",
			Why:     "Whoever is still using it presses once, and loses nothing.",
			Default: "yes", Now: map[string]string{"button": "yes", "no": "no"}[x.Extend],
		},
		write: func(t string) ([]projectfile.Edit, error) {
			yes, err := yesNo(t)
			if err != nil {
				return nil, err
			}
			return []projectfile.Edit{projectfile.Set(base+"/extend", map[bool]string{true: "button", false: `"no"`}[yes])}, nil
		},
	})
	n := len(s.asks)
	s.tellAsk(Appliances, strings.TrimPrefix(base, s.base+"/")+"/tell", "Who should be told that the "+name+" was cut off?", "So that nobody wonders why it is cold.", x.Tell, true)
	if len(s.asks) > n {
		s.asks[n].ID = id + "/tell"
	}
}

func (s *scope) warnAsk(base, id, name string, known applianceKind, x model.Shutoff) {
	what := id + "/warn"
	def := known.Warn
	if def == "" {
		def = "5m"
	}
	s.add(ask{
		Question: Question{
			ID: id + "/warn", Chapter: Appliances, Path: base + "/warn", Kind: Amount, Unit: "min", Ask: "How long before should the " + name + " be warned of?",
			Why:     "A short sound or blink gives the user time to press. Say no for none.",
			Default: def, Example: "3 min", Now: shown(x.Warn > 0, x.Warn.String()), Answer: shown(x.Warn > 0, x.Warn.Show(s.sys)+" before"),
		},
		declined: what,
		write: func(t string) ([]projectfile.Edit, error) {
			if isNone(t) {
				return s.decline(what, base+"/warn"), nil
			}
			most := q.Span(time.Hour)
			if x.After > 0 && x.After/2 < most {
				most = x.After / 2
			}
			_, written, err := span(t, "min", q.Span(5*time.Second), most)
			if err != nil {
				return nil, err
			}
			return s.want(what, base+"/warn", written), nil
		},
	})
}

func offText(x model.Shutoff) string {
	var parts []string
	if x.After > 0 {
		parts = append(parts, x.After.String())
	}
	if x.Idle.For > 0 {
		parts = append(parts, "idle under "+x.Idle.Below.String()+" for "+x.Idle.For.String())
	}
	return strings.Join(parts, " or ")
}

// writeOff reads "25m or idle under 20 W for 8m"; either half alone will do.
func (s *scope) writeOff(base, text string) ([]projectfile.Edit, error) {
	bad := fmt.Errorf("%q is not when it should go off; write a time on, an idle level with a time, or both, as in 25m or idle under 20 W for 8m", text)
	head, idle, has := strings.Cut(strings.ToLower(text), "idle")
	head = strings.TrimSpace(strings.TrimPrefix(fold(strings.NewReplacer(",", " ", ";", " ", " or", " ", "when", " ").Replace(head+" ")), "after "))
	var out []projectfile.Edit
	if head != "" {
		_, written, err := span(head, "min", q.Span(30*time.Second), q.Span(24*time.Hour))
		if err != nil {
			return nil, bad
		}
		out = append(out, projectfile.Set(base+"/after", written))
	} else if s.d.Has(base + "/after") {
		out = append(out, projectfile.Remove(base+"/after"))
	}
	if !has {
		if head == "" {
			return nil, bad
		}
		if s.d.Has(base + "/idle") {
			out = append(out, projectfile.Remove(base+"/idle"))
		}
		return out, nil
	}
	power, long, ok := strings.Cut(strings.NewReplacer("under", "", "below", "", "less than", "").Replace(idle), "for")
	if !ok {
		return nil, bad
	}
	below, writtenBelow, err := figure[q.Power](power, "W")
	if err != nil || below <= 0 || below > 2000 {
		return nil, bad
	}
	_, writtenFor, err := span(long, "min", q.Span(10*time.Second), q.Span(12*time.Hour))
	if err != nil {
		return nil, bad
	}
	return append(out, projectfile.Set(base+"/idle", "{below: "+writtenBelow+", for: "+writtenFor+"}")), nil
}
