package ribbon

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/caution"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/physics"
)

// glow is the light of the room as it was last worked out: full on, and period by period.
type glow struct {
	full    physics.Lit
	periods []physics.Lit // with only the circuits of the period
	at      []physics.PeriodLux
	fault   error
}

// shine works the light of a room out.
func shine(p *model.Project, r model.Room) glow {
	var g glow
	if !r.Brief.Lighting.Wanted() || len(r.Circuits) == 0 {
		return g
	}
	if g.full, g.fault = physics.Light(p, r); g.fault != nil {
		return g
	}
	for _, pd := range r.Brief.Lighting.Want.Periods {
		lit := r
		if len(pd.Circuits) > 0 {
			lit.Circuits = slices.DeleteFunc(slices.Clone(r.Circuits), func(c model.Circuit) bool { return !lights(pd, c.ID) })
		}
		l, err := physics.Light(p, lit)
		if err != nil {
			g.fault = err
			return g
		}
		g.periods = append(g.periods, l)
		g.at = append(g.at, g.full.At(pd, physics.System(p)))
	}
	return g
}

func (g glow) has(period int) bool {
	return g.fault == nil && period < len(g.at) && len(g.full.Tasks) > 0
}

// lux stands beside the level of a period: on the plane where people look, late at night on the floor.
func (g glow) lux(period int, u q.System) string {
	if !g.has(period) || g.at[period].Level == 0 {
		return ""
	}
	if x := g.at[period]; x.Night {
		return shown(x.Floor, u) + " floor"
	}
	return shown(g.at[period].Lux, u)
}

// shown keeps a figure after the point where whole lux would hide the difference.
func shown(lx float64, u q.System) string {
	switch {
	case u == q.US && lx < 10:
		return fmt.Sprintf("%.2f fc", lx/10.7639)
	case u == q.Metric && lx < 10:
		return fmt.Sprintf("%.1f lx", lx)
	}
	return q.Illuminance(lx).Show(u)
}

// note says what the light of a period is good for, the shortest first.
func (g glow) note(period int, u q.System) []string {
	if g.fault != nil {
		return []string{"The light can't be reckoned: " + g.fault.Error() + "."}
	}
	if !g.has(period) || g.at[period].Level == 0 {
		return nil
	}
	x := g.at[period]
	var out []string
	if x.Say != "" {
		out = append(out, x.Say)
	} else {
		out = append(out, g.general(x, u))
	}
	for _, t := range g.periods[period].Tasks {
		if t.Circuit != "" && !x.Night {
			out = append(out, fmt.Sprintf("%s %s; %s is usual there.", shown(t.Lux*float64(x.Level)/100, u), place(t.Name), usual(t, u)))
		}
	}
	return append(out, g.whole(x.Night)...)
}

// whole is what the lamps come to full on where that falls short of something that the period's own line leaves
// out, what is taken for granted, and the caution that goes with it.
func (g glow) whole(night bool) []string {
	var out []string
	more := g.full.Caution != ""
	for _, t := range g.full.Tasks {
		more = more || t.Add > 0 && (night || t.Circuit != "")
	}
	if more {
		out = append(out, g.full.Say)
	}
	if text := caution.Text(g.full.Caution); text != "" {
		out = append(out, "! "+text)
	}
	if len(g.full.Assumed) > 0 {
		out = append(out, "Taken for granted: "+strings.Join(g.full.Assumed, "; ")+".")
	}
	return out
}

// usual is what a task wants: "75 to 150 lx".
func usual(t physics.Task, u q.System) string {
	least, most := q.Illuminance(t.Least).Show(u), q.Illuminance(t.Most).Show(u)
	if number, unit, ok := strings.Cut(least, " "); ok && strings.HasSuffix(most, " "+unit) {
		least = number
	}
	return least + " to " + most
}

// general is the light of the room as a whole, with the lamps to add where it is short.
func (g glow) general(x physics.PeriodLux, u q.System) string {
	t := g.full.Tasks[0]
	say := fmt.Sprintf("%s gives %s", x.Level.Show(u), shown(x.Lux, u))
	usual := usual(t, u) + " is usual here"
	switch {
	case t.Add == 1:
		return fmt.Sprintf("%s; %s: add 1 lamp like those there.", say, usual)
	case t.Add > 1:
		return fmt.Sprintf("%s; %s: add %d lamps like those there.", say, usual, t.Add)
	case x.Lux < t.Least && x.Lux < t.Lux*0.99:
		return fmt.Sprintf("%s, full on %s; %s.", say, shown(t.Lux, u), usual)
	}
	return fmt.Sprintf("%s; %s.", say, usual)
}

// place is where the light of a task falls.
func place(task string) string {
	if task == "reading" {
		return "on the page beside the lamp"
	}
	return "at the " + task
}
