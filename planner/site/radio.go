package site

import "math"

// Link is an indoor radio link.
type Link struct {
	MHz          float64 // 300 to 6000
	Metres       float64 // 1 to 200; nearer counts as 1
	Floors       int     // floors between
	FloorLoss    float64 // dB for each: 4 to 10 in homes
	Walls        float64 // dB of what is not an ordinary partition: those are in the distance term
	Transmit     float64 // dBm
	GainOut      float64 // dBi
	GainIn       float64 // dBi
	Sensitivity  float64 // dBm, of the receiver
	FadeMargin   float64 // dB kept for fading
	DistanceLoss float64 // N; 0 is 28, homes at 2.4 GHz (ITU-R P.1238-9, table 2)
}

// Margin is how much a link has to spare.
type Margin struct {
	PathLoss  float64 // dB
	Received  float64 // dBm
	Spare     float64 // dB over the sensitivity
	AfterFade float64 // dB when the fade margin is kept
	Works     float64 // probability that it works, 0 to 1, with 8 dB of shadowing
}

// Shadowing in homes is a normal scatter of about 8 dB (recalled of ITU-R P.1238; measured figures are alike).
const Shadowing = 8.0

// PathLoss in dB by the site-general model of ITU-R P.1238, the form up to -9:
// 20 log10 f + N log10 d + floors - 28. Stated for 900 MHz and more; lower frequencies are an extrapolation.
func PathLoss(mhz, n, metres, floorsLoss float64) (float64, error) {
	if err := first(within("frequency", mhz, 300, 6000, "MHz"), within("distance", metres, 1, 1000, "m"),
		within("distance loss", n, 15, 50, ""), within("floor loss", floorsLoss, 0, 100, "dB")); err != nil {
		return 0, err
	}
	return 20*math.Log10(mhz) + n*math.Log10(metres) + floorsLoss - 28, nil
}

// FreeSpace loss in dB: 20 log10(4 pi d f/c).
func FreeSpace(mhz, metres float64) (float64, error) {
	if err := first(within("frequency", mhz, 1, 100e3, "MHz"), within("distance", metres, 0.1, 1e5, "m")); err != nil {
		return 0, err
	}
	return 20 * math.Log10(4*math.Pi*metres*mhz*1e6/299792458), nil
}

// PathLossGeneral in dB by ITU-R P.1238-11 and later: 10 alpha log10 d + beta + 10 gamma log10 f.
func PathLossGeneral(ghz, metres, alpha, beta, gamma float64) (float64, error) {
	if err := first(within("frequency", ghz, 0.3, 450, "GHz"), within("distance", metres, 1, 1000, "m")); err != nil {
		return 0, err
	}
	return 10*alpha*math.Log10(metres) + beta + 10*gamma*math.Log10(ghz), nil
}

// Reckon works out the margin of a link.
func (l Link) Reckon() (Margin, error) {
	n := l.DistanceLoss
	if n == 0 {
		n = 28
	}
	if err := first(within("floors", float64(l.Floors), 0, 10, ""), within("walls", l.Walls, 0, 120, "dB"),
		within("transmit power", l.Transmit, -40, 40, "dBm"), within("sensitivity", l.Sensitivity, -150, -20, "dBm"),
		within("fade margin", l.FadeMargin, 0, 60, "dB")); err != nil {
		return Margin{}, err
	}
	if err := within("distance", l.Metres, 0, 200, "m"); err != nil {
		return Margin{}, err
	}
	loss, err := PathLoss(l.MHz, n, math.Max(l.Metres, 1), float64(l.Floors)*l.FloorLoss)
	if err != nil {
		return Margin{}, err
	}
	m := Margin{PathLoss: loss, Received: l.Transmit + l.GainOut + l.GainIn - loss - l.Walls}
	m.Spare = m.Received - l.Sensitivity
	m.AfterFade = m.Spare - l.FadeMargin
	m.Works = Coverage(m.Spare, Shadowing)
	return m, nil
}

// Coverage is the probability that a link with a margin in dB works under shadowing of sigma dB.
func Coverage(margin, sigma float64) float64 { return 0.5 * math.Erfc(-margin/sigma/math.Sqrt2) }

// Wall is what one wall or floor takes from a signal near 2.4 GHz. Published figures scatter by 5 to 10 dB for
// the same wall; a thing of metal is no path at all.
type Wall struct {
	Name string
	Loss float64 // dB
}

// Walls as samples (bare material, straight through), as built, and by the COST 231 multi-wall model.
var Walls = []Wall{
	{"plasterboard sheet", 0.49}, {"glass", 0.5}, {"fir lumber", 2.79}, {"dry red brick", 4.44}, {"dry cinder block", 6.71},
	{"plasterboard", 4}, {"timber", 4}, {"brick", 8}, {"concrete", 12.5},
	{"light wall", 3.4}, {"heavy wall", 6.9}, {"concrete floor", 18.3},
}

// WallLoss is what one wall takes, in dB, and whether its kind is known.
func WallLoss(name string) (float64, bool) {
	for _, w := range Walls {
		if w.Name == name {
			return w.Loss, true
		}
	}
	return 0, false
}

// OrdinaryWall is the loss in dB of the partitions that N = 28 averages in already: only what a wall takes
// beyond it is counted.
const OrdinaryWall = 4.0

// Radio is what an ordinary device of a radio can do. Figures are the weaker end of what is sold.
type Radio struct {
	MHz         float64
	Transmit    float64 // dBm
	Sensitivity float64 // dBm
}

// Radios by the catalogue's names (IEEE 802.15.4 chips: -97 to -102 dBm and 4 to 20 dBm; IEEE 802.11 MCS0: -82 dBm).
var Radios = map[string]Radio{
	"zigbee": {2450, 4, -97}, "thread": {2450, 4, -97}, "ble": {2440, 4, -94}, "wifi": {2440, 15, -82},
}

// Margins in dB that a link should have over, by rule of thumb: 10, and 20 for an alarm that runs on a battery.
const (
	UsualMargin = 10.0
	AlarmMargin = 20.0
)

// Airtime in microseconds of an IEEE 802.15.4 frame at 2.4 GHz (250 kb/s, 32 µs a byte, 6 bytes of header):
// the frame, with acknowledgement and turnaround, and with the mean first wait and listening before it.
func Airtime(bytes int) (frame, acked, transaction float64, err error) {
	if err := within("frame", float64(bytes), 5, 127, "bytes"); err != nil {
		return 0, 0, 0, err
	}
	frame = float64(bytes+6) * 32
	acked = frame + 192 + (5+6)*32
	return frame, acked, acked + 1120 + 128 + 192, nil
}
