package planner

import (
	"context"
	"fmt"
	"maps"
	"reflect"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

// Blame says which limits of a controller break a promise that is kept on one without limits.
type Blame struct {
	Promise string
	Fault   promises.Fault
	Host    string
	Limits  []string // keys; the first that alone would mend it, or all that rules of the room were changed for
	Text    string   // one sentence or more
}

// Blames compares the verdicts on what controllers run in a room with those on its ideal rules. For each promise that only the
// latter keep it looks for a limit without which it would be kept.
func (p Plan) Blames(ctx context.Context, project *model.Project, room string, fitted []proof.Verdict, o proof.Options) ([]Blame, error) {
	host := p.HostOf(room)
	if host == nil || !anyLeft(fitted) {
		return nil, nil
	}
	ideal, err := proof.Room(ctx, project, p.Placed.Timed(p.Sheet), room, o)
	if err != nil {
		return nil, err
	}
	kept := map[string]bool{}
	for _, v := range ideal {
		kept[nameOf(v)] = v.State == proof.Kept
	}
	b := blamer{plan: p, project: project, room: room, host: *host, o: o, without: map[string]map[string]bool{}}
	var out []Blame
	for _, v := range fitted {
		if v.State == proof.Kept || v.State == proof.Empty || !kept[nameOf(v)] {
			continue
		}
		one, err := b.blame(ctx, v)
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, nil
}

func anyLeft(vs []proof.Verdict) bool {
	for _, v := range vs {
		if v.State == proof.Breaks || v.State == proof.Undecided {
			return true
		}
	}
	return false
}

// nameOf tells verdicts of one room apart.
func nameOf(v proof.Verdict) string { return fmt.Sprint(v.Promise.ID, v.Fault) }

type blamer struct {
	plan    Plan
	project *model.Project
	room    string
	host    fitting.HostPlan
	o       proof.Options
	without map[string]map[string]bool // by limit: the promises that are kept without it
}

// blame looks through the limits that changed rules of the room.
func (b *blamer) blame(ctx context.Context, v proof.Verdict) (Blame, error) {
	out := Blame{Promise: v.Promise.ID, Fault: v.Fault, Host: b.host.Host}
	keys := b.plan.Felt(b.room)
	for _, k := range keys {
		kept, err := b.keptWithout(ctx, k)
		if err != nil {
			return out, err
		}
		if kept[nameOf(v)] {
			out.Limits = []string{k}
			break
		}
	}
	if out.Limits == nil {
		out.Limits = keys
	}
	out.Text = b.words(out.Limits)
	return out, nil
}

// Felt are the limits of a room's controller that changed rules of the room, in the order of the catalogue.
func (p Plan) Felt(room string) []string {
	host := p.HostOf(room)
	if host == nil {
		return nil
	}
	seen := map[string]bool{}
	for _, n := range host.Fit.Notes {
		seen[n.Limit] = seen[n.Limit] || about(n.Rule, room)
	}
	for _, l := range host.Fit.Lost {
		seen[l.Limit] = seen[l.Limit] || about(l.Rule, room)
	}
	var out []string
	for _, k := range catalogue.LimitKeys() {
		if seen[k] {
			out = append(out, k)
		}
	}
	return out
}

// about reports whether an ideal rule is a room's, or all rules are meant.
func about(rule, room string) bool {
	at, _, ok := strings.Cut(rule, "/")
	return rule == "" || !ok && room == "" || at == room
}

// keptWithout proves the room as if its controller had no such limit.
func (b *blamer) keptWithout(ctx context.Context, key string) (map[string]bool, error) {
	if known := b.without[key]; known != nil {
		return known, nil
	}
	host, _ := b.plan.Host(b.host.Host)
	host.Limits = lifted(host.Limits, key)
	placed := fitting.Place(b.own(), []fitting.Host{host}, fitting.Info{Parts: b.plan.Parts, Year: fitting.YearOf(b.project)})
	verdicts, err := proof.Room(ctx, b.project, b.beside(placed), b.room, b.o)
	if err != nil {
		return nil, err
	}
	kept := map[string]bool{}
	for _, v := range verdicts {
		kept[nameOf(v)] = v.State == proof.Kept
	}
	b.without[key] = kept
	return kept, nil
}

// own are the ideal rules that the room's controller carries out.
func (b *blamer) own() rules.Sheet {
	mine := map[string]bool{}
	for _, id := range b.host.Rules {
		mine[id] = true
	}
	out := rules.Sheet{Things: b.plan.Sheet.Things}
	for _, r := range b.plan.Sheet.Rules {
		if mine[r.ID] {
			out.Rules = append(out.Rules, r)
		}
	}
	return out
}

// beside is the fitted sheet of the home with one controller's rules fitted otherwise.
func (b *blamer) beside(placed fitting.Placed) rules.Sheet {
	all := fitting.Placed{Joined: b.plan.Placed.Joined, Takes: b.plan.Placed.Takes, Links: maps.Clone(b.plan.Placed.Links)}
	maps.Copy(all.Links, placed.Links) // of the one controller
	for _, h := range b.plan.Placed.Hosts {
		if h.Host == b.host.Host && len(placed.Hosts) == 1 {
			h = placed.Hosts[0]
		}
		all.Hosts = append(all.Hosts, h)
	}
	return all.Whole(b.plan.Sheet)
}

// lifted is a set of limits without one of them.
func lifted(l catalogue.Limits, key string) catalogue.Limits {
	free := catalogue.Limits{Restarts: true, Stacks: true, Keeps: true, Holds: true, OverMidnight: true, SunTimes: true,
		Guards: "both", SeenFor: true, RisesBy: true, Flags: true, Ordered: true, SeesOthers: true, Offline: true, RestoresWaits: true}
	out := reflect.ValueOf(&l).Elem()
	for i := range out.NumField() {
		if k, _, _ := strings.Cut(out.Type().Field(i).Tag.Get("key"), ","); k == key {
			out.Field(i).Set(reflect.ValueOf(free).Field(i))
		}
	}
	return l
}

// words say of limits what they are, what was done about them, and what helps.
func (b *blamer) words(keys []string) string {
	if len(keys) == 0 {
		return fmt.Sprintf("Rules without limits keep it; those that %s can run don't.", b.host.Host)
	}
	named := make([]string, len(keys))
	for i, k := range keys {
		named[i] = k + " (" + strings.TrimSuffix(catalogue.DocOf(k), ".") + ")"
	}
	text := fmt.Sprintf("Rules without limits keep it. What breaks it is a limit of %s: %s.", b.host.Host, named[0])
	if len(keys) > 1 {
		text = fmt.Sprintf("Rules without limits keep it. What breaks it is limits of %s together: %s.", b.host.Host, strings.Join(named, ", "))
	}
	if len(keys) > 1 {
		return text
	}
	for _, l := range b.host.Fit.Lost {
		if l.Limit == keys[0] && about(l.Rule, b.room) {
			return text + " " + l.Text + " " + l.Remedy
		}
	}
	const remedy = " Put these rules on a controller without this limit."
	for _, n := range b.host.Fit.Notes {
		if n.Limit == keys[0] && n.Costs != "" && about(n.Rule, b.room) {
			return text + " " + n.Text + " " + n.Costs + remedy
		}
	}
	return text + remedy
}
