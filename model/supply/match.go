package supply

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/roombrief/model/catalogue"
)

// Guess is the part that a supplier's words look like.
type Guess struct {
	Part   string
	Second string  // the next likely, "" when there is none
	Score  float64 // 0 to 1
	Sure   bool    // likely enough, and clearly before the second, to be taken when guesses are confirmed
}

// Bounds of a sure guess, and of one that is worth showing. Set by trying the words of real sorts of lists; a guess is shown
// and has to be confirmed whatever its score.
const (
	sureScore  = 0.62
	sureLead   = 0.06
	worthScore = 0.40
)

// matcher knows the words of every part, and how telling each is: the fewer parts have it, the more.
type matcher struct {
	ids    []string
	sums   []float64        // of the weights of each part's words
	having map[string][]int // parts by word
	weight map[string]float64
}

func newMatcher(c *catalogue.Catalogue) *matcher {
	m := &matcher{weight: map[string]float64{}, having: map[string][]int{}, sums: make([]float64, len(c.Parts))}
	for i := range c.Parts {
		p := &c.Parts[i]
		words := wordsOf(strings.Join([]string{p.Name, p.Kind, p.Radio, p.Battery.Cell}, " "))
		if p.Supply == "battery" {
			words = append(words, "battery")
		}
		for _, v := range p.Mains {
			words = append(words, strconv.Itoa(int(v)), "v")
		}
		m.ids = append(m.ids, p.ID)
		slices.Sort(words)
		for _, w := range slices.Compact(words) {
			m.having[w] = append(m.having[w], i)
		}
	}
	for _, w := range slices.Sorted(maps.Keys(m.having)) { // sums of floats in one order
		n := float64(len(m.ids))
		m.weight[w] = math.Log(1+n/float64(len(m.having[w]))) / math.Log(1+n)
		for _, i := range m.having[w] {
			m.sums[i] += m.weight[w]
		}
	}
	return m
}

// guess finds the part whose words fit best: twice what is shared, over what both have, each word by its weight. Words that no part
// has weigh a little against every part alike.
func (m *matcher) guess(text string) Guess {
	said := wordsOf(text)
	slices.Sort(said)
	said = slices.Compact(said)
	total := 0.0
	for _, w := range said {
		if n := m.weight[w]; n > 0 {
			total += n
		} else {
			total += 0.08
		}
	}
	shared := make([]float64, len(m.ids))
	for _, w := range said {
		for _, i := range m.having[w] {
			shared[i] += m.weight[w]
		}
	}
	var g Guess
	second := 0.0
	for i, n := range shared {
		switch score := 2 * n / (total + m.sums[i]); {
		case n == 0:
		case score > g.Score:
			g.Second, second = g.Part, g.Score
			g.Part, g.Score = m.ids[i], score
		case score > second:
			g.Second, second = m.ids[i], score
		}
	}
	if g.Score < worthScore {
		return Guess{}
	}
	g.Sure = g.Score >= sureScore && g.Score-second >= sureLead
	return g
}

// Like is the part that somebody's words for one look like.
func Like(c *catalogue.Catalogue, words string) Guess { return newMatcher(c).guess(words) }

