package floorpage

import (
	"math"
	"slices"

	"example.org/roombrief/planner/floorplan"
)

// sheet is a floor as boxes of cells. A cell is about twice as high as it is wide, so a row takes twice the metres of a column.
type sheet struct {
	floor  *floorplan.Floor
	turned bool    // a quarter to the left: the top of the survey is at the left
	perCol float64 // m
	cols   int
	rows   int
	boxes  []box // of the floor's rooms, in their order
}

// box is the walls around a room: its first and last column and row.
type box struct {
	x0, y0, x1, y1 int
	r              floorplan.Rect // as it lies on the sheet
}

func (b box) width() int  { return b.x1 - b.x0 - 1 } // inside
func (b box) height() int { return b.y1 - b.y0 - 1 }

// oneWall is how far two edges may lie apart and still be the two sides of one wall, in m.
const oneWall = 0.28

// layOut sets a floor at a scale. Edges of rooms that are two sides of a wall become one line.
func layOut(f *floorplan.Floor, perCol float64, turned bool) sheet {
	s := sheet{floor: f, turned: turned, perCol: perCol}
	var xs, ys []float64
	rects := make([]floorplan.Rect, len(f.Rooms))
	for i, r := range f.Rooms {
		rects[i] = s.rect(r.Rect)
		xs = append(xs, rects[i].X, rects[i].X+rects[i].W)
		ys = append(ys, rects[i].Y, rects[i].Y+rects[i].D)
	}
	cols, rows := snap(xs, perCol), snap(ys, 2*perCol)
	for _, r := range rects {
		b := box{cols(r.X), rows(r.Y), cols(r.X + r.W), rows(r.Y + r.D), r}
		s.boxes = append(s.boxes, b)
		s.cols, s.rows = max(s.cols, b.x1+1), max(s.rows, b.y1+1)
	}
	return s
}

// layFit sets a floor as it was arranged. Where walls that moved to their lines made it a line too large, it is a little smaller.
func layFit(f *floorplan.Floor, a arrangement) sheet {
	s := layOut(f, a.perCol, a.turned)
	fits := fit(f, a.planW, a.planH, a.turned) <= a.perCol+1e-9
	for i := 0; i < 8 && fits && (s.cols > a.planW || s.rows > a.planH); i++ {
		s = layOut(f, s.perCol*1.02, a.turned)
	}
	return s
}

// snap gives each edge its line of cells: edges of one wall the same, others each one of their own.
func snap(edges []float64, per float64) func(float64) int {
	slices.Sort(edges)
	var from []float64
	var at []int
	for i := 0; i < len(edges); {
		j, sum := i, 0.0
		for j < len(edges) && edges[j]-edges[i] <= oneWall {
			sum += edges[j]
			j++
		}
		line := int(math.Round(sum / float64(j-i) / per))
		if n := len(at); n > 0 {
			line = max(line, at[n-1]+1)
		}
		from, at = append(from, edges[i]), append(at, line)
		i = j
	}
	return func(v float64) int {
		i, exact := slices.BinarySearch(from, v)
		if !exact {
			i--
		}
		return at[max(i, 0)]
	}
}

func (s *sheet) rect(r floorplan.Rect) floorplan.Rect {
	b := s.floor.Bounds
	if s.turned {
		return floorplan.Rect{X: r.Y - b.Y, Y: b.X + b.W - r.X - r.W, W: r.D, D: r.W}
	}
	return floorplan.Rect{X: r.X - b.X, Y: r.Y - b.Y, W: r.W, D: r.D}
}

func (s *sheet) spot(p floorplan.Spot) floorplan.Spot {
	b := s.floor.Bounds
	if s.turned {
		return floorplan.Spot{X: p.Y - b.Y, Y: b.X + b.W - p.X}
	}
	return floorplan.Spot{X: p.X - b.X, Y: p.Y - b.Y}
}

// back is the place in the survey of a place on the sheet.
func (s *sheet) back(p floorplan.Spot) floorplan.Spot {
	b := s.floor.Bounds
	if s.turned {
		return floorplan.Spot{X: b.X + b.W - p.Y, Y: p.X + b.Y}
	}
	return floorplan.Spot{X: p.X + b.X, Y: p.Y + b.Y}
}

// cell is where a place on the sheet lies in a box, walls included.
func (b box) cell(p floorplan.Spot) (x, y int) {
	x = b.x0 + int(math.Round((p.X-b.r.X)/b.r.W*float64(b.x1-b.x0)))
	y = b.y0 + int(math.Round((p.Y-b.r.Y)/b.r.D*float64(b.y1-b.y0)))
	return min(max(x, b.x0), b.x1), min(max(y, b.y0), b.y1)
}

// inside is the same, kept off the walls.
func (b box) inside(p floorplan.Spot) (x, y int) {
	x, y = b.cell(p)
	return min(max(x, b.x0+1), b.x1-1), min(max(y, b.y0+1), b.y1-1)
}

// place is the middle of a cell inside a box, on the sheet.
func (b box) place(x, y int) floorplan.Spot {
	return floorplan.Spot{
		X: b.r.X + b.r.W*(float64(x-b.x0)-0.5)/float64(max(b.width(), 1)),
		Y: b.r.Y + b.r.D*(float64(y-b.y0)-0.5)/float64(max(b.height(), 1)),
	}
}

// fit is the scale at which a floor fills so many cells, in m a column.
func fit(f *floorplan.Floor, cols, rows int, turned bool) float64 {
	w, d := f.Bounds.W, f.Bounds.D
	if turned {
		w, d = d, w
	}
	return math.Max(w/float64(max(cols-1, 1)), d/float64(2*max(rows-1, 1)))
}
