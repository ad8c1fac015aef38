package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"

	"github.com/spf13/cobra"
)

// checked is `check --json`.
type checked struct {
	File     string        `json:"file"`
	OK       bool          `json:"ok"`
	Problems []problemJSON `json:"problems"`
}

type problemJSON struct {
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Path    string `json:"path"`
	Message string `json:"message"`
	Hint    string `json:"hint"`
	Warning bool   `json:"warning"`
}

func checkCommand(p process) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "Say what is wrong in a project file, with line and column",
		Long: `Say what is wrong in a project file, with line and column: in itself, in the parts that it chooses, and in the own prices that
it names. What the file can be used with all the same is only a warning.

Exit status 1 when nothing is wrong but that there can be no bill with these prices.`,
		Example: `  roombrief check alder-row.yaml
  roombrief check alder-row.yaml --json
  roombrief check - < alder-row.yaml`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			src, err := source(p, args[0])
			if err != nil {
				return err
			}
			doc, unpriced := projectfile.Parse(src), false
			problems := doc.Problems()
			if doc.OK() {
				var more []projectfile.Problem
				more, unpriced = shelfProblems(args[0], doc, model.Date{Time: today(p)})
				problems = append(slices.DeleteFunc(slices.Clone(problems), doubted), more...)
				slices.SortStableFunc(problems, func(a, b projectfile.Problem) int {
					return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
				})
			}
			if asJSON {
				out := checked{File: args[0], OK: doc.OK(), Problems: []problemJSON{}}
				for _, x := range problems {
					out.Problems = append(out.Problems, problemJSON{x.Line, x.Column, x.Path, x.Message, x.Hint, x.Warning})
				}
				if err := printJSON(p.out, out); err != nil {
					return err
				}
			} else {
				printProblems(p.out, args[0], problems)
				if len(problems) == 0 {
					fmt.Fprintf(p.out, "%s: nothing wrong: %s\n", args[0], countRooms(doc))
				}
			}
			if !doc.OK() {
				return status{badCall, nil}
			}
			if unpriced {
				return status{heed, nil}
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// doubted reports a doubt about the name of a thing: whoever knows what the plan needs can tell.
func doubted(x projectfile.Problem) bool {
	return x.Warning && strings.HasPrefix(x.Path, "choices/use/")
}

func countRooms(doc *projectfile.Document) string {
	n := len(doc.Project().Rooms)
	if n == 1 {
		return "1 room"
	}
	return fmt.Sprintf("%d rooms", n)
}

func schemaCommand(p process) *cobra.Command {
	return &cobra.Command{
		Use:     "schema",
		Short:   "Print the JSON Schema of the project file, for editors",
		Example: `  roombrief schema > roombrief.schema.json`,
		Args:    noWords,
		RunE: func(c *cobra.Command, args []string) error {
			_, err := p.out.Write(projectfile.Schema())
			return err
		},
	}
}
