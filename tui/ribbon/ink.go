package ribbon

import (
	"fmt"
	"math"

	"github.com/charmbracelet/lipgloss"

	"example.org/roombrief/tui/theme"
)

// shade is a colour temperature as it is shown. True black-body colours between 2700 K and 4000 K
// differ too little on a screen, and vanish on white paper, so warm and cool are drawn stronger than they are.
type shade struct {
	kelvin      float64
	dark, light [3]float64 // on a dark screen, on a light one
}

var shades = []shade{
	{1800, [3]float64{224, 84, 20}, [3]float64{150, 50, 0}},
	{2200, [3]float64{230, 126, 40}, [3]float64{178, 80, 0}},
	{2700, [3]float64{242, 168, 72}, [3]float64{196, 122, 16}},
	{4000, [3]float64{244, 226, 178}, [3]float64{150, 142, 96}},
	{5000, [3]float64{214, 232, 240}, [3]float64{92, 138, 160}},
	{6500, [3]float64{140, 184, 246}, [3]float64{36, 92, 176}},
}

// tint is the colour that stands for a colour temperature in kelvin, as #rrggbb. It is even in
// reciprocal kelvin, as the eye is.
func tint(kelvin int, dark bool) string {
	k := math.Max(shades[0].kelvin, math.Min(float64(kelvin), shades[len(shades)-1].kelvin))
	i := 1
	for i < len(shades)-1 && k > shades[i].kelvin {
		i++
	}
	a, b := shades[i-1], shades[i]
	part := (1/a.kelvin - 1/k) / (1/a.kelvin - 1/b.kelvin)
	var out [3]int
	for c := range out {
		from, to := a.light[c], b.light[c]
		if dark {
			from, to = a.dark[c], b.dark[c]
		}
		out[c] = int(math.Round(from + part*(to-from)))
	}
	return fmt.Sprintf("#%02x%02x%02x", out[0], out[1], out[2])
}

// inks are the styles of a drawing, numbered from 1 as draw.Inked wants them.
type inks struct {
	th     theme.Theme
	styles []lipgloss.Style
	number map[int]int
}

// Numbers below any kelvin name the theme's own styles.
const (
	inkFaint  = -1
	inkHair   = -2
	inkAccent = -3
)

func newInks(th theme.Theme) *inks { return &inks{th: th, number: map[int]int{}} }

// of is the number of the ink for a colour temperature, or for one of the theme's own styles.
func (k *inks) of(what int) int {
	if n, ok := k.number[what]; ok {
		return n
	}
	var s lipgloss.Style
	switch {
	case what == inkFaint:
		s = k.th.Faint
	case what == inkHair:
		s = k.th.Hair
	case what == inkAccent:
		s = k.th.Accent
	case what == 0 || !k.th.Colour:
		s = k.th.Text
	default:
		full := tint(what, k.th.Dark)
		s = k.th.R.NewStyle().Foreground(lipgloss.CompleteColor{TrueColor: full, ANSI256: full, ANSI: few(what, k.th.Dark)})
	}
	k.styles = append(k.styles, s)
	k.number[what] = len(k.styles)
	return len(k.styles)
}

// few is the one of sixteen colours that stands for a colour temperature: warm, between, cool. The nearest by
// number would be the red that is kept for danger.
func few(kelvin int, dark bool) string {
	switch {
	case kelvin < 3300:
		return "3"
	case kelvin < 4600 && dark:
		return "15"
	case kelvin < 4600:
		return "8"
	case dark:
		return "14"
	}
	return "4"
}
