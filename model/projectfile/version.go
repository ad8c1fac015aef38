package projectfile

import (
	"fmt"
	"strconv"

	"example.org/roombrief/model"
	"example.org/roombrief/model/reading"
	"gopkg.in/yaml.v3"
)

// migrations[n] says what becomes of a file of version n on its way to n+1. The edits are made when the file
// is saved; until then it is read as if they had been.
var migrations = []struct {
	note  string
	edits []Edit
}{
	// Version 0 was the draft that was agreed before the first release: the same keys, another number.
	0: {note: "the keys are the same", edits: []Edit{Set("roombrief", "1")}},
}

// readVersion looks at the version before anything else; false when the file is none that can be read.
func (d *Document) readVersion(dec *reading.Decoder) bool {
	n := reading.Child(d.root, "roombrief")
	if n == nil || isNull(n) {
		// The decoder will find it missing too; what is said first of a place counts.
		dec.At(d.root, "", "this project has no `roombrief`", "write `roombrief: "+strconv.Itoa(model.Version)+"` as the first line")
		return true
	}
	v, err := strconv.Atoi(n.Value)
	if n.Kind != yaml.ScalarNode || err != nil || v < 0 {
		return true // the decoder says what is wrong with it, or the check below
	}
	if v > model.Version {
		dec.At(n, "roombrief", fmt.Sprintf("the file is of version %d, which this program is too old for", v),
			fmt.Sprintf("it reads version %d: use a newer program; the file is left untouched", model.Version))
		return false
	}
	d.version = v
	if v < model.Version {
		dec.Add(Problem{
			Line: n.Line, Column: n.Column, Path: "roombrief", Warning: true,
			Message: fmt.Sprintf("the file is of version %d and is read as version %d: %s", v, model.Version, migrations[v].note),
			Hint:    "it stays as it is until it is saved",
		})
	}
	return true
}

// Upgrade is what has to be changed in the file of an older version when it is saved; nothing for one of today.
func (d *Document) Upgrade() []Edit {
	var edits []Edit
	for v := d.version; v < model.Version; v++ {
		edits = append(edits, migrations[v].edits...)
	}
	return edits
}
