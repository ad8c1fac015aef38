package ribbon

import (
	"slices"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
)

const luxFrom = 60 // cells from which a line has room for its lux

// withAbsent adds the periods that do not come on this date at the end, so that none is out of reach.
func withAbsent(ss []stretch, n int) []stretch {
	out := slices.Clone(ss)
	for i := range n {
		if !slices.ContainsFunc(ss, func(s stretch) bool { return s.period == i }) {
			out = append(out, stretch{period: i, from: Never, to: Never})
		}
	}
	return out
}

// head is the ribbon with white space round it, its tracks as tall as the page allows.
func (p *Page) head() []string {
	d := Day{Periods: p.periods(), Circuits: p.room.Circuits, Sun: p.sun, Cursor: p.marked(), Units: p.snap.Units}
	lines := max(min(len(p.order), 5), 3)
	if p.mode != looking {
		lines = min(1+len(p.open()), 7)
	}
	free := p.h - p.leaf.Fold() - 3 - lines
	n := max(len(tracks(d.Periods, d.Circuits, stretches(d.Periods, d.Sun))), 1)
	free--
	above, below := free >= n*4+2, free >= n*4+1
	if below {
		free--
	}
	if above {
		free--
	}
	for least := 3 + min(n-1, 1); free < least && lines > 1; free++ { // a low page gives lines up first
		lines--
	}
	d.Most = max(min(n, free/3), 1)
	if d.Most < n && d.Most > 1 && free < d.Most*3+1 {
		d.Most--
	}
	d.Rise = max(min((free-d.Most*2)/d.Most, 6), 1)
	d.Air = free-d.Most*(2+d.Rise) >= d.Most
	t, when := p.snap.Theme, p.dates[p.season].title()
	out := []string{"  " + t.Faint.Render(layout.Ends(english.Upper(when), draw.Planning(p.snap), p.leaf.Inner(), t.Glyphs.More))}
	if above {
		out = append(out, "")
	}
	for _, s := range Ribbon(d, p.leaf.Inner(), t) {
		out = append(out, "  "+s)
	}
	if below {
		out = append(out, "")
	}
	if room := max(p.h-p.leaf.Fold()-1, 0); len(out) > room {
		out = out[:room] // the marked period stays in sight, whatever it costs
	}
	return out
}

// rows is a line for each period, aligned, with what follows from it; under the marked one stands what is
// being written or picked.
func (p *Page) rows() []draw.Row {
	ps := p.periods()
	var from, when, level, lux, colour, lamps []string
	for _, s := range p.order {
		pd := ps[s.period]
		from = append(from, pd.From.Show(p.snap.Units))
		when = append(when, p.when(pd, s))
		l, c := lightWords(pd, p.snap.Units)
		level, colour = append(level, l), append(colour, c)
		lux = append(lux, p.glow.lux(s.period, p.snap.Units))
		lamps = append(lamps, lampWords(pd))
	}
	level, lux = draw.Decimals(level), draw.Decimals(lux)
	if p.leaf.Inner() < luxFrom {
		lux = make([]string, len(level))
	}
	lines := columns(p.leaf.Inner(), from, when, level, lux, colour, lamps)
	var out []draw.Row
	for i, s := range p.order {
		out = append(out, draw.Row{Text: lines[i], Item: i})
		if i == p.leaf.At() {
			out[len(out)-1].Note = p.note(s)
			for _, line := range p.open() {
				out = append(out, draw.Row{Text: line, Item: i, Raw: true})
			}
		}
	}
	return out
}

// brief are shorter words for where a line is too long; the note under it says more.
var brief = strings.NewReplacer("as the lamp is", "as it is", "left as it is", "left", " floor", "")

// columns sets texts under each other, in w cells where they fit: with shorter words, or closer to each other, before
// anything is cut off.
func columns(w int, cols ...[]string) []string {
	gap := 2
	if across(cols, gap) > w {
		short := slices.Clone(cols)
		for i, col := range short {
			short[i] = slices.Clone(col)
			for k := range col {
				short[i][k] = strings.TrimRight(brief.Replace(col[k]), " ")
			}
		}
		cols = short
	}
	if across(cols, gap) > w {
		gap = 1
	}
	out := make([]string, len(cols[0]))
	for i := range out {
		for _, col := range cols {
			if n := widest(col); n > 0 {
				out[i] += layout.Fit(col[i], n, "") + draw.Spaces(gap)
			}
		}
		out[i] = strings.TrimRight(out[i], " ")
	}
	return out
}

