package site

// Formula is what a figure was worked out by: shown to whoever asks for it.
type Formula struct {
	Name    string   // of what it gives
	Lines   []string // the formula
	Source  string
	Range   string
	Caveats string // what it leaves out
}

// Formulas by what is reckoned, in the order in which they are used.
var Formulas = map[string][]Formula{
	"air": {
		{"saturation pressure of water vapour",
			[]string{"over ice, to 0.01 °C: ln p = C1/T + C2 + C3 T + C4 T² + C5 T³ + C6 T⁴ + C7 ln T", "over water: ln p = C8/T + C9 + C10 T + C11 T² + C12 T³ + C13 ln T", "W = 0.621945 pv/(p − pv)"},
			"ASHRAE Handbook Fundamentals 2017, chapter 1, equations 5, 6 and 20", "−100 to 200 °C", "within 300 ppm of the printed table"},
		{"moisture of a well-mixed room",
			[]string{"C V ρ dW/dt = G + Q ρ (Ws − W)", "W(t) = Wss + (W0 − Wss) exp(−t/τ), τ = C V/Q, Wss = Ws + G/(Q ρ)", "t = τ ln((W − Ws)/(Wceiling − Ws)) after the source stops"},
			"mass balance; measured bathrooms follow it (ASHRAE Journal 21(7), 54-60)", "room of 1 to 2000 m³ at 0 to 40 °C, fan of 0.1 to 1000 l/s, source of up to 20 kg/h",
			"the shorter time lets what condenses vanish, the longer one dries all of it from the walls first; a real room lies between"},
		{"vapour of a shower, a bath, cooking and drying",
			[]string{"shower 2.6 kg/h, bath 0.7 kg/h, cooking 1.0 kg/h, laundry 0.25 kg/h"},
			"solar-housing handbook, table 10.1.1; moisture sources in cold-climate housing (1988)", "published figures scatter widely", ""},
	},
	"threshold": {
		{"highest humidity that the coldest surface bears",
			[]string{"Tsi = Te + fRsi (Ti − Te)", "ceiling = 0.80 psat(Tsi)/psat(Ti)"},
			"EN ISO 13788: mould where the air at a surface has 80 % for long; 0.75 is the least factor that guidance asks of dwellings", "inside 0 to 40 °C, outside −60 to 60 °C, factor 0 to 1",
			"the standard judges monthly means: a peak after a shower does no harm, a room that stays at it does. An old outside wall is colder than 0.75; a thermometer held at it tells"},
		{"lowest humidity that the fan reaches",
			[]string{"W = Ws + (Wend − Ws) exp(−(t − tfilm)/τ), t the time that was asked", "tfilm = what condensed/(Q ρ (Wsat − Ws))"},
			"the moisture balance solved for its end, with all that condensed dried into the air first", "as the moisture balance", "never within 5 points of the house's own air: two reports of a usual sensor differ by as much"},
		{"humidity of outdoor air in a room",
			[]string{"RHi = RHe psat(Te)/psat(Ti)"},
			"the vapour stays, the air is warmed", "as above", "no airing gets a house drier than that; only a dryer does"},
	},
	"light": {
		{"lumen method",
			[]string{"E = N F UF MF/A", "K = L W/(h (L + W))"},
			"CIBSE/SLL lighting guides; IES zonal cavity method", "rectangular room of 0.5 to 50 m, lamps 0.3 to 10 m over the plane, UF 0.1 to 1, MF 0.5 to 1",
			"an average: it overstates a single pendant and leaves furniture out. UF belongs to the luminaire: its own table comes first"},
		{"how bright a dimmed lamp looks", []string{"seen = √measured"}, "IESNA Lighting Handbook, 9th edition", "0 to 100 %", ""},
	},
	"sun": {
		{"sunrise, sunset and twilight",
			[]string{"cos H = (sin h − sin φ sin δ)/(cos φ cos δ)", "h = −0.833° at sunrise and sunset, −6° at dawn and dusk", "UT minutes = 720 − 4 (λ + H) − E"},
			"Meeus, Astronomical Algorithms, 2nd edition, chapters 15, 25 and 28, as in the NOAA Solar Calculator", "1901 to 2099, anywhere",
			"a minute up to 66° of latitude, ten near the polar circles: real refraction varies, and hills are left out"},
	},
	"radio": {
		{"indoor path loss",
			[]string{"L = 20 log10 f + 28 log10 d + floors − 28", "margin = transmit + gains − L − walls − sensitivity", "works with probability Φ(margin/8 dB)"},
			"ITU-R P.1238 (forms up to -9), residential", "300 to 6000 MHz, 1 to 200 m, up to 10 floors",
			"ordinary partitions are in the 28 already; figures for one kind of wall scatter by 10 dB. Test before you drill"},
	},
	"battery": {
		{"life of a cell",
			[]string{"I = sleep + Σ(Q n)/86400 + C s/8760", "life = C η/I, never more than the cell keeps on the shelf"},
			"charge balance", "10 to 50000 mAh, η 0.3 to 1", "pulses, cold and age take more: count on the lower figure"},
	},
	"load": {
		{"load against a rating", []string{"I = P/(V pf)", "I ≤ share × rating"}, "NEC 210.19(A), 210.20(A), 210.23(A): 80 % for three hours and more; BS 1362 and 16 A plugs: all", "90 to 260 V, power factor 0.3 to 1, 0.1 to 125 A", "local code decides"},
		{"relay with a resistive rating only", []string{"motor 6 × I, incandescent 10 × I ≤ rating"}, "relay makers' guidance on kinds of load", "as above", "LED drivers: count them, their inrush is short and large"},
	},
	"box": {
		{"box fill", []string{"volume = Σ conductors + 2 for each gang of a device + 1 for clamps + 1 for each sort of support + grounds", "each counted at 1.50, 1.75, 2.00, 2.25, 2.50, 3.00, 5.00 in³ for 18, 16, 14, 12, 10, 8, 6 AWG"},
			"NEC 314.16(B); the first four grounds count once, each further a quarter from the 2020 edition on", "18 to 6 AWG", "a module without a yoke is not settled by the text: ask the authority having jurisdiction"},
	},
	"water": {
		{"water until the valve is shut", []string{"V = q/60 (detect + report + command + close/2)"}, "flow times time, falling off evenly while the valve closes", "up to 500 l/min", "what drains from pipes above is not in it"},
		{"flow through a hole", []string{"Q = 0.61 A √(2 p/ρ)"}, "orifice equation; within 3 % of a water utility's table at 60 psi", "0.1 to 100 mm, 1 kPa to 2 MPa", "sharp-edged hole"},
		{"puddle", []string{"h = 2 lc sin(θ/2), lc = 2.73 mm"}, "de Gennes, Brochard, Quéré, Capillarity and Wetting Phenomena", "level floor that takes nothing up", "floors slope: an order of magnitude"},
		{"pressure rise of a valve that shuts", []string{"ρ a v for t ≤ 2L/a, else 2 ρ L v/t"}, "Joukowsky; Michaud", "to 10 m/s, 500 m", "a ball valve's flow falls mainly in the last part of its travel"},
	},
}
