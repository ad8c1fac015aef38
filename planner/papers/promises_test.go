package papers

import (
	"context"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/proof"
)

// reader is a room whose light goes out on whoever reads in it.
const reader = `roombrief: 1
home: {name: A test}
rooms:
  - id: den
    name: Den | one
    kind: study
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on request
        stop: {after: 2m, never_while: moving}
        periods: [{from: "06:00", level: 60 %}]
`

func promisePaper(t *testing.T, change func([]proof.Verdict)) string {
	t.Helper()
	p := projectfile.Parse([]byte(reader)).Project()
	plan, err := planner.Make(context.Background(), p, fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	v, err := planner.Prove(context.Background(), p, plan.Sheet, "den")
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(v)
	}
	all, err := All(p, fixtures.Catalogue(), plan, Options{Program: "test", Proved: []Proved{{Room: "den", Verdicts: v}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range all {
		if x.Name == "promises.md" {
			return string(x.Body)
		}
	}
	t.Fatal("there is no paper of the promises")
	return ""
}

func TestThePaperOfThePromises(t *testing.T) {
	got := promisePaper(t, nil)
	for _, want := range []string{
		"# Promises: A test\n", "## Den \\| one\n", "- **kept**: ", "- **broken**: The light in ", "(1, 2, 3, 4)\n",
		"It is assumed that\n\n1. ", "### How it breaks: ", "| what happens | what the rules do |", "| 3m | The wait \"empty\" runs out. | lamp off |",
		"\nSomebody is inside, and a rule has put out the last light.\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing from:\n%s", want, got)
		}
	}
	for _, l := range strings.Split(got, "\n") {
		if strings.HasPrefix(l, "|") && strings.Count(strings.ReplaceAll(l, "\\|", ""), "|") != 5 {
			t.Errorf("a row of another width: %s", l)
		}
	}
}

func TestThePaperSaysHowFarAVerdictHolds(t *testing.T) {
	got := promisePaper(t, func(vs []proof.Verdict) {
		for i := range vs {
			if vs[i].State == proof.Breaks {
				vs[i].Moving = 2e11
			} else {
				vs[i].State, vs[i].Why = proof.Undecided, "the search came to its bound"
			}
		}
	})
	for _, want := range []string{"It is kept if whoever is inside moves at least every 3m20s.", "Not decided: the search came to its bound."} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing from:\n%s", want, got)
		}
	}
}

func TestWithoutVerdictsThereIsNoPaperOfPromises(t *testing.T) {
	all, _, _ := papersOf(t, []byte(reader))
	if _, ok := all["promises.md"]; ok {
		t.Error("a paper of promises that nobody proved")
	}
}