// across is how wide columns are together.
func across(cols [][]string, gap int) int {
	w := -gap
	for _, col := range cols {
		if n := widest(col); n > 0 {
			w += n + gap
		}
	}
	return w
}

// open is what is being written or picked, with the reason why it is refused.
func (p *Page) open() []string {
	t, w := p.snap.Theme, p.leaf.Inner()
	var out []string
	switch p.mode {
	case looking:
		return nil
	case writingStart:
		out = []string{"  starts at " + p.field.View(t, 30)}
	case writingNew:
		out = []string{"  a new period starts at " + p.field.View(t, 30)}
	case picking:
		return p.lampLines()
	}
	if p.fault == "" {
		return append(out, "  "+t.Faint.Render("for example 06:20, sunset or sunrise-00:30"))
	}
	for _, line := range draw.Hang("  "+t.Glyphs.Broken+" ", p.fault, w) {
		out = append(out, t.Strong.Render(line))
	}
	return out
}

func widest(col []string) int {
	w := 0
	for _, s := range col {
		w = max(w, layout.Width(s))
	}
	return w
}

// when is the stretch on this date: "to 15:45", or "15:45 to 22:45" for a sun time.
func (p *Page) when(pd model.Period, s stretch) string {
	if s.from == Never {
		return "not on this day"
	}
	to := "to " + clockIn(wrap(s.to), p.snap.Units)
	if pd.From.Sun != q.NoSun {
		return clockIn(s.from, p.snap.Units) + " " + to
	}
	return to
}

func lightWords(pd model.Period, u q.System) (level, colour string) {
	if pd.Level == 0 {
		return "0 %", "left as it is"
	}
	if pd.Colour == 0 {
		return pd.Level.Show(u), "as the lamp is"
	}
	return pd.Level.Show(u), pd.Colour.Show(u)
}

func lampWords(pd model.Period) string {
	if len(pd.Circuits) == 0 {
		return "all lamps"
	}
	return names(pd.Circuits)
}

// note is what follows from a period.
func (p *Page) note(s stretch) []string {
	pd := p.periods()[s.period]
	light := p.glow.note(s.period, p.snap.Units)
	if pd.Level == 0 {
		light = append(light, "At 0 % the room leaves its light as it is found.")
	}
	var out []string
	if len(light) > 0 {
		out, light = light[:1:1], light[1:]
	}
	if pd.From.Sun != q.NoSun {
		out = append(out, p.moves(pd.From))
	}
	if s.from == Never {
		out = append(out, "On this day the sun gives no such moment, so the period before it goes on.")
	} else {
		out = append(out, "Lasts "+q.Span((s.to-s.from)*60*1e9).Show(p.snap.Units)+" on this day.")
	}
	return append(out, light...)
}

// moves says where the year takes a sun time. The year is worked out when the first such period is marked.
func (p *Page) moves(from q.DayTime) string {
	if len(p.year.days) == 0 {
		p.year = yearOf(p.today, p.place)
	}
	return p.year.runs(from, p.snap.Units)
}

func (p *Page) aside() {
	l := p.room.Brief.Lighting.Want
	var how []string
	if l.Start == "on request" {
		how = append(how, "Light comes when it is asked for")
	} else {
		how = append(how, "Light comes when somebody enters")
	}
	if l.Stop.After > 0 {
		how = append(how, "and goes "+l.Stop.After.Show(p.snap.Units)+" after the room is empty.")
	} else {
		how = append(how, "and stays until it is switched off.")
	}
	w := p.leaf.MarginWidth()
	p.leaf.Aside = draw.Wrap(strings.Join(how, " "), w)
	if nowhere(p.place) {
		p.leaf.Aside = append(p.leaf.Aside, draw.Wrap("Nobody wrote down where the home stands, so the sun is that of the equator.", w)...)
	}
}
