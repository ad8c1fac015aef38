// Package caution holds the sentences that go with work that can hurt someone. Screens, commands and
// papers all print these, so that a caution reads the same wherever it stands.
package caution

// Kinds, as the catalogue's parts name them, in the order in which papers print them.
var Kinds = []string{"mains", "wet room", "heating", "ventilation", "water", "life safety"}

var texts = map[string]string{
	"mains": "Mains wiring can kill. Isolate, lock off and prove dead before opening a box; " +
		"local code decides what may be fitted and by whom, and a licensed electrician does the work.",
	"wet room": "Baths, showers and basins have zones where only low voltage or a given ingress class is allowed. " +
		"Check each position against the local wiring code with a licensed electrician.",
	"heating": "Appliances that heat are switched off by rules, never on. Somebody in the room switches them on; " +
		"after a power cut they stay off. The maker's instructions come first.",
	"ventilation": "Fan rules do not replace the ventilation that the building code asks for. " +
		"Where there is an open-flued appliance, have a competent person check that the fan cannot draw its fumes into the room.",
	"water": "A leak alert or a shut valve limits damage; it does not prevent it. Keep the hand stopcock in reach, " +
		"keep any fire-sprinkler supply upstream of the valve, and have a licensed plumber fit it.",
	"life safety": "These alerts are no substitute for certified smoke, carbon monoxide or flood alarms. " +
		"Fit those as local code asks, and never let a rule switch their supply.",
}

// Text is the caution of a kind, "" for an unknown kind.
func Text(kind string) string { return texts[kind] }
