package billpage

import (
	"maps"
	"slices"
	"strings"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/page"
)

// line is the line of the bill under the cursor; ok is false on anything else.
func (p *Page) line() (l bill.Line, ok bool) {
	at := p.leaf.At()
	if p.view != billing || p.snap.Plan == nil || at < 0 || p.lines[at] < 0 {
		return l, false
	}
	return p.snap.Plan.Bill.Lines[p.lines[at]], true
}

// things are what the parts of a line serve, as choices/use names them; none for what only comes with another part.
func (p *Page) things(l bill.Line) (all []string) {
	for _, d := range p.snap.Plan.Bill.Devices {
		switch {
		case d.Part != l.Part:
		case l.Room == "":
			for _, c := range p.snap.Project.Controllers {
				if c.ID == d.ID {
					all = append(all, "controllers/"+d.ID)
				}
			}
		case d.Room == l.Room:
			for _, id := range d.Covers {
				in, _, _ := strings.Cut(id, "/")
				if _, room := p.snap.Project.Room(in); room && !slices.Contains(all, id) { // what all rooms share has no name there
					all = append(all, id)
				}
			}
		}
	}
	return all
}

// pinned reports whether the project says to use a part for all of some things.
func (p *Page) pinned(things []string, part string) bool {
	for _, id := range things {
		if p.snap.Project.Choices.Use[id] != part {
			return false
		}
	}
	return len(things) > 0
}

// keep pins the part of a line to what it serves, or lets it go again.
func (p *Page) keep(l bill.Line) page.Action {
	things := p.things(l)
	if p.pinned(things, l.Part) {
		var edits []projectfile.Edit
		for _, id := range things {
			edits = append(edits, projectfile.Remove("choices/use/{"+id+"}"))
		}
		return page.Edit{Edits: edits, Label: "the " + l.Name + " is no longer pinned",
			Then: page.Say{Text: l.Name + ": no longer pinned. u takes it back."}}
	}
	return p.use(things, l.Part, l.Name, "pinned to "+strings.Join(things, ", "))
}

// use makes the project say to use a part for some things.
func (p *Page) use(things []string, part, name, done string) page.Action {
	of := map[string]string{}
	for _, id := range things {
		of[id] = part
	}
	return p.useAll(things, of, name, done)
}

func (p *Page) useAll(things []string, of map[string]string, name, done string) page.Action {
	var edits []projectfile.Edit
	for _, id := range things {
		edits = append(edits, projectfile.Set("choices/use/{"+id+"}", of[id]))
	}
	return page.Edit{Edits: edits, Label: "use of the " + name, Then: page.Say{Text: name + ": " + done + ". u takes it back."}}
}

// nextBest uses for each thing of a line what serves it in the next best bill.
func (p *Page) nextBest(l bill.Line) page.Action {
	things := p.swapped(l)
	return p.useAll(things, l.RunnerUse, l.RunnerName, "used instead of the "+english.Lower(l.Name))
}

// swapped are the things of a line for which the next best bill names a part.
func (p *Page) swapped(l bill.Line) (all []string) {
	for _, id := range p.things(l) {
		if l.RunnerUse[id] != "" {
			all = append(all, id)
		}
	}
	return all
}

// avoid keeps a part out of the home, also where it was pinned.
func (p *Page) avoid(l bill.Line) page.Action {
	choices := &p.snap.Project.Choices
	if slices.Contains(choices.Avoid, l.Part) {
		return page.Say{Text: l.Name + ": avoided already."}
	}
	edits := []projectfile.Edit{projectfile.Append("choices/avoid", l.Part)}
	for _, id := range slices.Sorted(maps.Keys(choices.Use)) {
		if choices.Use[id] == l.Part {
			edits = append(edits, projectfile.Remove("choices/use/{"+id+"}"))
		}
	}
	return page.Edit{Edits: edits, Label: "avoiding the " + l.Name, Then: page.Say{Text: l.Name + ": avoided from now on. u takes it back."}}
}

// comesAlong reports whether the part of a line is there only for others that need it, as cells and supplies are: it can't be kept out.
func (p *Page) comesAlong(l bill.Line) bool {
	if part, ok := p.snap.Catalogue.Part(l.Part); ok && part.Kind == bill.CellKind {
		return true
	}
	return slices.ContainsFunc(p.snap.Plan.Bill.Lines, func(o bill.Line) bool {
		part, ok := p.snap.Catalogue.Part(o.Part)
		return ok && slices.ContainsFunc(part.Also, func(a catalogue.Extra) bool { return a.Part == l.Part })
	})
}
