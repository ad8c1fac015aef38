package strip

// leapCells is the width of a quiet stretch that the chart leaps over.
const leapCells = 5

// widest is how many times wider than it must be a chart with few lines is drawn.
const widest = 4

// nice are the lengths, in seconds, that one cell may stand for; beyond them whole hours.
var nice = []int{1, 2, 5, 10, 15, 20, 30, 60, 120, 300, 600, 900, 1200, 1800, 3600}

// places is where the lines of a story stand on a chart.
type places struct {
	x     []int // first cell of each line; several lines share one where there are more lines than cells
	leaps []leap
	width int // cells used
}

// leap is a quiet stretch of time that takes fewer cells than its length would.
type leap struct{ from, to int }

// place sets lines out over so many cells. Each line has at least one cell of its own as long as there are
// cells for it. Time is to scale, but for stretches so long that what is short would vanish beside them: those
// are leapt over, the longest first.
func place(at []int, room int) places {
	const lead, tail = 2, 3
	n := len(at)
	inner := room - lead - tail
	if inner < n {
		return crowded(n, max(room, 1))
	}
	gaps := make([]int, 0, n)
	for i := 1; i < n; i++ {
		gaps = append(gaps, at[i]-at[i-1])
	}
	least := min(max(inner/(3*n), 1), 4)
	leapt := make([]bool, len(gaps))
	scale := 1
	for {
		scale = fit(gaps, leapt, least, inner)
		if scale == 0 {
			if least == 1 {
				return crowded(n, room)
			}
			least--
			continue
		}
		longest, shortest := extremes(gaps, leapt)
		if longest < 0 || gaps[longest] == gaps[shortest] || scale <= 2*gaps[shortest] {
			break
		}
		leapt[longest] = true
	}
	if n == 0 {
		return places{width: room}
	}
	widths, total := make([]int, len(gaps)), 0
	for i, g := range gaps {
		widths[i] = cells(g, scale, least)
		if leapt[i] && widths[i] > leapCells {
			widths[i] = leapCells
		} else {
			leapt[i] = false
		}
		total += widths[i]
	}
	stretch := min(max(inner/max(total, 1), 1), widest)
	out, at0 := places{x: []int{lead}}, lead
	for i, w := range widths {
		if w *= stretch; leapt[i] {
			out.leaps = append(out.leaps, leap{at0 + 1, at0 + w})
		}
		at0 += w
		out.x = append(out.x, at0)
	}
	out.width = min(at0+tail, room)
	return out
}

// crowded sets more lines out than there are cells.
func crowded(n, room int) places {
	out := places{width: room}
	for i := range n {
		out.x = append(out.x, min(1+i*(room-1)/max(n, 1), room-1))
	}
	return out
}

func cells(gap, scale, least int) int { return max((gap+scale-1)/scale, least) }

// fit is the finest scale at which everything fits; 0 when none does.
func fit(gaps []int, leapt []bool, least, room int) int {
	for i := 0; ; i++ {
		scale := i - len(nice) + 2
		if i < len(nice) {
			scale = nice[i]
		} else {
			scale *= 3600
		}
		total, coarsest := 0, true
		for j, g := range gaps {
			w := cells(g, scale, least)
			if leapt[j] {
				w = min(w, leapCells)
			}
			coarsest = coarsest && w == least
			total += w
		}
		switch {
		case total <= room:
			return scale
		case coarsest || i > 10_000:
			return 0
		}
	}
}

// extremes are the longest and the shortest gap that takes time and isn't leapt over; -1 when there is none.
func extremes(gaps []int, leapt []bool) (longest, shortest int) {
	longest, shortest = -1, -1
	for i, g := range gaps {
		if g == 0 || leapt[i] {
			continue
		}
		if longest < 0 || g > gaps[longest] {
			longest = i
		}
		if shortest < 0 || g < gaps[shortest] {
			shortest = i
		}
	}
	return longest, shortest
}
