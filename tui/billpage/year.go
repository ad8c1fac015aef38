package billpage

import (
	"fmt"

	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// year is a table of the cells and the power that each room takes in a year.
func (w *writer) year(y bill.Year) {
	if y.Cells == 0 && y.KWh < 0.5 {
		return
	}
	const cells, kwh, first = 8, 8, 20
	name := max(w.width-cells-kwh-first, 8)
	row := func(room, a, b, c string) string {
		t := w.snap.Theme
		return layout.Fit(room, name, t.Glyphs.More) + draw.Right(a, cells, t.Glyphs.More) + draw.Right(c, first, t.Glyphs.More) + draw.Right(b, kwh, t.Glyphs.More)
	}
	put := func(text string, head bool) { w.rows = append(w.rows, draw.Row{Text: text, Item: -1, Head: head}) }
	w.blank()
	t := w.snap.Theme
	put(t.Strong.Render(layout.Fit("In a year", name, t.Glyphs.More))+t.Faint.Render(draw.Right("cells", cells, "")+draw.Right("first after", first, "")+draw.Right("kWh", kwh, "")), true)
	for _, r := range y.Rooms {
		if r.Cells == 0 && r.KWh() < 0.5 {
			continue
		}
		used, soonest := "", ""
		if r.Cells > 0 {
			used, soonest = fmt.Sprintf("%.1f", r.Cells), fmt.Sprintf("%.1f years", r.Shortest)
		}
		to := page.Goto{}
		if r.Room != "" {
			to = page.Goto{Page: page.Sheet, Room: r.Room}
		}
		note := fmt.Sprintf("Lamps %.0f kWh, fans %.0f kWh, devices at rest %.0f kWh.", r.LampsKWh, r.FansKWh, r.DevicesKWh)
		w.item(to, []string{note}, row(w.roomName(r.Room), used, fmt.Sprintf("%.0f", r.KWh()), soonest))
	}
	put(t.Strong.Render(row("Together", fmt.Sprintf("%.1f", y.Cells), fmt.Sprintf("%.0f", y.KWh), "")), false)
	w.words("", "Cells by the reports to expect of each device, in the cold; power of lamps by the usual hours of such rooms, of fans by what they have to dry, of devices at rest.")
}
