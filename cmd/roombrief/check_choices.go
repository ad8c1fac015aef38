package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/reading"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
)

// idleChoices finds choices of parts that no plan heeds: for a thing that nothing is needed for, of a part that there isn't, or against
// parts that there aren't. Whoever wrote one believes that it holds.
func idleChoices(p *model.Project, at func(where, message, hint string)) {
	cat, things := fixtures.Catalogue(), []string(nil)
	for _, n := range ideal.Draft(p).Needs {
		in, _, _ := strings.Cut(n.ID, "/")
		if _, ok := p.Room(in); ok { // what all rooms share has no name there
			things = append(things, n.ID)
		}
	}
	for _, c := range p.Controllers {
		things = append(things, "controllers/"+c.ID, c.ID)
	}
	meant := func(near, otherwise string) string {
		if near == "" {
			return otherwise
		}
		return fmt.Sprintf("did you mean %q?", near)
	}
	for _, thing := range slices.Sorted(maps.Keys(p.Choices.Use)) {
		if strings.HasPrefix(thing, "x-") {
			continue
		}
		where, part := "choices/use/{"+thing+"}", p.Choices.Use[thing]
		if !slices.Contains(things, thing) {
			at(where, fmt.Sprintf("nothing is to be bought for %q, so its part is not heeded", thing), meant(reading.NearestName(thing, things), "things are named as the bill does it: roombrief bill --json, covers"))
		}
		if _, ok := cat.Part(part); !ok {
			at(where, fmt.Sprintf("there is no part %q in the catalogue", part), meant(nearestPart(cat, part), "roombrief parts lists the parts there are"))
		}
	}
	for i, entry := range p.Choices.Avoid {
		if !slices.ContainsFunc(cat.Parts, func(x catalogue.Part) bool { return bill.Means(entry, &x) }) {
			at(fmt.Sprintf("choices/avoid/%d", i), fmt.Sprintf("%q means no part of the catalogue, so nothing is avoided", entry), meant(nearestPart(cat, entry), "write a part, or words from the names of parts"))
		}
	}
}
