package pricepage

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/english"
	"example.org/roombrief/model/supply"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// words are what is said of the lines under "How it was read" that are called otherwise there.
var words = map[string]string{"fields": "delimiter ", "decimals": "decimal ", "prices of": "dated ", "currency": "currency ", "supplier": "supplier "}

// word begins what is said of the line under the cursor: "price=" on the line of the price's column.
func (p *Page) word() string {
	k := p.snap.Prices
	at := p.leaf.At()
	if k == nil || at < 0 || at >= len(k.Form) {
		return ""
	}
	what := k.Form[at][0]
	column := k.Import != nil && slices.ContainsFunc(k.Import.Columns, func(c supply.Column) bool { return c.Role == what })
	switch {
	case column && slices.Contains(supply.Roles, what):
		return what + "="
	default:
		return words[what]
	}
}

// say takes a key while something is said of the list.
func (p *Page) say(k tea.KeyMsg) page.Action {
	b, ok := keys.PriceForm.Of(k)
	switch {
	case ok && b.Do == keys.Leave:
		p.telling, p.fault = false, ""
		return nil
	case !ok:
		p.tell.Key(k)
		p.fault = ""
		return nil
	}
	now := p.read
	if now.Said = nil; strings.TrimSpace(p.tell.Text()) != "" {
		said, err := supply.Said(p.tell.Text())
		if err != nil {
			p.fault = err.Error()
			return nil
		}
		now.Said = append(slices.Clone(p.read.Said), said...)
	}
	p.telling, p.fault, p.read = false, "", now
	return p.read
}

// told is the field for what is said, with all that can be.
func (p *Page) told(text string) []draw.Row {
	t := p.leaf.Theme
	rows := []draw.Row{{Text: t.Strong.Render("How is this list to be read otherwise?"), Item: -1}, {Item: -1}, {Text: t.Glyphs.Here + " " + text, Item: -1, Raw: true}, {Item: -1}}
	say := func(mark, text string) {
		for _, s := range draw.Hang(mark, text, p.leaf.Inner()) {
			rows = append(rows, draw.Row{Text: s, Item: -1})
		}
	}
	if p.fault != "" {
		say(t.Glyphs.Broken+" ", english.Upper(closed(p.fault)))
		rows = append(rows, draw.Row{Item: -1})
	}
	wide := 0
	for _, s := range supply.Says {
		wide = max(wide, len(s[0]))
	}
	for _, s := range supply.Says {
		say(fmt.Sprintf("%-*s  ", wide, s[0]), s[1])
	}
	rows = append(rows, draw.Row{Item: -1})
	say("", "Several with semicolons between: price=4; with-tax 20.")
	if n := len(p.read.Said); n > 0 {
		var said []string
		for _, s := range p.read.Said {
			said = append(said, strings.TrimPrefix(s[0]+" "+s[1], "column "))
		}
		say("", "Said so far: "+strings.Join(said, "; ")+". Enter with nothing typed takes it all back.")
	}
	return rows
}

// closed is a sentence with its end.
func closed(s string) string {
	if strings.HasSuffix(s, "?") || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}