// sayings are other ways to say what the catalogue says, after plainly: of the trade, and of other languages' lists.
var sayings = map[string]string{
	"wi fi": "wifi", "wlan": "wifi", "bluetooth le": "ble", "bluetooth": "ble", "bt": "ble", "zig bee": "zigbee",
	"1ch": "one channel", "1 ch": "one channel", "1 channel": "one channel", "single channel": "one channel", "1 gang": "one channel", "1 kanal": "one channel", "1 fach": "one channel",
	"2ch": "two channels", "2 ch": "two channels", "2 channel": "two channels", "2 channels": "two channels", "dual channel": "two channels", "2 gang": "two channels", "2 kanal": "two channels", "2 fach": "two channels",
	"4ch": "four channels", "4 channel": "four channels", "4 kanal": "four channels",
	"no neutral": "noneutral", "without neutral": "noneutral", "ohne neutralleiter": "noneutral", "sans neutre": "noneutral", "no neutral needed": "noneutral", "zonder nul": "noneutral",
	"neutral needed": "needsneutral", "with neutral": "needsneutral", "mit neutralleiter": "needsneutral", "avec neutre": "needsneutral", "neutral required": "needsneutral",
	"pir": "motion sensor", "motion detector": "motion sensor", "occupancy sensor": "motion sensor", "bewegungsmelder": "motion sensor", "detecteur de mouvement": "motion sensor", "bewegingsmelder": "motion sensor", "sensore di movimento": "motion sensor", "sensor de movimiento": "motion sensor",
	"presence detector": "still presence sensor", "prasenzmelder": "still presence sensor", "radar sensor": "still presence sensor", "mmwave": "still presence", "still presence": "still presence",
	"reed contact": "door contact", "magnetic contact": "door contact", "door sensor": "door contact", "window sensor": "door contact", "turkontakt": "door contact", "contact de porte": "door contact", "deurcontact": "door contact", "contatto porta": "door contact",
	"flood sensor": "leak probe", "leak sensor": "leak probe", "leak detector": "leak probe", "water sensor": "leak probe", "water leak sensor": "leak probe", "wassermelder": "leak probe", "detecteur de fuite": "leak probe", "lekdetector": "leak probe",
	"humidity sensor": "hygrometer", "temperature and humidity sensor": "hygrometer", "temp humidity sensor": "hygrometer", "feuchtesensor": "hygrometer", "hygrometre": "hygrometer",
	"bulb": "lamp", "lampe": "lamp", "ampoule": "lamp", "leuchtmittel": "lamp", "lampada": "lamp", "bombilla": "lamp",
	"tunable": "tunable white", "cct": "tunable white", "warm to cool": "tunable white", "tuneable": "tunable white",
	"siren": "sounder", "sirene": "sounder", "alarm siren": "sounder",
	"smart plug": "plug meter switch", "metering plug": "plug meter switch", "zwischenstecker": "plug meter switch", "prise connectee": "plug meter switch", "plug with metering": "plug meter switch",
	"push button": "button", "wall button": "button", "taster": "button", "bouton": "button", "drukknop": "button", "remote": "button",
	"1 key": "one key", "2 key": "two keys", "2 keys": "two keys", "4 key": "four keys", "4 keys": "four keys", "1 button": "one key", "4 button": "four keys",
	"relais": "relay", "rele": "relay", "micro module": "in box relay", "flush relay": "in box relay", "unterputz": "in box", "flush mount": "in box", "micromodule": "in box",
	"variateur": "dimmer", "ceiling mount": "ceiling", "decke": "ceiling", "plafond": "ceiling", "wand": "wall", "mural": "wall",
	"gateway": "controller", "bridge": "controller", "range extender": "repeater", "dongle": "radio adapter", "coordinator": "radio adapter",
	"batterie": "battery", "battery powered": "battery", "pile": "battery", "batt": "battery", "din rail": "rail mounted", "hutschiene": "rail mounted",
	"ip44": "splash proof", "ip54": "splash proof", "splashproof": "splash proof", "ip65": "jet proof",
	"ball valve": "motor ball valve", "kugelhahn": "motor ball valve", "vanne": "motor ball valve", "coin cell": "coin cell", "knopfzelle": "coin cell",
}

// longestSaying is in words.
const longestSaying = 5

// wordsOf are the words of a text with sayings put as the catalogue puts them, without what says nothing.
func wordsOf(text string) (out []string) {
	in := strings.Fields(plainly(text))
	for i := 0; i < len(in); {
		taken := 0
		for n := min(longestSaying, len(in)-i); n > 0; n-- {
			if to, ok := sayings[strings.Join(in[i:i+n], " ")]; ok {
				out = append(out, strings.Fields(to)...)
				taken = n
				break
			}
		}
		if taken > 0 {
			i += taken
			continue
		}
		if w := in[i]; !empty[w] {
			out = append(out, w)
		}
		i++
	}
	return out
}

// empty are words that are in everything.
var empty = map[string]bool{"a": true, "an": true, "and": true, "the": true, "for": true, "with": true, "of": true, "that": true, "by": true, "in": true, "on": true, "to": true,
	"mit": true, "fur": true, "und": true, "de": true, "la": true, "le": true, "et": true, "pour": true, "van": true, "en": true, "smart": true, "radio": true}
