package site

import "math"

// Lumen is a rectangular room with a regular array of lamps (lumen method, CIBSE/SLL Lighting Guide; IES zonal
// cavity). It overstates a single pendant and leaves furniture out.
type Lumen struct {
	Length, Width float64 // m, 0.5 to 50
	Height        float64 // m, floor to ceiling
	Workplane     float64 // m above the floor; 0 is the floor
	Suspension    float64 // m from the ceiling down to the lamps
	Flux          float64 // lm of one lamp
	Lamps         int     // in one luminaire
	Utilisation   float64 // part of the flux that reaches the plane, 0.1 to 1: from the luminaire's table
	Maintenance   float64 // 0.5 to 1: 0.9 very clean, 0.8 clean, 0.7 average, 0.6 dirty
}

// Lit is what the lumen method gives.
type Lit struct {
	Mounting   float64 // m from the lamps to the plane
	RoomIndex  float64 // K
	Cavity     float64 // room cavity ratio, 5/K
	Exact      float64 // luminaires for the target, not rounded
	Luminaires int     // rounded up
	Achieved   float64 // lx with the rounded number
	Each       float64 // lx that one luminaire gives
}

// Luminaires works out how many luminaires give a maintained average of target lx (0.5 to 5000).
func (l Lumen) Luminaires(target float64) (Lit, error) {
	hm := l.Height - l.Workplane - l.Suspension
	if err := first(within("length", l.Length, 0.5, 50, "m"), within("width", l.Width, 0.5, 50, "m"),
		within("height of the lamps over the plane", hm, 0.3, 10, "m"), within("flux", l.Flux, 1, 100e3, "lm"),
		within("lamps", float64(l.Lamps), 1, 20, ""), within("utilisation", l.Utilisation, 0.1, 1, ""),
		within("maintenance", l.Maintenance, 0.5, 1, ""), within("target", target, 0.5, 5000, "lx")); err != nil {
		return Lit{}, err
	}
	area := l.Length * l.Width
	k := area / (hm * (l.Length + l.Width))
	each := float64(l.Lamps) * l.Flux * l.Utilisation * l.Maintenance / area
	exact := target / each
	n := int(math.Ceil(exact - 1e-9))
	return Lit{Mounting: hm, RoomIndex: k, Cavity: 5 / k, Exact: exact, Luminaires: n, Achieved: float64(n) * each, Each: each}, nil
}

// Point is the illuminance in lx on a level plane, height m under a lamp of flux lm and offset m aside, by the
// inverse square and cosine laws, without reflections: iso for a lamp that shines alike all round, lambert for a
// flat one that shines down.
func Point(flux, height, offset float64) (iso, lambert float64, err error) {
	if err := first(within("flux", flux, 0.1, 100e3, "lm"), within("height", height, 0.05, 20, "m"), within("offset", offset, 0, 50, "m")); err != nil {
		return 0, 0, err
	}
	d2 := height*height + offset*offset
	cos := height / math.Sqrt(d2)
	return flux / (4 * math.Pi) * cos / d2, flux / math.Pi * cos * cos / d2, nil
}

// Perceived is how bright a measured fraction of full light looks, 0 to 1: its square root (IESNA Lighting
// Handbook, 9th edition).
func Perceived(measured float64) (float64, error) {
	if err := within("fraction of full light", measured, 0, 1, ""); err != nil {
		return 0, err
	}
	return math.Sqrt(measured), nil
}

// Mired is the reciprocal colour temperature, 10⁶/K, of 1000 to 20000 K; equal steps look about equal.
func Mired(kelvin float64) (float64, error) {
	if err := within("colour temperature", kelvin, 1000, 20000, "K"); err != nil {
		return 0, err
	}
	return 1e6 / kelvin, nil
}
