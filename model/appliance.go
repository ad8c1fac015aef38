package model

import "strings"

// staysOn are words that begin a kind of appliance which a rule must never switch off: life and health,
// food, water that must be pumped out, alarms, animals, and the network that carries the alarms.
var staysOn = []string{
	"medical", "oxygen", "cpap", "dialysis", "ventilator", "nebuliser", "nebulizer", "life support",
	"freezer", "fridge", "refrigerator", "sump", "sewage", "alarm", "smoke", "aquarium", "network", "router", "modem",
}

// KindStaysOn reports whether appliances of a kind are never switched off by a rule: medical, freezer,
// refrigerator, sump pump, alarm, aquarium, network and their like.
func KindStaysOn(kind string) bool {
	kind = " " + strings.ToLower(strings.NewReplacer("-", " ", "/", " ", "\t", " ").Replace(kind))
	for _, w := range staysOn {
		if strings.Contains(kind, " "+w) {
			return true
		}
	}
	return false
}

// StaysOn reports whether a rule must never switch the appliance off, by its mark or by its kind.
func (a Appliance) StaysOn() bool { return a.MustStayOn || KindStaysOn(a.Kind) }
