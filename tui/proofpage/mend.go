package proofpage

import (
	"fmt"

	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/remedy"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// mendKeys are the commands that make a change, in the order of the changes.
var mendKeys = []keys.Command{keys.Mend1, keys.Mend2, keys.Mend3}

// found are the changes that mend the promise, as far as they are known: no more than there are keys for.
func (p *Tale) found() []remedy.Remedy {
	m, ok := p.snap.Mends.Of(p.snap.Room, p.promise)
	if !ok || m.Busy || m.Fault != nil || p.why != "" {
		return nil
	}
	return m.Result.Remedies[:min(len(m.Result.Remedies), len(mendKeys))]
}

// mends are the rows under the story: what would mend it, each with its key, its price, and what else it changes.
func (p *Tale) mends(w int) []row {
	m, ok := p.snap.Mends.Of(p.snap.Room, p.promise)
	if !ok || p.verdict.State != proof.Breaks {
		return nil
	}
	at := p.end()
	plain := func(text string) []row {
		out := []row{{line: at}}
		for _, s := range draw.Wrap(text, w) {
			out = append(out, row{text: s, line: at, dull: true})
		}
		return out
	}
	switch {
	case m.Busy:
		return plain("What would mend it is being looked for.")
	case m.Fault != nil:
		return plain(fmt.Sprintf("What would mend it could not be found: %v", m.Fault))
	case len(p.found()) == 0:
		return plain(m.Result.Sentence())
	}
	out := plain(m.Result.Heading())
	for i, x := range p.found() {
		line := at + 1 + i
		for _, s := range draw.Hang(string(rune('a'+i))+"  ", x.Words+" "+price(x), w) {
			out = append(out, row{text: s, line: line})
		}
		for _, c := range x.Changes {
			for _, s := range draw.Hang("     ", c, w) {
				out = append(out, row{text: s, line: line, dull: true})
			}
		}
	}
	return out
}

// price is what a change costs, who decides on it, and what it leaves broken.
func price(x remedy.Remedy) string {
	out := remedy.Cost(int64(x.Price), x.Currency)
	if x.Household {
		out += " It changes the brief, so the household decides."
	}
	switch n := len(x.Leaves); {
	case n == 1:
		out += " It leaves another promise of the room as it is."
	case n > 1:
		out += fmt.Sprintf(" It leaves %d other promises of the room as they are.", n)
	}
	return out
}

// mendHelp switches the keys off that have nothing to do.
func (p *Tale) mendHelp(bs []keys.Binding) []keys.Binding {
	n := len(p.found())
	if n == 0 {
		return keys.Without(bs, mendKeys...)
	}
	for i := range bs {
		if bs[i].Do == keys.Mend1 {
			bs[i].Cap = [...]string{"a", "a b", "a b c"}[n-1]
		}
	}
	bs = keys.Without(bs, mendKeys[n:]...)
	if p.snap.ReadOnly != "" {
		for _, do := range mendKeys {
			keys.Off(bs, do, p.snap.ReadOnly)
		}
	}
	return bs
}

// mend makes one of the changes.
func (p *Tale) mend(i int) page.Action {
	all := p.found()
	if i < 0 || i >= len(all) {
		return nil
	}
	return page.Edit{Edits: all[i].Edits, Label: "the change that mends a promise", At: p.promise}
}
