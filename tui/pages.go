package tui

import (
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/talk"
)

// makers of the pages, by name.
var makers = map[page.ID]func() page.Page{
	page.Talk:     talk.New,
	page.Readback: talk.NewBack,
	page.NewRoom:  talk.NewRoom,
}
