package tui

import (
	"example.org/roombrief/tui/billpage"
	"example.org/roombrief/tui/floorpage"
	"example.org/roombrief/tui/openpage"
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/pricepage"
	"example.org/roombrief/tui/proofpage"
	"example.org/roombrief/tui/ribbon"
	"example.org/roombrief/tui/rooms"
	"example.org/roombrief/tui/rulespage"
	"example.org/roombrief/tui/sheet"
	"example.org/roombrief/tui/talk"
)

// makers of the pages, by name. The start page is made by first, which knows what it offers.
var makers = map[page.ID]func() page.Page{
	page.Talk:     talk.New,
	page.Readback: talk.NewBack,
	page.NewRoom:  talk.NewRoom,
	page.Rooms:    rooms.New,
	page.Sheet:    sheet.New,
	page.Ribbon:   ribbon.New,
	page.Plan:     floorpage.New,
	page.Bill:     billpage.New,
	page.Supply:   pricepage.New,
	page.Rules:    rulespage.New,
	page.Promises: proofpage.New,
	page.Story:    proofpage.NewStory,
	page.Points:   openpage.New,
}
