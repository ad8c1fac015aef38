package catalogue

import (
	"strings"

	q "example.org/roombrief/model/quantity"
)

// Currencies that every part has a price in.
var Currencies = []string{"GBP", "EUR", "USD"}

// IsCurrency reports whether a text has the form of a currency's code: three capitals.
func IsCurrency(s string) bool {
	return len(s) == 3 && strings.Trim(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
}

// Part finds a part by its id.
func (c *Catalogue) Part(id string) (Part, bool) {
	if c.parts != nil {
		i, ok := c.parts[id]
		if !ok {
			return Part{}, false
		}
		return c.Parts[i], true
	}
	for i := range c.Parts {
		if c.Parts[i].ID == id {
			return c.Parts[i], true
		}
	}
	return Part{}, false
}

// LimitSet finds a set of limits by its name.
func (c *Catalogue) LimitSet(id string) (Limits, bool) {
	if c.limits != nil {
		i, ok := c.limits[id]
		if !ok {
			return Limits{}, false
		}
		return c.Limits[i], true
	}
	for i := range c.Limits {
		if c.Limits[i].ID == id {
			return c.Limits[i], true
		}
	}
	return Limits{}, false
}

// Filter lists the parts for which keep holds, in the shelf's order.
func (c *Catalogue) Filter(keep func(Part) bool) []Part {
	var out []Part
	for _, p := range c.Parts {
		if keep(p) {
			out = append(out, p)
		}
	}
	return out
}

// Cell finds the battery cell of a size, as in CR2450.
func (c *Catalogue) Cell(size string) (Part, bool) {
	for i := range c.Parts {
		if c.Parts[i].Kind == CellKind && c.Parts[i].Battery.Cell == size {
			return c.Parts[i], true
		}
	}
	return Part{}, false
}

// CellKind is the kind of the parts that are battery cells.
const CellKind = "battery cell"

// Can reports whether the part lists an ability.
func (p Part) Can(a Ability) bool {
	for _, d := range p.Does {
		if d == a {
			return true
		}
	}
	return false
}

// FitsMains reports whether the part is made for mains of that many volts; within a tenth, as mains vary.
func (p Part) FitsMains(v q.Voltage) bool {
	for _, m := range p.Mains {
		if v >= m*9/10 && v <= m*11/10 {
			return true
		}
	}
	return len(p.Mains) == 0
}

// FitsOutlet reports whether the part plugs into outlets of that many amperes; 0 is an outlet that nobody
// has looked at, which rules nothing out.
func (p Part) FitsOutlet(a q.Current) bool { return p.Outlet == 0 || a == 0 || p.Outlet == a }

// Number is how many loads, probes or keys the part serves, 1 when it doesn't say.
func (p Part) Number() int { return max(p.Channels, 1) }

// index makes the lookups of a parsed catalogue quick.
func (c *Catalogue) index() {
	c.parts = make(map[string]int, len(c.Parts))
	for i := range c.Parts {
		c.parts[c.Parts[i].ID] = i
	}
	c.limits = make(map[string]int, len(c.Limits))
	for i := range c.Limits {
		c.limits[c.Limits[i].ID] = i
	}
}
