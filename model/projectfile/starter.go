package projectfile

import (
	"fmt"
	"strconv"

	"example.org/roombrief/model"
)

// Starter is a new project file for a home of that name, with a few words for whoever opens it by hand.
func Starter(name string) []byte {
	line := ""
	if name != "" {
		line = "  name: " + Quote(name) + "\n"
	}
	if line != "" {
		line = "home:\n" + line
	} else {
		line = "home: {}\n"
	}
	return fmt.Appendf(nil, `# The home as it is, and what people want it to do by itself.
# Quantities carry their unit: 2.4 m or 7 ft 10 in, 21 l/s or 45 cfm, 19 C or 66 F, 90 %%, 1h10m.
# What nobody knows is written as unknown: it is planned for. Comments and keys that begin with x- are kept.
roombrief: %s

%s
people: []

rooms: []
`, strconv.Itoa(model.Version), line)
}
