package tui

import "example.org/roombrief/tui/page"

// makers of the pages of an opened project, by name.
var makers = map[page.ID]func() page.Page{}
